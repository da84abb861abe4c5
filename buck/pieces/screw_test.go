package pieces_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/testdata/size"
)

// mounted are the measures of a worked case: sheet of 1.8 mm over the boss, clip 1.6, posts 3.0, plate 1.5.
func mounted(diameter float64, lengths string) measures.Spec {
	s := bucktest.Spec()
	s.Sheet.BossThickness, s.Clip.Thickness, s.Plate.Thickness = 1.8, 1.6, 1.5
	s.Screw = measures.Screw{Diameter: diameter, Lengths: lengths, PostHeight: 3}
	return s
}

// TestScrews checks the worked case: a nip of 0.4 mm, a number 8 screw of 4.57 to 4.90 mm, for which 3/16 in fits and
// 1/4 in sticks 1.45 mm into the blade; M4 takes 4.4 to 4.9 mm, so that 5 mm wants a washer of 0.1 mm and more.
func TestScrews(t *testing.T) {
	w, err := pieces.NewScrews(mounted(0.164*25.4, "3/16 in, 1/4 in"), 0)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(w.Nip-0.4) > 1e-9 || math.Abs(w.Least-4.57) > 0.005 || math.Abs(w.Most-4.90) > 1e-9 {
		t.Errorf("%+v", w)
	}
	if len(w.Fit) != 1 || math.Abs(w.Fit[0]-4.7625) > 1e-9 {
		t.Errorf("%v fit", w.Fit)
	}
	four := mounted(4, "5 mm")
	if _, err = pieces.NewScrews(four, 0); err == nil || !strings.Contains(err.Error(), "4.40 to 4.90 mm under the head; one of 5 mm reaches 0.10 mm too far, into the blade's way, and fits with washers of 0.10 to 0.60 mm") {
		t.Errorf("M4: %v", err)
	}
	four.Screw.Washer = 0.1
	if w, err = pieces.NewScrews(four, 0); err != nil || len(w.Fit) != 1 {
		t.Errorf("M4 with a washer: %v", err)
	}
}

// TestScrewRoom: a boss as high as its plate asks for leaves a screw no room under the plate; one that a thick handle makes
// higher leaves what stands free over the blade: top 10.2, plate 1.5, blade 1.6 and clearance 0.4 leave 6.7 mm.
func TestScrewRoom(t *testing.T) {
	size.Long(t)
	for _, c := range []struct{ clip, room float64 }{{20, 0}, {76, 6.7}} {
		s := mounted(4, "5 mm, 10 mm")
		s.Clip.Length = c.clip
		p := standoff(t, s)
		near(t, "room", p.Room(), c.room, 1e-3)
		w, err := p.Screws()
		if c.room > 0 && (err != nil || len(w.Fit) != 2) || c.room == 0 && err == nil {
			t.Errorf("room %g: %+v, %v", c.room, w, err)
		}
	}
}

func TestScrewRefusals(t *testing.T) {
	for _, c := range []struct {
		name, key, want string
		change          func(*measures.Spec)
	}{
		{"too long", "screw.lengths", "no screw in stock fits: 4.57 to 4.90 mm under the head; one of 6.35 mm reaches 1.45 mm too far, into the blade's way, and fits with washers of 1.45 to 1.78 mm", func(s *measures.Spec) { s.Screw.Lengths = "1/4 in" }},
		{"too short", "screw.lengths", "no screw in stock fits: 4.57 to 4.90 mm under the head", func(s *measures.Spec) { s.Screw.Lengths = "1/8 in, 4 mm" }},
		{"rattles", "screw.post_height", "posts 3.4 mm high stand out of sheet and clip, 3.4 mm together, so that the clip rattles however tight the screw: at most 3.2 mm", func(s *measures.Spec) { s.Screw.PostHeight = 3.4 }},
		{"little steel", "screw.diameter", "a thread of 4.166 mm wants as much steel, and post and plate are 3.5 mm thick together", func(s *measures.Spec) { s.Screw.PostHeight = 2 }},
		{"no length", "screw.lengths", `"long" is no length`, func(s *measures.Spec) { s.Screw.Lengths = "3/16 in, long" }},
		{"nothing", "screw.lengths", "a screw 0 mm long is not between 0 and 100 mm", func(s *measures.Spec) { s.Screw.Lengths = "0 mm" }},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := mounted(0.164*25.4, "3/16 in")
			c.change(&s)
			_, err := pieces.NewScrews(s, 0)
			var f *measures.Fault
			if !errors.As(err, &f) || f.Key != c.key || !strings.HasPrefix(f.What, c.want) {
				t.Errorf("\n     %v\nwant %s: %s", err, c.key, c.want)
			}
		})
	}
}

// TestClearance checks holes against ISO 273 (M4 fine 4.3, medium 4.5, coarse 4.8; M3 3.2, 3.4, 3.6) and ASME
// B18.2.8 (number 8: 4.6, 5.0, 5.4).
func TestClearance(t *testing.T) {
	for thread, want := range map[float64][3]float64{4: {4.3, 4.5, 4.8}, 3: {3.2, 3.4, 3.6}, 4.1656: {4.6, 5.0, 5.4}} {
		c, ok := measures.ClearanceOf(thread)
		if !ok || [3]float64{c.Fine, c.Medium, c.Coarse} != want || c.Source == "" {
			t.Errorf("%g: %+v, want %v", thread, c, want)
		}
	}
	if _, ok := measures.ClearanceOf(4.6); ok {
		t.Error("a thread that no standard names has a clearance hole")
	}
}

// TestSink checks countersinks: a head of 8.5 mm over 4.5 mm is 2.000 mm deep at 90 deg, 2.301 at 82 deg.
func TestSink(t *testing.T) {
	for angle, want := range map[float64]float64{90: 2.000, 82: 2.301} {
		h := measures.Hole{Diameter: 4.5, SinkDiameter: 8.5, SinkAngleDeg: angle}
		if got := h.Sink(); math.Abs(got-want) > 5e-4 {
			t.Errorf("%g deg: %.4f, want %g", angle, got, want)
		}
	}
	if got := (measures.Hole{Diameter: 4.5, SinkAngleDeg: 90}).Sink(); got != 0 {
		t.Errorf("none: %g", got)
	}
}
