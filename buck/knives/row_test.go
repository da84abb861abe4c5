package knives_test

import (
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/knives"
	"formbuck/buck/pieces"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestRow compares whole rows, along x and turned, with what is said of each of their points.
func TestRow(t *testing.T) {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	line := func(x0, x1, y float64) profile.Path { return profile.Path{{A: v(x0, y), B: v(x1, y)}} }
	dagger, swedge := bucktest.Strip(), bucktest.Strip()
	dagger.Grind, dagger.GrindBack, dagger.Back = line(0, 100, 8), line(0, 100, 15), line(0, 100, 24)
	swedge.Swedge, swedge.SwedgeEdge = line(40, 80, 14), line(40, 80, 24)
	ground := bucktest.Spec()
	ground.Swedge.Thickness = 1
	for name, plan := range map[string]*pieces.Buck{
		"dagger": bucktest.Knife(t, dagger, bucktest.Spec()),
		"swedge": bucktest.Knife(t, swedge, ground),
		"hunter": bucktest.Knife(t, bucktest.Hunter(), bucktest.Spec()),
		"strip":  bucktest.Knife(t, bucktest.Strip(), bucktest.Spec()),
	} {
		zone, half := make([]knives.Zone, 230), make([]float64, 230)
		for _, turn := range []float64{0, 0.1, -1.3} {
			step := r2.Rotate(r2.Vec{X: 0.997}, turn, r2.Vec{})
			seen := map[knives.Zone]int{}
			for y := -19.87; y < 28; y += 0.713 {
				from := r2.Rotate(r2.Vec{X: -112.13, Y: y}, turn, r2.Vec{})
				plan.Row(from, step, zone, half)
				for i := range half {
					p := r2.Add(from, r2.Scale(float64(i), step))
					seen[zone[i]]++
					if zone[i] != plan.ZoneAt(p) || half[i] != plan.Half(p) {
						t.Fatalf("%s, turned by %g: at %v zone %d and %g mm, alone %d and %g", name, turn, p, zone[i], half[i], plan.ZoneAt(p), plan.Half(p))
					}
				}
			}
			if len(seen) < 4 {
				t.Errorf("%s, turned by %g: saw the zones %v only", name, turn, seen)
			}
		}
	}
}
