package lettering_test

import (
	"math"
	"testing"

	"formbuck/buck/internal/lettering"

	"gonum.org/v1/gonum/spatial/r2"
)

// area is the signed area of the loops: counters turn the other way and take from it.
func area(loops [][]r2.Vec) float64 {
	sum := 0.0
	for _, l := range loops {
		for i, p := range l {
			sum += r2.Cross(p, l[(i+1)%len(l)]) / 2
		}
	}
	return sum
}

func lay(t *testing.T, height float64, lines ...string) lettering.Text {
	t.Helper()
	text, err := lettering.Lay(lines, height, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// A capital is as high as asked; an H is two stems and a bar, so that its strokes can be told from its
// area: for 4 mm letters they are wider than 0.6 mm.
func TestCapitals(t *testing.T) {
	h := lay(t, 4, "H")
	if math.Abs(h.Size.Y-4) > 0.01 {
		t.Errorf("H is %.3f mm high, want 4", h.Size.Y)
	}
	// Two stems of the height and a bar between them, all of the width w: 8 w + (X - 2 w) w.
	x, a := h.Size.X, math.Abs(area(h.Loops))
	w := ((8 + x) - math.Sqrt((8+x)*(8+x)-8*a)) / 4
	if w < 0.6 || w > 1 {
		t.Errorf("strokes %.2f mm wide for letters of 4 mm, want 0.6 to 1", w)
	}
	t.Logf("strokes %.3f mm", w)
}

func TestLettersOfTheFont(t *testing.T) {
	if got := len(lay(t, 5, "o8i").Loops); got != 2+3+2 {
		t.Errorf("o8i: %d loops, want 7", got)
	}
	if got, want := lay(t, 5, "a漢"), lay(t, 5, "a\ufffd"); len(got.Loops) < 3 || len(got.Loops) != len(want.Loops) || got.Size != want.Size {
		t.Errorf("%d loops, %v, want those of the replacement: %d, %v", len(got.Loops), got.Size, len(want.Loops), want.Size)
	}
	if got := lay(t, 5, ""); len(got.Loops) != 0 || got.Size != (r2.Vec{}) {
		t.Errorf("nothing: %v", got)
	}
	one, two := lay(t, 5, "Hb"), lay(t, 5, "Hb", "Hb")
	if d := two.Size.Y - one.Size.Y; math.Abs(d-8.5) > 1e-9 || math.Abs(area(two.Loops)-2*area(one.Loops)) > 1e-9 {
		t.Errorf("two lines: %.3f mm higher, area %.3f of %.3f", d, area(two.Loops), area(one.Loops))
	}
}

// Turned over, every loop turns the other way.
func TestAt(t *testing.T) {
	text := lay(t, 5, "R")
	a, b := text.At(r2.Vec{X: 3, Y: 1}, false), text.At(r2.Vec{X: 3, Y: 1}, true)
	if math.Abs(area(a)+area(b)) > 1e-9 || area(a) == 0 {
		t.Errorf("areas %.4f and %.4f", area(a), area(b))
	}
}
