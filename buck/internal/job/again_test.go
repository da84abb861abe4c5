package job_test

import (
	"slices"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
)

// TestEarlierPictures thickens the handle: the pictures of pieces that do not read it are asked for by the same digests of
// their inputs, those of the others by others; and what is there is taken as it is.
func TestEarlierPictures(t *testing.T) {
	v, plan := bucktest.Demo(t, "thistle")
	thick := v.Spec
	thick.Handle.Thickness += 2
	request := job.Request{Kinds: []job.Kind{job.Standoff, job.Drain, job.Nub}, Hands: []measures.Hand{measures.Right}}
	made := map[string]string{}
	for i, spec := range []measures.Spec{v.Spec, thick} {
		set := makeSet(t, bucktest.Knife(t, plan, spec), request)
		var again []string
		files, err := set.Files(t.Context(), job.Format{Earlier: func(name, inputs string) []byte {
			if made[name] != inputs {
				return nil
			}
			return []byte("what " + name + " was")
		}}, request.Hands)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if strings.HasSuffix(f.Name, ".png") != (f.Inputs != "") {
				t.Errorf("%s: made of %q", f.Name, f.Inputs)
			}
			if string(f.Data) == "what "+f.Name+" was" {
				again = append(again, f.Name)
			}
			made[f.Name] = f.Inputs
		}
		want := []string{"thistle-drain-any.png", "thistle-nub-any.png"}
		if i == 0 {
			want = nil
		}
		if !slices.Equal(again, want) {
			t.Errorf("taken again: %v, want %v", again, want)
		}
	}
}
