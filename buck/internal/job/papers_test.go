package job_test

import (
	"regexp"
	"slices"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
	"formbuck/profile"
	"formbuck/testdata/size"
)

var pageOf = regexp.MustCompile(`/Type /Page\b[^s]`)

// drawn is how many pages the drawings of a job for all hands take.
func drawn(t *testing.T, k *pieces.Buck, p drawing.Paper) int {
	t.Helper()
	set := makeSet(t, k, job.Request{Hands: measures.Hands()})
	study, err := path.Of(k, measures.Hands())
	if err != nil {
		t.Fatal(err)
	}
	files, err := set.Files(t.Context(), job.Format{Paper: p, Draw: study}, measures.Hands())
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if f.Name == k.Spec.Name+"-drawing.pdf" {
			return len(pageOf.FindAll(f.Data, -1))
		}
	}
	t.Fatal("no drawings")
	return 0
}

// TestPagesOfLongKnives: all drawings of a chef's knife of 200 mm and of a camp knife of 250 mm take fewer than ten pages on
// either paper.
func TestPagesOfLongKnives(t *testing.T) {
	size.Long(t)
	for name, plan := range map[string]*profile.Plan{"chef": bucktest.Chef(), "camp": bucktest.Camp()} {
		k := bucktest.Knife(t, plan, bucktest.LongSpec(name))
		for _, p := range drawing.Papers() {
			if n := drawn(t, k, p); n < 4 || n > 9 {
				t.Errorf("%s on %s: %d pages", name, p, n)
			}
		}
	}
}

// TestPagesOnLetter: a demo's drawings take as many pages on Letter as on A4.
func TestPagesOnLetter(t *testing.T) {
	k := demo(t, "thistle")
	a4, letter := drawn(t, k, drawing.A4), drawn(t, k, drawing.Letter)
	if a4 != letter || a4 > 5 {
		t.Errorf("%d pages of A4, %d of Letter", a4, letter)
	}
}

// TestPlates: what a bed of 120 mm does not take at once is in several files, each named for its plate; what one takes, in one.
func TestPlates(t *testing.T) {
	size.Long(t)
	v, plan := bucktest.Demo(t, "thistle")
	for bed, want := range map[float64][]string{220: {"thistle.3mf"}, 120: {"thistle-plate-1.3mf", "thistle-plate-2.3mf"}} {
		spec := v.Spec
		spec.Whole.Bed = bed
		set := makeSet(t, bucktest.Knife(t, plan, spec), job.Request{})
		files, err := set.ThreeMF(job.Format{})
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, f := range files {
			got = append(got, f.Name)
		}
		if !slices.Equal(got, want) {
			t.Errorf("a bed of %.0f mm: %v, want %v", bed, got, want)
		}
	}
}
