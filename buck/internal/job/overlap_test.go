package job_test

import (
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
	"formbuck/testdata/size"
)

// TestPiecesInOnePlace draws the drain insert so far back that the blade is too short for it and the others.
func TestPiecesInOnePlace(t *testing.T) {
	size.Long(t)
	for name, tt := range map[string]struct {
		change func(s *measures.Spec)
		hands  []measures.Hand
		want   []string
	}{
		"as it is":              {func(*measures.Spec) {}, nil, nil},
		"far back":              {func(s *measures.Spec) { s.Drain.Lap, s.Standoff.X = 40, 22 }, nil, []string{"standoff"}},
		"far back, but no boss": {func(s *measures.Spec) { s.Drain.Lap, s.Standoff.X = 40, 22 }, []measures.Hand{measures.Plain}, nil},
		"along ramp":            {func(s *measures.Spec) { s.Drain.Lap, s.Ramp.X = 30, 32 }, []measures.Hand{measures.Plain}, nil}, // it leaves the drain its room
	} {
		t.Run(name, func(t *testing.T) {
			v, plan := bucktest.Demo(t, "thistle")
			tt.change(&v.Spec)
			s, err := job.Make(t.Context(), bucktest.Knife(t, plan, v.Spec), job.Request{Kinds: []job.Kind{job.Drain}, Hands: tt.hands})
			if err != nil {
				t.Fatal(err)
			}
			var told []string
			for _, w := range s.Warnings {
				if strings.Contains(w, "in one place") {
					told = append(told, w)
				}
			}
			t.Log(told)
			if len(told) != len(tt.want) {
				t.Fatalf("%d warnings, want %d", len(told), len(tt.want))
			}
			for i, w := range tt.want {
				if !strings.Contains(told[i], "it and the "+w+" are") {
					t.Errorf("%q, want the %s named", told[i], w)
				}
			}
		})
	}
}
