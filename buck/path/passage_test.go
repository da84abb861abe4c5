package path_test

import (
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/path"
)

// TestPassage: over the flat of a blade of 3.2 mm with two layers of tape of 0.14 mm on either face the closed sheath is
// 3.2 + 4 x 0.14 = 3.76 mm high, so that a plate of 1.5 mm has 2.26 mm to spare, and posts of 2.26 mm on it just pass.
func TestPassage(t *testing.T) {
	for _, tt := range []struct {
		post float64
		hand measures.Hand
	}{{3, measures.Right}, {3, measures.Left}, {2.2, measures.Right}, {1, measures.Right}} {
		spec := bucktest.Spec()
		spec.Plate = measures.Plate{Length: 14, Width: 4, Thickness: 1.5, PostSpacing: 8, PostDiameter: 3}
		spec.Screw.PostHeight, spec.Clip.Length, spec.Clip.Width = tt.post, 20, 6
		spec.Standoff.X, spec.Standoff.Y = 40, 8
		b, err := path.Made(bucktest.Knife(t, bucktest.Strip(), spec), tt.hand)
		if err != nil {
			t.Fatal(err)
		}
		all := path.New(b, path.Options{Step: 0.2}).Passages()
		if len(all) != 1 {
			t.Fatalf("%d passages", len(all))
		}
		p := all[0]
		t.Logf("boss at %v: %+v: %s", b.Standoff.Top.Centre, p.Spare, p.Said())
		if math.Abs(p.Bare-2.26) > 1e-6 || math.Abs(p.Spare-(2.26-tt.post)) > 1e-6 {
			t.Errorf("posts of %g mm: %.4f mm to spare, without them %.4f mm", tt.post, p.Spare, p.Bare)
		}
		if said := p.Said(); p.Passes() != (tt.post < 2.26) || !p.Passes() && !strings.Contains(said, "posts of 2.26 mm would pass") {
			t.Error(said)
		}
	}
}

// TestPassageOfPlain: a plain sheath takes no plate.
func TestPassageOfPlain(t *testing.T) {
	b, err := path.Made(bucktest.DemoKnife(t, "thistle"), measures.Plain)
	if err != nil {
		t.Fatal(err)
	}
	if all := path.New(b, path.Options{Step: 0.4}).Passages(); all != nil {
		t.Error(all)
	}
}
