package layout_test

import (
	"math"
	"testing"
	"testing/fstest"

	"formbuck/buck"
	"formbuck/buck/bucktest/anyknife"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// anyKnife is a knife at random, its questions answered; nil where it is refused.
func anyKnife(seed uint64) *pieces.Buck {
	for knife := anyknife.New(seed); ; {
		files := fstest.MapFS{"any.toml": {Data: knife.TOML("any.dxf")}, "any.dxf": {Data: knife.DXF()}}
		d, err := buck.Open(files, "any.toml")
		if err == nil {
			return d.Knife()
		}
		if _, ok := knife.Answer(err.Error()); !ok {
			return nil
		}
	}
}

// TestFlangesOnAnyKnife: on knives at random no flange comes nearer to where the sheets part than was asked for, as the ball
// finds it that is rolled over the whole buck. The ramp of knife 40 leaves out what would do nothing beside the edge: between
// two rows that were looked at, its wall there put a flange 0.37 mm too near.
func TestFlangesOnAnyKnife(t *testing.T) {
	looked, most := 0, size.Of(1, 1, 30)
	for seed := uint64(40); looked < most; seed++ {
		k := anyKnife(seed)
		if k == nil {
			continue
		}
		on, err := path.Made(k, measures.Right)
		if err != nil {
			continue
		}
		s, err := layout.New(k, []measures.Hand{measures.Right})
		if err != nil {
			continue
		}
		looked++
		const cell = 0.2
		for _, f := range path.New(on, path.Options{Step: cell}).Faces {
			for _, e := range s.Eyelets {
				free, at := closest(f.Cavity.NX*f.Cavity.NY, func(n int) (r2.Vec, bool) {
					p := f.Cavity.At(n)
					return p, f.Cavity.Z[n] > 0.02 && p.X >= 0
				}, e.At)
				free -= max(k.Spec.Eyelet.Flange, k.Spec.Eyelet.Die) / 2
				if asked := k.Spec.Layout.Clearance; free < asked-cell/2 {
					t.Errorf("seed %d: the flange at %v, %s, is %.2f mm from where the %s sheet stands off at %v, and %.2f mm are asked for",
						seed, e.At, e.Governs, free, f.Face, at, asked)
				}
			}
		}
	}
}

// closest is how far p is from the closest of some places that count, and which that is.
func closest(places int, counts func(n int) (r2.Vec, bool), p r2.Vec) (far float64, at r2.Vec) {
	far = math.Inf(1)
	for n := range places {
		if q, ok := counts(n); ok {
			if d := r2.Norm(r2.Sub(q, p)); d < far {
				far, at = d, q
			}
		}
	}
	return far, at
}
