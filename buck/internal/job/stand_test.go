package job_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"

	"gonum.org/v1/gonum/spatial/r3"
)

// TestStands: bosses, ramps and the buck in one part of the demos stand on the side that prints best.
// A boss whose underside is flat has at least half of its plan in its first layer; what is stood for
// the left hand is the mirror of what is stood for the right one; and a piece that asks for no
// support has no ceiling of more than 10 mm2 that is not bridged, measured anew on what is printed.
func TestStands(t *testing.T) {
	flat := 0
	for _, name := range bucktest.Demos() {
		v, plan := bucktest.Demo(t, name)
		v.Spec.Standoff.Mark = "no" // marks are no mirrors
		set := makeSet(t, bucktest.Knife(t, plan, v.Spec), job.Request{Kinds: []job.Kind{job.Standoff, job.Ramp, job.Whole}})
		stood := make(map[string]*mesh.Mesh)
		for _, p := range set.Pieces {
			m, a := p.Printed(), p.Advice()
			s := m.Stance(45)
			stood[p.Name] = m
			if math.Abs(a.FirstLayer-s.Touch) > 0.01 || math.Abs(a.Hangs-s.Overhang.Area) > 0.01 {
				t.Errorf("%s: %s: first layer %.2f mm2, measured %.2f; overhang %.2f, measured %.2f",
					name, p.Name, a.FirstLayer, s.Touch, a.Hangs, s.Overhang.Area)
			}
			if p.Kind == job.Standoff && a.Down == "glue face" {
				if flat++; s.Touch < s.Plan/2 || a.Supports {
					t.Errorf("%s: %s: %.0f of %.0f mm2 on the bed, supports %v", name, p.Name, s.Touch, s.Plan, a.Supports)
				}
			}
			for _, patch := range s.Overhang.Patches {
				if !a.Supports && patch.Area > 10 && (patch.Held < 0.9 || patch.Wide > 5) {
					t.Errorf("%s: %s: without supports, and %+v", name, p.Name, patch)
				}
			}
		}
		right, left := stood["standoff-right"], stood["standoff-left"]
		if r, l := right.Bounds(), left.Bounds(); r3.Norm(r3.Sub(r.Max, r3.Vec{X: l.Max.X, Y: -l.Min.Y, Z: l.Max.Z})) > 1e-9 {
			t.Errorf("%s: %v stands, and for the other hand %v", name, r, l)
		}
		meshtest.Volume(t, left, right.Volume(), 1e-6)
	}
	if flat < 4 {
		t.Errorf("%d bosses lie on their glue faces", flat)
	}
}
