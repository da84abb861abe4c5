package path_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
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
	s.Sheet.Thickness = in(1.5, 3.2)
	s.Ramp.CantDeg = in(-4, 4)
	s.Ramp.Lap, s.Ramp.Wall, s.Ramp.Clearance = in(2, 8), in(0.4, 1.5), in(0.1, 0.6)
	s.Ramp.Fit = in(0, 0.4)
	s.Ramp.Lock = in(0.2, 0.6)
	s.Ramp.Grace = []float64{0, 0.01}[r.IntN(2)]
	return s
}

// over is the area, mm2, on which a face's interference is above a depth even to either side of it by SidePlay,
// the lock's pocket left out, and the most that it is there.
func over(s *path.Study, f *path.Face, depth float64) (area, most float64) {
	far := int(path.SidePlay/s.Knife.Step + 0.5)
	for n, z := range f.Interference.Z {
		locks := false
		for _, r := range s.Buck.Ramps {
			locks = locks || r.Lock.Holds(s.Knife.At(n))
		}
		for v := n - far*s.Knife.NX; z > depth && v <= n+far*s.Knife.NX; v += s.Knife.NX {
			if v >= 0 && v < len(f.Cavity.Z) {
				z = min(z, s.Envelope.Z[n]-f.Cavity.Z[v])
			}
		}
		if z > depth && !locks {
			area += s.Knife.Step * s.Knife.Step
			most = max(most, z)
		}
	}
	return area, most
}

// TestRampsFreeTheDraw makes variants at random, as many as FORMBUCK_VARIANTS says, with a lock where there is
// place for one and with a boss on either face, canted up to 4 degrees, and draws
// each: with their ramps none binds, in no cell outside the lock is the interference above the grace (for half of them
// 0), and locks are what was asked for; without them most bind.
func TestRampsFreeTheDraw(t *testing.T) {
	each := size.Of(3, 9, 60)
	if n, err := strconv.Atoi(os.Getenv("FORMBUCK_VARIANTS")); err == nil {
		each = n
	}
	bound, looked, made, locked := 0, 0, 0, 0
	names := bucktest.Demos()
	for seed := range uint64(each) {
		v, plan := bucktest.Demo(t, names[seed%uint64(len(names))])
		s := vary(rand.New(rand.NewPCG(seed, 7)), v.Spec)
		k, err := pieces.NewBuck(plan, s)
		var b path.Buck
		if err == nil {
			b, err = path.Made(k, measures.Both)
		}
		var fault *measures.Fault
		if errors.As(err, &fault) && fault.Key == "ramp.lock" { // no place for one
			s.Ramp.Lock = 0
			if k, err = pieces.NewBuck(plan, s); err == nil {
				b, err = path.Made(k, measures.Both)
			}
		}
		if errors.As(err, &fault) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		made++
		with := path.New(b, path.Options{Step: 0.25})
		if s.Ramp.Lock > 0 {
			locked++
			l := with.Verdict().Lock
			if l == nil || math.Abs(l.Total-s.Ramp.Lock) > path.LockWithin {
				t.Errorf("%s, seed %d: a lock of %.3f mm is asked for: %+v", v.Spec.Name, seed, s.Ramp.Lock, l)
			}
		}
		for _, f := range with.Faces {
			if area, most := over(with, f, s.Ramp.Grace); area > 0 {
				t.Errorf("%s, seed %d: tape %d: over %.2f mm2 of the %s face the interference is above %g mm, up to %.3f mm",
					v.Spec.Name, seed, s.Tape.Layers, area, f.Face, s.Ramp.Grace, most)
			}
			for _, x := range with.Binds(f) {
				t.Errorf("%s, seed %d: tape %d, cant %.2f: %s face binds at the %s by %.3f mm at %.1f, %.1f (%.2f mm2)",
					v.Spec.Name, seed, s.Tape.Layers, s.Ramp.CantDeg, x.Face, x.Side, x.Depth, x.At.X, x.At.Y, x.Area)
			}
		}
		if seed%10 == 0 {
			b.Ramps = nil
			without := path.New(b, path.Options{Step: 0.25})
			looked++
			if len(without.Binds(without.Faces[0])) > 0 {
				bound++
			}
		}
	}
	t.Logf("%d made; without ramps %d of %d bind; with them none; %d keep the lock that was asked for", made, bound, looked, locked)
	if locked < made/5 {
		t.Errorf("of %d made only %d keep a lock", made, locked)
	}
	if made < each/2 || bound < looked/2 {
		t.Errorf("of %d variants only %d were made, and %d of %d bind without ramps", each, made, bound, looked)
	}
}
