package job_test

import (
	"errors"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/testdata/size"
)

// vary draws the measures of a variant at random, within what a maker might ask for.
func vary(r *rand.Rand, s measures.Spec) measures.Spec {
	in := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
	s.Blade.Thickness = in(1.8, 6)
	s.Blade.TipThickness = in(0.5, 1) * s.Blade.Thickness
	s.Blade.EdgeThickness = in(0.1, 0.4) * s.Blade.TipThickness
	s.Blade.Grind = []measures.Grind{measures.Flat, measures.Hollow, measures.Convex}[r.IntN(3)]
	s.Blade.WheelRadius, s.Blade.Bulge = in(80, 250), in(0.05, 0.3)
	s.Handle.Thickness = in(12, 30)
	s.Handle.Rounding = in(0.5, 0.45*s.Handle.Thickness)
	s.Tape.Layers = r.IntN(4)
	s.Plate.Width = in(8, 12)
	s.Plate.Length = in(30, 46)
	s.Plate.PostSpacing = in(0.4, 0.75) * s.Plate.Length
	s.Standoff.X, s.Standoff.Y, s.Standoff.CantDeg = in(-1, 6), in(-1.5, 1.5), in(-4, 4)
	s.Standoff.DraftDeg, s.Standoff.EdgeRadius, s.Standoff.Fit = pick(r, in(1, 10), 0), pick(r, in(0, 1.2), 0), in(-0.05, 0.3)
	s.Ramp.X, s.Ramp.Y, s.Ramp.CantDeg = in(-2, 5), in(-2, 3), in(-4, 4)
	s.Ramp.Fit, s.Ramp.Lap, s.Ramp.Wall, s.Ramp.DraftDeg = pick(r, in(0, 0.4), 0), in(2, 8), in(0.4, 1.5), pick(r, in(1, 10), 0)
	s.Ramp.Split = []measures.Split{measures.SplitAuto, measures.SplitAlways}[r.IntN(2)]
	s.Drain.X, s.Drain.Y, s.Drain.CantDeg = in(-2, 2), in(-1, 1), in(-12, 12)
	s.Drain.Diameter, s.Drain.TaperDeg, s.Drain.Lap, s.Drain.Fit = in(4, 7), pick(r, in(0, 6), 0), in(3, 14), in(-0.05, 0.3)
	return s
}

// pick is one of two values, the second one time in five.
func pick(r *rand.Rand, a, b float64) float64 {
	if r.IntN(5) == 0 {
		return b
	}
	return a
}

// TestRandomVariants makes variants at random, as many as FORMBUCK_VARIANTS says; each is refused for its measures, or
// every mesh of it passes the gate.
func TestRandomVariants(t *testing.T) {
	size.Long(t)
	each := size.Or(2, 12)
	if n, err := strconv.Atoi(os.Getenv("FORMBUCK_VARIANTS")); err == nil {
		each = (n + len(bucktest.Demos()) - 1) / len(bucktest.Demos())
	}
	for _, name := range bucktest.Demos() {
		t.Run(name, func(t *testing.T) {
			v, plan := bucktest.Demo(t, name)
			made, refused := 0, 0
			for seed := range uint64(each) {
				s := vary(rand.New(rand.NewPCG(seed, 7)), v.Spec)
				err := makeAll(t, plan, s)
				var f *measures.Fault
				switch {
				case err == nil:
					made++
				case errors.As(err, &f):
					refused++
				default:
					t.Errorf("seed %d: %v", seed, err)
				}
			}
			t.Logf("%d made, %d refused", made, refused)
			if made < each/2 {
				t.Errorf("only %d of %d were made", made, each)
			}
		})
	}
}

// TestSliversBesideAWindow makes a locator of whose windows one had points a few micrometres apart on its straight sides.
func TestSliversBesideAWindow(t *testing.T) {
	size.Long(t)
	v, plan := bucktest.Demo(t, "minnow")
	if err := makeAll(t, plan, vary(rand.New(rand.NewPCG(201, 7)), v.Spec)); err != nil {
		t.Error(err)
	}
}

// TestFeet makes pieces that gave trouble as long as ramps and drains had sharp feet: in turn, a lid and a floor
// that had a triangle in common, flat triangles that touched, self-intersections beside them, and points without
// end beside the chord of a foot.
func TestFeet(t *testing.T) {
	size.Long(t)
	for _, c := range []struct {
		knife string
		seed  uint64
	}{{"otter", 211}, {"otter", 264}, {"otter", 402}, {"minnow", 192}} {
		v, plan := bucktest.Demo(t, c.knife)
		if err := makeAll(t, plan, vary(rand.New(rand.NewPCG(c.seed, 7)), v.Spec)); err != nil {
			t.Errorf("%s, seed %d: %v", c.knife, c.seed, err)
		}
	}
}
