package solid_test

import (
	"testing"

	"formbuck/buck"
	"formbuck/buck/bucktest"
	"formbuck/buck/solid"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/profile"
)

// TestLacking meshes knives of which something is not drawn that a drawing may lack: each has heights, ridges and lines, and
// every piece.
func TestLacking(t *testing.T) {
	lacks := map[string]func(*profile.Plan, *buck.Spec){
		"no-grind-line":  func(p *profile.Plan, _ *buck.Spec) { p.Grind = nil },
		"grind-width":    func(p *profile.Plan, s *buck.Spec) { p.Grind, s.Blade.GrindWidth = nil, 11 },
		"no-handle":      func(p *profile.Plan, _ *buck.Spec) { p.Handle = nil },
		"bare":           func(p *profile.Plan, _ *buck.Spec) { p.Grind, p.Handle = nil, nil },
		"bare-and-turns": func(p *profile.Plan, s *buck.Spec) { p.Grind, p.Handle, s.Ramp.CantDeg = nil, nil, 3 },
	}
	for name, lack := range lacks {
		t.Run(name, func(t *testing.T) {
			plan, s := bucktest.Hunter(), bucktest.Spec()
			lack(plan, &s)
			k := bucktest.Knife(t, plan, s)
			st, err := buck.NewStandoff(k)
			if err != nil {
				t.Fatal(err)
			}
			d, err := buck.NewDrain(k)
			if err != nil {
				t.Fatal(err)
			}
			_, ramps, err := k.Ramps()
			if err != nil {
				t.Fatal(err)
			}
			clean := func(m *mesh.Mesh, err error) {
				t.Helper()
				if err != nil {
					t.Fatal(err)
				}
				meshtest.Clean(t, m)
			}
			clean(solid.Knife(k, 0.05))
			clean(solid.Standoff(st, 0))
			clean(solid.Drain(d, 0))
			for _, r := range ramps {
				clean(solid.Ramp(r, 0.03))
			}
		})
	}
}
