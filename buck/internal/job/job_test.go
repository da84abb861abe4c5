package job_test

import (
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/profile"
	"formbuck/testdata/size"
)

// demo is the knife of one of the demo variants, the same one for all who ask.
func demo(t testing.TB, name string) *pieces.Buck { return bucktest.DemoKnife(t, name) }

func TestDemos(t *testing.T) {
	size.Long(t)
	for _, name := range bucktest.Demos() {
		t.Run(name, func(t *testing.T) {
			set, err := job.Make(t.Context(), demo(t, name), job.Request{})
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range set.Pieces {
				b := p.Mesh.Bounds()
				t.Logf("%s: %d triangles, %.1f mm3, %.1f %.1f: %s", p.Name, len(p.Mesh.Triangles), p.Mesh.Volume(), b.Min, b.Max, p.Governed)
			}
			t.Log(set.Notes)
		})
	}
}

// makeAll makes every piece of a variant.
func makeAll(t testing.TB, plan *profile.Plan, s measures.Spec) error {
	t.Helper()
	k, err := pieces.NewBuck(plan, s)
	if err != nil {
		return err
	}
	_, err = job.Make(t.Context(), k, job.Request{})
	return err
}
