package twin_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// varied are knives whose ramps differ: the test knife with one measure changed, and in full a demo too.
func varied(t testing.TB, full bool) map[string]*pieces.Buck {
	t.Helper()
	all := everyKnife(t)
	changes := map[string]func(s *measures.Spec){
		"loose":   func(s *measures.Spec) { s.Ramp.Fit = 0.15 },
		"looser":  func(s *measures.Spec) { s.Ramp.Fit = 0.6 },
		"wide":    func(s *measures.Spec) { s.Ramp.Lap = 14 },
		"sloping": func(s *measures.Spec) { s.Ramp.DraftDeg = 40 },
		"upright": func(s *measures.Spec) { s.Ramp.DraftDeg = 0 },
		"canted":  func(s *measures.Spec) { s.Ramp.CantDeg = 4 },
		"halves":  func(s *measures.Spec) { s.Ramp.Split = measures.SplitAlways },
		"locked":  func(s *measures.Spec) { s.Ramp.Lock = 0.4 },
		"drained": func(s *measures.Spec) { s.Drain.Lap, s.Ramp.X = 32, 30 },
		"feather": func(s *measures.Spec) { s.Ramp.Wall = 0.4 },
		"hollow":  func(s *measures.Spec) { s.Blade.Grind, s.Blade.WheelRadius = measures.Hollow, 150 },
	}
	if testing.Short() {
		changes = map[string]func(s *measures.Spec){"loose": changes["loose"]}
		all = map[string]*pieces.Buck{"hunter": all["hunter"]}
	}
	for name, change := range changes {
		all["hunter "+name] = known(t, "hunter "+name, func() *pieces.Buck {
			s := bucktest.Spec()
			change(&s)
			return bucktest.Knife(t, bucktest.Hunter(), s)
		})
		if !full {
			continue
		}
		all["thistle "+name] = known(t, "thistle "+name, func() *pieces.Buck {
			v, plan := bucktest.Demo(t, "thistle")
			change(&v.Spec)
			return bucktest.Knife(t, plan, v.Spec)
		})
	}
	return all
}

// A ramp's mesh lies within the tolerance of the surface that the piece is to have, whatever that is: here
// the twin is given what the piece takes for what passes.
func TestRampsAreWithinToleranceOfTheirOwnSurface(t *testing.T) {
	for name, k := range varied(t, size.Full()) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for i, r := range ramps(t, k) {
				body, err := twin.RampUnder(r, r.Passes)
				if err != nil {
					t.Fatal(err)
				}
				if r.Lock != nil {
					continue // the twin has no pocket
				}
				p := rampMesh(fmt.Sprintf("ramp %d at the %s", i, r.Side), r, body)
				if d := measured(t, p, solid.Tolerance, 0.7); !(d.Worst() <= solid.Tolerance) {
					t.Errorf("%s: %.5f mm", p.name, d.Worst())
				}
			}
		})
	}
}

// The surface bends along lines from node to node, a fifth of a millimetre apart: there, half way between
// and at random places about them the mesh is as close.
func TestRampsAreWithinToleranceAtTheirNodes(t *testing.T) {
	size.Long(t)
	for name, k := range varied(t, size.Full()) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for i, r := range ramps(t, k) {
				m, err := rampSolid(r)
				if err != nil {
					t.Fatal(err)
				}
				far, asked := twin.DistanceTo(m), 0
				worst, at := 0.0, r3.Vec{}
				eachNode(r, func(p r2.Vec) {
					z := r.Surface(p)
					switch base := r.BaseAt(p); {
					case r.Lock.Holds(p) || base == pieces.NoBase || z <= 0:
						return
					case base == pieces.Steel && z <= r.Underside(k.Blade(r.Across(p)), p):
						return
					}
					v := r3.Vec{X: p.X, Y: p.Y, Z: z}
					if d := far(v); d > worst {
						worst, at = d, v
					}
					asked++
				})
				t.Logf("ramp %d at the %s: %.5f mm at %.3f; %d places", i, r.Side, worst, at, asked)
				if !(worst <= solid.Tolerance) || asked < 1000 {
					t.Errorf("ramp %d at the %s: %.5f mm at %.3f; %d places", i, r.Side, worst, at, asked)
				}
			}
		})
	}
}

// eachNode gives places about every node of a ramp's surface, in the blade's axes.
func eachNode(r *pieces.RampPiece, yield func(p r2.Vec)) {
	first, dx, dy := r.Nodes()
	origin := r.Turned(first)
	dice := rand.New(rand.NewPCG(20260101, 0))
	low, high := r2.Sub(r.Head.Min, r2.Vec{Y: r.Skirt()}), r2.Add(r.Head.Max, r2.Vec{X: r.Skirt(), Y: r.Skirt()})
	for i := int((low.X - origin.X) / dx); origin.X+float64(i)*dx < high.X; i++ {
		for j := int((low.Y-origin.Y)/dy) - 1; origin.Y+float64(j)*dy < high.Y; j++ {
			for _, off := range []r2.Vec{{}, {X: 0.5}, {Y: 0.5}, {X: dice.Float64(), Y: dice.Float64()}} {
				yield(r.Blade(r2.Vec{X: origin.X + (float64(i)+off.X)*dx, Y: origin.Y + (float64(j)+off.Y)*dy}))
			}
		}
	}
}
