package twin_test

import (
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/testdata/size"
)

// TestTwinOfFiller measures the fillers at the edge side of mouths over the handle against their own surface, and against
// what passes by brute force. The facets of the handle's edge and the chords of its outline each take their share of the
// tolerance, a quarter more than a ramp's one line: as far off as a ramp's may be, since the slope is steeper than that a ramp's is.
func TestTwinOfFiller(t *testing.T) {
	size.Long(t)
	for _, name := range []string{"thistle", "otter"}[:size.Or(1, 2)] {
		v, plan := bucktest.Lapped(t, name, 15)
		_, all, err := bucktest.Knife(t, plan, v.Spec).Ramps()
		if err != nil {
			t.Fatal(err)
		}
		made := 0
		for _, r := range all.Bossed {
			if !r.Grip || r.Side != "edge" {
				continue
			}
			made++
			own, err := twin.RampUnder(r, r.Passes)
			if err != nil {
				t.Fatal(err)
			}
			if d := measured(t, rampMesh(name+"'s filler", r, own), solid.Tolerance, 1.5); !(d.Worst() <= 1.25*solid.Tolerance) {
				t.Errorf("%s: %.5f mm off its own surface", name, d.Worst())
			}
			passes, err := twin.Ramp(r)
			if err != nil {
				t.Fatal(err)
			}
			if d := measured(t, rampMesh(name+"'s filler", r, passes), solid.Tolerance, 1.5); !(d.Worst() <= letDown) {
				t.Errorf("%s: %.5f mm off what passes", name, d.Worst())
			}
		}
		if made != 1 {
			t.Errorf("%s: %d fillers", name, made)
		}
	}
}
