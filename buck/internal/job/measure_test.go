package job_test

import (
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/internal/solid"
	"formbuck/buck/measures"
	"formbuck/testdata/size"
)

// TestMeasure measures the pieces of a demo: all lie within the tolerance of what they are to be, and none on it to the last
// bit, as a mesh that is measured against itself would.
func TestMeasure(t *testing.T) {
	names, request := bucktest.Demos(), job.Request{}
	if !size.Full() { // a locator takes ten times as long as all the others
		names, request.Kinds = []string{"thistle"}, []job.Kind{job.Standoff, job.Ramp, job.Drain, job.Nub}
		request.Hands = []measures.Hand{measures.Right}
	}
	if testing.Short() {
		request.Kinds = []job.Kind{job.Drain, job.Nub}
	}
	for _, name := range names {
		t.Run(name, func(t *testing.T) {
			v, plan := bucktest.Demo(t, name)
			s, err := job.Make(t.Context(), bucktest.Knife(t, plan, v.Spec), request)
			if err != nil {
				t.Fatal(err)
			}
			measured, err := s.Measure()
			if err != nil {
				t.Fatal(err)
			}
			pieces := make(map[string]bool)
			for _, m := range measured {
				t.Log(m)
				pieces[m.Piece] = true
				if strings.Contains(m.To, "brute force") {
					continue // beside cliffs it is softer, see package twin
				}
				if worst := max(m.FromMesh, m.ToMesh); !(worst <= solid.Tolerance) || worst == 0 || m.Places < 1000 {
					t.Errorf("%v", m)
				}
			}
			if len(pieces) != len(s.Pieces) {
				t.Errorf("%d of %d pieces were measured", len(pieces), len(s.Pieces))
			}
		})
	}
}
