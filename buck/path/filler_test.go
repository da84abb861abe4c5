package path_test

import (
	"fmt"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestMouthOverTheHandle laps the sheath over the handle's front, as far as it is usual (10 to 25 mm; common practice, no
// source), straight and canted: with fillers in the grooves behind the front no demo knife binds at the handle, without them each does.
func TestMouthOverTheHandle(t *testing.T) {
	size.Long(t)
	for _, name := range bucktest.Demos() {
		for _, c := range []struct{ lap, cant float64 }{{5, 0}, {10, 0}, {15, 4}, {20, -4}, {25, 0}} {
			if !size.Full() && name != "otter" && c.lap != 15 {
				continue
			}
			t.Run(fmt.Sprintf("%s by %g mm, %g deg", name, c.lap, c.cant), func(t *testing.T) {
				t.Parallel()
				v, plan := bucktest.Lapped(t, name, c.lap)
				v.Spec.Ramp.CantDeg = c.cant
				b, err := path.Made(bucktest.Knife(t, plan, v.Spec), measures.Plain)
				if err != nil {
					t.Fatal(err)
				}
				s := path.New(b, path.Options{Step: 0.25})
				for _, bind := range s.Binds(s.Faces[0]) {
					if bind.Side != path.AtHandle {
						continue // beside the boss's room, which a plain sheath has no boss for
					}
					t.Errorf("binds by %.2f mm at %v, at the %s", bind.Depth, bind.At, bind.Side)
				}
				fillers := 0
				for _, r := range b.Ramps {
					if r.Grip {
						fillers++
					}
				}
				if c.lap >= 15 && fillers == 0 {
					t.Error("nothing fills the handle's groove")
				}
			})
		}
	}
}

// TestMouthOverAGuard laps the sheath over a guard that stands out beside the handle behind it and is thinner: the room
// behind the guard is filled.
func TestMouthOverAGuard(t *testing.T) {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	plan := bucktest.Strip()
	plan.Handle = bucktest.Polygon(v(-100, 0), v(12, 0), v(12, -4), v(16, -4), v(16, 24), v(-100, 24))
	plan.Guard = bucktest.Polygon(v(12, -4), v(16, -4), v(16, 24), v(12, 24))
	plan.Outline = bucktest.Polygon(v(-100, 0), v(12, 0), v(12, -4), v(16, -4), v(16, 0), v(100, 0), v(100, 24), v(-100, 24))
	plan.HandleFront, plan.Heel = 16, v(16, 0)
	s := bucktest.Spec()
	s.Guard.Thickness = 10
	b, err := path.Made(bucktest.Knife(t, plan, s), measures.Plain)
	if err != nil {
		t.Fatal(err)
	}
	free := path.New(b, path.Options{Step: 0.2}).Verdict()
	b.Ramps = nil
	bare := path.New(b, path.Options{Step: 0.2}).Verdict()
	if bare.Free() || !free.Free() {
		t.Errorf("bare it binds %v, filled %v", bare.Binds, free.Binds)
	}
}
