package job_test

import (
	"os"
	"path/filepath"
	"testing"

	"formbuck/buck"
	"formbuck/buck/bucktest"
	"formbuck/buck/job"
	"formbuck/buck/variant"
	"formbuck/profile"
	"formbuck/profile/dxf"
)

// TestRampsOfOddKnives makes the ramps of knives that once failed: one whose heel's corner lay under the drafted side of
// the edge's ramp, so that its mesh met itself in a point, and one whose ramps met with their drafted sides.
func TestRampsOfOddKnives(t *testing.T) {
	for _, name := range []string{"heel-corner", "ramps-meet"} {
		t.Run(name, func(t *testing.T) {
			k := drawnKnife(t, filepath.Join("testdata", name+".toml"))
			s, err := job.Make(t.Context(), k, job.Request{Kinds: []job.Kind{job.Ramp}, Hands: []buck.Hand{buck.Right}})
			if err != nil {
				t.Fatal(err)
			}
			if len(s.Pieces) == 0 {
				t.Error("no ramp was made")
			}
		})
	}
}

// drawnKnife is the knife of a variant file.
func drawnKnife(t *testing.T, file string) *buck.Knife {
	t.Helper()
	v, err := variant.Load(file, os.ReadFile)
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(filepath.Dir(file), v.Drawing.File))
	if err != nil {
		t.Fatal(err)
	}
	d, err := dxf.Parse(data, v.Drawing.File)
	if err != nil {
		t.Fatal(err)
	}
	p, err := profile.Read(d, profile.Options{Units: v.Drawing.Units})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := p.Plan(v.Hints())
	if err != nil {
		t.Fatal(err)
	}
	return bucktest.Knife(t, plan, v.Spec)
}
