package solid_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh/meshtest"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestFeatherToe holds a ramp whose toe is 0.4 mm thick to be whole: as large as its heights summed up over a fine
// grid, as long to both sides, and within its tolerance of its twin both ways.
func TestFeatherToe(t *testing.T) {
	size.Long(t)
	for _, split := range []measures.Split{measures.SplitNever, measures.SplitAlways} {
		s := bucktest.Spec()
		s.Ramp.Wall, s.Ramp.Split = 0.4, split
		_, ramps, err := bucktest.Knife(t, bucktest.Hunter(), s).Ramps()
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range ramps.Bossed {
			m, err := solid.Ramp(r, 0)
			if err != nil {
				t.Fatal(err)
			}
			meshtest.Clean(t, m)
			volume, along := integral(r)
			t.Logf("ramp at the %s: %d triangles, %.3f mm3, summed %.3f; from %.3f to %.3f along, summed %.3f",
				r.Side, len(m.Triangles), m.Volume(), volume, m.Bounds().Min.X, m.Bounds().Max.X, along)
			if off := math.Abs(m.Volume()/volume - 1); !(off < 2e-3) {
				t.Errorf("%.4f mm3, summed %.4f", m.Volume(), volume)
			}
			if b := m.Bounds(); math.Abs(b.Min.X-along[0]) > 2*cell || math.Abs(b.Max.X-along[1]) > 2*cell {
				t.Errorf("from %.3f to %.3f along, summed %.3f", b.Min.X, b.Max.X, along)
			}
			if !size.Full() && split == measures.SplitNever {
				continue
			}
			body, err := twin.RampUnder(r, r.Passes)
			if err != nil {
				t.Fatal(err)
			}
			d, err := twin.Measure(m, body, twin.Options{Step: 0.7})
			if err != nil {
				t.Fatal(err)
			}
			if !(d.Worst() <= solid.Tolerance) {
				t.Errorf("%.5f mm from its twin", d.Worst())
			}
		}
	}
}

// cell is how far apart, in mm, heights are summed up.
const cell = 0.04

// integral is the volume of a ramp, from its heights at the middles of small squares, and from where to where
// there is any of it along the blade.
func integral(r *pieces.RampPiece) (volume float64, along [2]float64) {
	along = [2]float64{math.Inf(1), math.Inf(-1)}
	faces := 2.0
	if r.Split {
		faces = 1
	}
	skirt := r.Skirt()
	for x := r.Head.Min.X + cell/2; x < r.Head.Max.X+skirt; x += cell {
		for y := r.Head.Min.Y - skirt + cell/2; y < r.Head.Max.Y+skirt; y += cell {
			p := r.Blade(r2.Vec{X: x, Y: y})
			thick := 0.0
			switch r.BaseAt(p) {
			case pieces.Steel:
				thick = r.Surface(p) - r.Underside(r.Knife.Blade(r.Across(p)), p)
			case pieces.Gap:
				thick = r.Surface(p)
			}
			if thick > 0 {
				volume += faces * thick * cell * cell
				along[0], along[1] = min(along[0], p.X), max(along[1], p.X)
			}
		}
	}
	return volume, along
}
