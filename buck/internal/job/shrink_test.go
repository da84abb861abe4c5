package job_test

import (
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/job"
	"formbuck/buck/measures"
)

// TestPrintShrink: print files are larger by what the print shrinks, in all directions, and say so; where the
// pieces sit on the knife nothing changes.
func TestPrintShrink(t *testing.T) {
	v, plan := bucktest.Demo(t, "thistle")
	s := v.Spec
	r := job.Request{Hands: []measures.Hand{measures.Plain}, Kinds: []job.Kind{job.Drain}}
	plain := makeSet(t, bucktest.Knife(t, plan, s), r)
	s.Print.ShrinkPercent = 0.7
	grown := makeSet(t, bucktest.Knife(t, plan, s), r)
	a, b := plain.Pieces[0], grown.Pieces[0]
	if ratio, want := b.Printed().Volume()/a.Printed().Volume(), math.Pow(1/(1-0.007), 3); math.Abs(ratio-want) > 1e-9 {
		t.Errorf("the printed volume is %.9f times as large, want %.9f", ratio, want)
	}
	if a.Mesh.Volume() != b.Mesh.Volume() {
		t.Error("the piece on the knife is another")
	}
	if said := strings.Join(b.Measures, "\n"); !strings.Contains(said, "print file 1.00705 times as large") {
		t.Errorf("nothing said of it: %s", said)
	}
	if said := strings.Join(a.Measures, "\n"); strings.Contains(said, "print file") {
		t.Errorf("said of a print that is not scaled: %s", said)
	}
	if said := strings.Join(grown.Notes, "\n"); !strings.Contains(said, "print.shrink: 0.7 %") || !strings.Contains(said, "sheet.shrink: 0.4 %") {
		t.Errorf("notes: %s", said)
	}
}
