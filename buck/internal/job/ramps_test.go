package job_test

import (
	"os"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
	"formbuck/testdata/size"
)

// TestRampsOfOddKnives makes the ramps of knives that once failed: one whose heel's corner lay under the drafted side of
// the edge's ramp, so that its mesh met itself in a point, and one whose ramps met with their drafted sides.
func TestRampsOfOddKnives(t *testing.T) {
	size.Long(t)
	for _, name := range []string{"heel-corner", "ramps-meet"} {
		t.Run(name, func(t *testing.T) {
			v, plan := bucktest.Drawn(t, "testdata/"+name+".toml", os.ReadFile)
			k := bucktest.Knife(t, plan, v.Spec)
			s, err := job.Make(t.Context(), k, job.Request{Kinds: []job.Kind{job.Ramp}, Hands: []measures.Hand{measures.Right}})
			if err != nil {
				t.Fatal(err)
			}
			if len(s.Pieces) == 0 {
				t.Error("no ramp was made")
			}
		})
	}
}
