package buck_test

import (
	"testing"

	"formbuck/buck"

	"gonum.org/v1/gonum/spatial/r2"
)

// stepped is a rectangle with a point every half millimetre along x.
func stepped(x0, y0, x1, y1 float64) []r2.Vec {
	var low, high []r2.Vec
	for x := x0; x <= x1; x += 0.5 {
		low = append(low, r2.Vec{X: x, Y: y0})
		high = append(high, r2.Vec{X: x1 + x0 - x, Y: y1})
	}
	return append(low, high...)
}

func TestOverlap(t *testing.T) {
	a := stepped(0, 0, 10, 4)
	for _, tt := range []struct {
		name string
		b    []r2.Vec
		want bool
	}{
		{"apart", stepped(10.5, 0, 20, 4), false},
		{"above", stepped(0, 4.2, 10, 8), false},
		{"into its end", stepped(8, 1, 20, 3), true},
		{"within", stepped(2, 1, 8, 3), true},
		{"around", stepped(-5, -5, 20, 20), true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			for _, pair := range [2][2][]r2.Vec{{a, tt.b}, {tt.b, a}} {
				at, got := buck.Overlap(pair[0], pair[1])
				if got != tt.want {
					t.Errorf("%v, want %v", got, tt.want)
				}
				if got && (at.X < 0 || at.X > 10 || at.Y < 0 || at.Y > 4) {
					t.Errorf("the place %v is not in both", at)
				}
			}
		})
	}
}
