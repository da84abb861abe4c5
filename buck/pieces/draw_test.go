package pieces_test

import (
	"math"
	"slices"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

func ramps(t *testing.T, s measures.Spec) (*pieces.Buck, []*pieces.RampPiece) {
	t.Helper()
	k := bucktest.Knife(t, bucktest.Hunter(), s)
	r, err := pieces.NewRamps(pieces.NewDraw(k))
	if err != nil {
		t.Fatal(err)
	}
	return k, r.Bossed
}

// TestRampCoversWhatPasses walks along the draw from points of the ramp, by brute force: no part of
// the bare knife that passes may be higher than the ramp's surface less the running clearance.
func TestRampCoversWhatPasses(t *testing.T) {
	size.Long(t)
	s := bucktest.Spec()
	for _, cant := range []float64{0, 2} {
		s.Ramp.CantDeg = cant
		k, freed := ramps(t, s)
		if len(freed) == 0 {
			t.Fatal("no ramp")
		}
		for _, r := range freed {
			least := math.Inf(1)
			for x := r.Head.Min.X + 0.03; x < r.Head.Max.X; x += 0.71 {
				for y := r.Head.Min.Y + 0.05; y < r.Head.Max.Y; y += 0.37 {
					p := r.Blade(r2.Vec{X: x, Y: y})
					if r.BaseAt(p) == pieces.NoBase {
						continue
					}
					least = min(least, r.Surface(p)-passing(k, r, x, y))
				}
			}
			t.Logf("cant %g: %s: clears what passes by at least %.3f mm", cant, r.Side, least)
			if least < s.Ramp.Clearance {
				t.Errorf("cant %g: %s: clears by %.4f mm only", cant, r.Side, least)
			}
		}
	}
}

// passing is the greatest half thickness of the blade that passes over (x, y) of the draw's axes.
func passing(k *pieces.Buck, r *pieces.RampPiece, x, y float64) float64 {
	most := 0.0
	for ; x < 110; x += 0.05 {
		if p := r.Blade(r2.Vec{X: x, Y: y}); k.ZoneAt(p) != knives.OnHandle {
			most = max(most, k.Half(p))
		}
	}
	return most
}

// TestRampNeverFallsTowardsTheMouth looks along the draw: the surface rises or stays.
func TestRampNeverFallsTowardsTheMouth(t *testing.T) {
	_, freed := ramps(t, bucktest.Spec())
	for _, r := range freed {
		for y := r.Head.Min.Y; y <= r.Head.Max.Y; y += 0.23 {
			last := math.Inf(-1)
			for x := r.Head.Max.X; x >= r.Head.Min.X; x -= 0.17 {
				z := r.Surface(r.Blade(r2.Vec{X: x, Y: y}))
				if z < last-1e-9 {
					t.Fatalf("%s: falls from %.4f to %.4f at (%.2f, %.2f)", r.Side, last, z, x, y)
				}
				last = z
			}
		}
	}
}

// TestRampReadsNoHandleThickness changes the handle and looks at every point of the ramp.
func TestRampReadsNoHandleThickness(t *testing.T) {
	s := bucktest.Spec()
	_, thick := ramps(t, s)
	s.Handle.Thickness = 18
	_, thin := ramps(t, s)
	if len(thick) != len(thin) {
		t.Fatal("another number of ramps")
	}
	for i, r := range thick {
		if r.Head != thin[i].Head || r.Boss != thin[i].Boss {
			t.Errorf("another head or another room for the boss")
		}
	}
}

// TestRampBesideHandle looks at the strip between the handle's front and the mouth: it is there where the knife binds
// there, and nowhere thinner than the least wall.
func TestRampBesideHandle(t *testing.T) {
	reached := 0
	for _, name := range bucktest.Demos() {
		for _, wall := range []float64{0.4, 0.8, 1.4} {
			v, plan := bucktest.Demo(t, name)
			v.Spec.Ramp.Wall, v.Spec.Ramp.Fit, v.Spec.Ramp.Lock = wall, 0.1, 0
			d := pieces.NewDraw(bucktest.Knife(t, plan, v.Spec))
			freed, err := pieces.NewRamps(d)
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range freed.Bossed {
				if r.Side != "spine" {
					continue
				}
				binds := slices.ContainsFunc(d.Binds, func(b pieces.Bind) bool { return b.Box.Max.Y > 0 && b.Box.Min.X < plan.HandleFront })
				if binds != (r.Head.Min.X == 0) {
					t.Errorf("%s, wall %g: binds beside the handle: %v, the ramp goes from x %.2f", name, wall, binds, r.Head.Min.X)
				}
				if r.Head.Min.X == 0 {
					reached++
				}
				for _, p := range plan.Handle.Flatten(0.01) {
					if q := r.Turned(p); q.X > r.Head.Min.X && r.Head.Max.Y-q.Y-r.Fit < wall-1e-9 {
						t.Fatalf("%s, wall %g: a strip of %.3f mm over the handle", name, wall, r.Head.Max.Y-q.Y-r.Fit)
					}
				}
			}
		}
	}
	if reached < 3 {
		t.Errorf("only %d ramps go on to the mouth", reached)
	}
}

func TestFreeKnifeNeedsNoRamp(t *testing.T) {
	k := bucktest.Knife(t, bucktest.Strip(), bucktest.Spec())
	freed, err := pieces.NewRamps(pieces.NewDraw(k))
	if err != nil || len(freed.On(true)) > 0 {
		t.Errorf("%d ramps, %v", len(freed.On(true)), err)
	}
}

func TestRampPlacement(t *testing.T) {
	s := bucktest.Spec()
	_, still := ramps(t, s)
	s.Ramp.X, s.Ramp.Y, s.Ramp.Fit = 2, 1, 0.1
	_, moved := ramps(t, s)
	near(t, "end", moved[0].Head.Max.X-still[0].Head.Max.X, 2, 1e-12)
	near(t, "lap", moved[0].Head.Max.Y-still[0].Head.Max.Y, 1, 1e-12)
	near(t, "gap", moved[0].Gap-still[0].Gap, 0.1, 1e-12)
}
