package layout_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestThumb checks the relief: round, as deep as asked for, on the spine's side, and no eyelet nearer to it than to any
// other part of the trim line.
func TestThumb(t *testing.T) {
	size.Long(t)
	plain := demo(t, "thistle", nil)
	s := demo(t, "thistle", func(s *measures.Spec) { s.Layout.Thumb, s.Layout.ThumbDepth = 14, 6 })
	spine := s.Knife.Plan.ThroatSpine
	deepest, round := 0.0, 0
	middle := r2.Vec{X: spine.X - 8, Y: spine.Y}
	for _, p := range s.Trim.Flatten(0.01) {
		if math.Abs(p.Y-spine.Y) < 5 && p.X < 20 {
			deepest = max(deepest, p.X)
			if math.Abs(r2.Norm(r2.Sub(p, middle))-14) < 0.02 {
				round++
			}
		}
	}
	if math.Abs(deepest-6) > 0.02 || round < 10 {
		t.Errorf("%.3f mm deep, %d points on its circle", deepest, round)
	}
	if d := plain.Trim.Area() - s.Trim.Area(); d < 60 || d > 130 {
		// A segment of a circle 6 mm high has r^2 acos(1 - h/r) - (r - h) sqrt(2rh - h^2) = 99.5 mm2; its corners are rounded.
		t.Errorf("the relief takes %.1f mm2", d)
	}
	trimmedAt(t, s)
	for name, change := range map[string]func(*measures.Spec){
		"layout.thumb":       func(s *measures.Spec) { s.Layout.Thumb, s.Layout.ThumbDepth = 3, 2 },
		"layout.thumb_depth": func(s *measures.Spec) { s.Layout.Thumb, s.Layout.ThumbDepth = 14, 14 },
	} {
		refused(t, name, "", change)
	}
}

// trimmedAt checks that a trim line does not cross itself and keeps off the eyelets.
func trimmedAt(t *testing.T, s *layout.Sheath) {
	t.Helper()
	if why := selfCrossing(s.Trim); why != nil {
		t.Error(why)
	}
	for i, e := range s.Eyelets {
		if d := s.Trim.Distance(e.At); d < s.Knife.Spec.EdgeDistance()-0.001 || !s.Trim.Contains(e.At) {
			t.Errorf("eyelet %d is %.3f mm from the trim line", i+1, d)
		}
	}
}

// refused checks that a measure is refused.
func refused(t *testing.T, key, want string, change func(*measures.Spec)) {
	t.Helper()
	k := knife(t, "thistle", change)
	_, err := layout.New(k, nil)
	var f *measures.Fault
	if !errors.As(err, &f) || f.Key != key || !strings.Contains(f.What, want) {
		t.Errorf("%v, want %s: %s", err, key, want)
	}
}

// TestFlare checks what the mouth gains by a flare 6 mm long (worked table: 1.06, 1.61, 2.18 and 3.46 mm at 10, 15, 20
// and 30 deg), that no flange lies on it, and the warning where the clip does.
func TestFlare(t *testing.T) {
	size.Long(t)
	for angle, want := range map[float64]float64{10: 1.06, 15: 1.61, 20: 2.18, 30: 3.46} {
		if got := (measures.Layout{Flare: 6, FlareDeg: angle}).FlareGain(); math.Abs(got-want) > 0.005 {
			t.Errorf("%g deg: %.3f mm, want %g", angle, got, want)
		}
	}
	s := demo(t, "thistle", func(s *measures.Spec) { s.Layout.Flare = 9 })
	for i, e := range s.Eyelets {
		if e.At.X-s.Knife.Spec.Eyelet.Flange/2 < 9+s.Knife.Spec.Layout.Clearance-0.001 {
			t.Errorf("the flange of eyelet %d begins at x %.3f, on the flare", i+1, e.At.X-s.Knife.Spec.Eyelet.Flange/2)
		}
	}
	if len(s.Warnings) != 1 || !strings.HasPrefix(s.Warnings[0], "layout.flare: the clip lies over the flare, which stands out by 2.41 mm") {
		t.Errorf("%q", s.Warnings)
	}
	if s = of(t, knife(t, "thistle", func(s *measures.Spec) { s.Layout.Flare = 9 }), measures.Plain); len(s.Warnings) > 0 {
		t.Errorf("without a clip: %q", s.Warnings)
	}
}

// TestHoles checks holes for other mounts: they are in the flat rim or refused, widen the trim line to their own rim
// and keep eyelets off.
func TestHoles(t *testing.T) {
	size.Long(t)
	s := demo(t, "thistle", func(s *measures.Spec) { s.Layout.Holes = "snap 60 36 5; loop 45 -25 6.35" })
	if len(s.Holes) != 2 || s.Holes[0] != (layout.Hole{Name: "snap", At: r2.Vec{X: 60, Y: 36}, Diameter: 5}) {
		t.Fatalf("%+v", s.Holes)
	}
	for _, h := range s.Holes {
		if d := s.Trim.Distance(h.At); d < max(h.Diameter/2+2, 1.25*h.Diameter) || !s.Trim.Contains(h.At) {
			t.Errorf("%s is %.3f mm from the trim line", h.Name, d)
		}
		for i, e := range s.Eyelets {
			if d := r2.Norm(r2.Sub(e.At, h.At)); d < h.Diameter/2+4.75+1-1e-9 {
				t.Errorf("%s and eyelet %d are %.3f mm apart", h.Name, i+1, d)
			}
		}
	}
	trimmedAt(t, s)
	for holes, want := range map[string]string{
		"a 60 10 5":            "a is not in the flat rim: its middle is -",
		"a 60 19 5":            "a is not in the flat rim: its middle is 1.21 mm from where the sheets part, and 3.00 mm are wanted",
		"a 60 -21.5 5":         "of sheet are wanted between them",
		"a 3 25 5":             "a is 3.00 mm from the mouth, and 6.25 mm are wanted",
		"a 60 120 5":           "mm from the knife: at most 60 mm",
		"a 60 40 5; b 62 40 5": "b and a are 2.00 mm apart, middle to middle",
		"a 60 40":              "is not a name, x, y, a diameter",
	} {
		refused(t, "layout.holes", want, func(s *measures.Spec) { s.Layout.Holes, s.Fixture.Register = holes, "" })
	}
	refused(t, "layout.holes", "a is not in the flat rim: its middle is 1.21 mm from where the sheets part, and 3.5", func(s *measures.Spec) {
		s.Layout.Holes, s.Fixture.Register = "a 60 19 5", measures.ByDrawing
	})
}

// TestNoEyelets checks that no flange lies where none is wanted, and that what is left is evenly spaced.
func TestNoEyelets(t *testing.T) {
	size.Long(t)
	s := demo(t, "thistle", func(s *measures.Spec) { s.Layout.NoEyelets = "spine 40 65" })
	spines := 0
	for i, e := range s.Eyelets {
		if e.Side != "spine" {
			continue
		}
		spines++
		if e.At.X > 40-4.75 && e.At.X < 65+4.75 {
			t.Errorf("eyelet %d at x %.2f", i+1, e.At.X)
		}
	}
	if spines < 3 {
		t.Errorf("%d eyelets along the spine", spines)
	}
	trimmedAt(t, s)
	all, err := measures.ParseNoEyelets("spine 40 65; edge -5 12.5")
	if err != nil || len(all) != 2 || all[1] != (measures.NoEyelet{Side: measures.EdgeSide, From: -5, To: 12.5}) {
		t.Errorf("%v, %v", all, err)
	}
	for text, want := range map[string]string{
		"back 1 2":   `"back 1 2" is not edge or spine and two places along the blade`,
		"edge 1":     "is not edge or spine",
		"edge 1 two": `"two" is no place in mm`,
		"edge 5 5":   "from 5 to 5 mm is no stretch",
	} {
		if _, err := measures.ParseNoEyelets(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
}
