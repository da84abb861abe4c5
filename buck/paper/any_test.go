package paper_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"formbuck/buck"
	"formbuck/buck/bucktest/anyknife"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/mill"
	"formbuck/buck/paper"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
	"formbuck/testdata/size"
)

// anyKnife is a knife at random, its questions answered; nil where it is refused.
func anyKnife(seed uint64) *pieces.Buck {
	for knife := anyknife.New(seed); ; {
		files := fstest.MapFS{"any.toml": {Data: knife.TOML("any.dxf")}, "any.dxf": {Data: knife.DXF()}}
		d, err := buck.Open(files, "any.toml")
		if err == nil {
			return d.Knife()
		}
		if _, ok := knife.Answer(err.Error()); !ok {
			return nil
		}
	}
}

// TestAnyPapers: of random knives no text of a face, a set-up sheet, a sheath's plan or a mill's sheet leaves its paper or runs
// into another, on either paper, and none of a blade with two edges tells of a spine.
func TestAnyPapers(t *testing.T) {
	size.Long(t)
	done, daggers := 0, 0
	for seed := uint64(1); done < size.Of(0, 12, 100); seed++ {
		k := anyKnife(seed)
		if k == nil {
			continue
		}
		hand := measures.Hands()[done%4]
		b, err := path.Made(k, hand)
		if err != nil {
			continue
		}
		l, err := layout.New(k, []measures.Hand{hand})
		if err != nil {
			continue
		}
		done++
		p := drawing.Papers()[done%2]
		pages := append(paper.SetUp(b, l, hand, p, paper.Told{}), append(mill.Sheet(l, mill.Programs(l), p), l.Plan(), l.Sheet())...)
		face := measures.RightFace
		if len(b.Faces) > 0 {
			face = b.Faces[0]
		}
		for i, page := range append(pages, paper.Face(studied(b), face, k.Spec.Name)) {
			checkLabels(t, fmt.Sprintf("seed %d, %s hand, %s, page %d", seed, hand, p, i+1), page)
			for _, one := range labels(t, page) {
				if k.Spec.Blade.Edges > 1 && strings.Contains(one.text, "spine") {
					t.Errorf("seed %d has two edges: %q", seed, one.text)
				}
			}
		}
		if k.Spec.Blade.Edges > 1 {
			daggers++
		}
	}
	t.Logf("%d knives, %d of them with two edges", done, daggers)
}
