package job_test

import (
	"slices"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
)

// TestRampsForFaces makes the ramps of a knife whose ramp is another one on a face with a boss: each hand gets, for each face,
// exactly one, and no hand's pieces are made that was not asked for.
func TestRampsForFaces(t *testing.T) {
	v, plan := bucktest.CurvedKnife(t, "ring", "")
	k := bucktest.Knife(t, plan, v.Spec)
	for _, hand := range measures.Hands() {
		set, err := job.Make(t.Context(), k, job.Request{Hands: []measures.Hand{hand}, Kinds: []job.Kind{job.Ramp}})
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for _, p := range set.Pieces {
			names = append(names, p.Name)
			if !p.Serves(hand) {
				t.Errorf("%s: %s was made and serves another hand", hand, p.Name)
			}
		}
		var want []string
		for _, f := range measures.BothFaces() {
			kind := "bare"
			if slices.Contains(measures.Hip.Faces(hand), f) {
				kind = "boss"
			}
			want = append(want, "ramp-"+kind+"-any-"+string(f)+"-face")
		}
		slices.Sort(names)
		slices.Sort(want)
		if !slices.Equal(names, want) {
			t.Errorf("%s: %v, want %v", hand, names, want)
		}
	}
	all, err := job.Make(t.Context(), k, job.Request{Kinds: []job.Kind{job.Ramp}})
	if err != nil {
		t.Fatal(err)
	}
	if len(all.Pieces) != 4 {
		t.Errorf("%d pieces for all hands, want 4", len(all.Pieces))
	}
	for _, p := range all.Pieces {
		if p.Serves(measures.Both) != (p.For == pieces.BossedFaces) || p.Serves(measures.Plain) != (p.For == pieces.BareFaces) {
			t.Errorf("%s: serves both %v, plain %v", p.Name, p.Serves(measures.Both), p.Serves(measures.Plain))
		}
	}
}
