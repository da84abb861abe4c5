package job_test

import (
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
	"formbuck/buck/path"
)

// BenchmarkDemo makes all of the demo, as make does: the pieces, their files, and beside them the look at
// the cutting edge.
func BenchmarkDemo(b *testing.B) {
	for b.Loop() {
		v, plan := bucktest.Demo(b, "thistle")
		k := bucktest.Knife(b, plan, v.Spec)
		set, err := job.Make(b.Context(), k, job.Request{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := set.Files(b.Context(), job.Format{}, measures.Hands()); err != nil {
			b.Fatal(err)
		}
		if _, err := path.Checked(k, measures.Hands()); err != nil {
			b.Fatal(err)
		}
	}
}
