package layout_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/testdata/size"
)

// TestRules checks the rule of thumb's sheath on a blade of 100 x 24 mm with a square tip, where its area is known:
// moved out by twice the edge distance R it is 100 (24 + 2R) + 24 R + pi R^2 / 2 (Steiner's formula for the part
// within the mouth), less two corners of r^2 (1 - pi/4).
func TestRules(t *testing.T) {
	s := of(t, bucktest.Knife(t, bucktest.Strip(), bucktest.Spec()), measures.Plain)
	rules, err := s.Rules()
	if err != nil {
		t.Fatal(err)
	}
	if len(rules) != 2 || rules[0].Diameters != 1.25 || rules[1].Diameters != 2 {
		t.Fatalf("%+v", rules)
	}
	const corner = 3.0
	for _, r := range rules {
		if math.Abs(r.Distance-r.Diameters*6.35) > 1e-9 {
			t.Errorf("%g diameters are %g mm", r.Diameters, r.Distance)
		}
		out := 2 * r.Distance
		want := 100*(24+2*out) + 24*out + math.Pi*out*out/2 - 2*corner*corner*(1-math.Pi/4)
		// Lines are followed on a grid, moved out by 80 mm and back again: 0.05 mm along 330 mm of line at the most.
		if math.Abs(r.Area-want) > 2 {
			t.Errorf("%g diameters: %.2f mm2, want %.2f", r.Diameters, r.Area, want)
		}
		if math.Abs(r.Size.X-(100+out)) > 0.05 || math.Abs(r.Size.Y-(24+2*out)) > 0.05 {
			t.Errorf("%g diameters: %v", r.Diameters, r.Size)
		}
		if math.Abs(r.SavedArea-(r.Area-s.Trim.Area())) > 1e-9 || math.Abs(r.Saved.Y-(r.Size.Y-s.Trim.Bounds().Size().Y)) > 1e-9 {
			t.Errorf("saved %v and %.2f mm2", r.Saved, r.SavedArea)
		}
	}
	// 8.55 mm from the spine is safe (TestLeastMargin with two layers of tape), and 1.25 diameters are 7.94 mm.
	if r := rules[0]; r.Near < 0.3 || r.Near > 0.8 || math.Abs(r.Worst-(8.55-7.9375)) > 0.02 {
		t.Errorf("too near over %.2f of the line, by %.3f mm", r.Near, r.Worst)
	}
	if r := rules[1]; r.Near != 0 || r.Worst != 0 || r.SavedArea < 1000 {
		t.Errorf("2 diameters: %+v", r)
	}
}

// TestScrewsMissing checks that posts that no screw fits are laid out as those that one fits, and warned of.
func TestScrewsMissing(t *testing.T) {
	size.Long(t)
	fits := demo(t, "minnow", nil)
	none := demo(t, "minnow", func(s *measures.Spec) { s.Screw.Lengths = "1/8 in" })
	if len(none.Warnings) != 1 || !strings.HasPrefix(none.Warnings[0], "screw.lengths: no screw in stock fits") || none.Screws != nil {
		t.Errorf("%q", none.Warnings)
	}
	if len(fits.Posts) != 4 || !slices.Equal(fits.Posts, none.Posts) || len(none.Eyelets) != len(fits.Eyelets) {
		t.Errorf("%v, with a screw %v", none.Posts, fits.Posts)
	}
	for want, change := range map[string]func(*measures.Spec){
		"hole.sink: a countersink 1.08 mm deep leaves an edge":          func(s *measures.Spec) { s.Hole.SinkDiameter, s.Hole.SinkAngleDeg, s.Sheet.BossThickness = 8.5, 90, 1.7 },
		"hole.sink: a countersink of 6 mm is no wider than the hole":    func(s *measures.Spec) { s.Hole.SinkDiameter = 6 },
		"screw.post_height: the screws draw sheet and clip together by": func(s *measures.Spec) { s.Screw.PostHeight -= 0.15; s.Screw.Washer = 0.2; s.Screw.Lengths = "5 mm" },
		"hole.diameter: posts of 7 mm do not pass a hole of 6.35 mm":    func(s *measures.Spec) { s.Plate.PostDiameter = 7 },
	} {
		s := demo(t, "minnow", change)
		if len(s.Warnings) != 1 || !strings.HasPrefix(s.Warnings[0], want) {
			t.Errorf("%q, want %s", s.Warnings, want)
		}
	}
}
