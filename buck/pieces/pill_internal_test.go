package pieces

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestRimAt walks round pills: every point lies on the outline, and equal steps are equally long,
// along the straight sides too.
func TestRimAt(t *testing.T) {
	for _, s := range []Pill{
		{Centre: r2.Vec{X: 3, Y: 4}, AngleDeg: 30, Length: 46, Width: 16}, {Length: 9, Width: 9},
	} {
		const steps = 10000
		long := 2*(s.Length-s.Width) + math.Pi*s.Width
		for i := range steps {
			p, next := s.rimAt(float64(i)/steps), s.rimAt(float64(i+1)/steps)
			if off := s.Distance(p); math.Abs(off) > 1e-9 {
				t.Fatalf("%v is %g mm off the outline", p, off)
			}
			if d := r2.Norm(r2.Sub(next, p)); math.Abs(d-long/steps) > 1e-5 {
				t.Fatalf("step %d is %.6f mm long, want %.6f", i, d, long/steps)
			}
		}
	}
}
