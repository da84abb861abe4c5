package layout_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/profile"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestTrimIsClean checks the trim lines of the demo knives, with hollows as wide as is usual, as tight as the cutter
// allows, and with a relief: closed, without kinks, straight at the mouth in one piece, and no arc turns inwards more
// tightly than the cutter with its allowance.
func TestTrimIsClean(t *testing.T) {
	size.Long(t)
	for _, name := range bucktest.Demos() {
		for what, change := range map[string]func(*measures.Spec){
			"usual":  nil,
			"tight":  func(s *measures.Spec) { s.Layout.Smooth, s.Eyelet.Hole = 0, 3 },
			"relief": func(s *measures.Spec) { s.Layout.Thumb = 12 },
			"square": func(s *measures.Spec) { s.Layout.Corner = 0 },
		} {
			t.Run(name+" "+what, func(t *testing.T) {
				s := of(t, knife(t, name, change), measures.Plain)
				m := s.Knife.Spec.Mill
				kinks, straight := 0, 0
				for i, a := range s.Trim {
					b := s.Trim[(i+1)%len(s.Trim)]
					if gap := r2.Norm(r2.Sub(b.A, a.B)); gap > 1e-9 {
						t.Errorf("a gap of %g mm at %v", gap, a.B)
					}
					if turn := r2.Cross(a.Tangent(1), b.Tangent(0)); math.Abs(turn) > 0.06 {
						kinks++
					}
					if a.Bulge < 0 && !a.Straight() {
						if _, r, _, _ := a.Arc(); r < m.Cutter/2+m.Allowance {
							t.Errorf("an arc inwards of radius %.3f mm, %.3f mm long, at %v", r, a.Length(), a.A)
						}
					}
					if a.Straight() && math.Abs(a.A.X) < 1e-6 && math.Abs(a.B.X) < 1e-6 && a.Length() > 1e-3 {
						straight++
					}
				}
				if want := map[string]int{"square": 2}[what]; kinks != want {
					t.Errorf("%d kinks, want %d", kinks, want)
				}
				if want := map[bool]int{true: 2, false: 1}[what == "relief"]; straight != want {
					t.Errorf("the mouth is in %d straight pieces, want %d", straight, want)
				}
				trimmedAt(t, s)
			})
		}
	}
}

// TestMouthCorners checks the radius of the mouth's corners.
func TestMouthCorners(t *testing.T) {
	size.Long(t)
	for _, corner := range []float64{1, 3, 6} {
		s := of(t, knife(t, "otter", func(s *measures.Spec) { s.Layout.Corner = corner }), measures.Plain)
		round := 0
		for _, seg := range s.Trim {
			if c, r, _, sweep := seg.Arc(); !seg.Straight() && math.Abs(r-corner) < 1e-6 && sweep > 1 {
				round++
				if math.Abs(c.X-corner) > 1e-6 {
					t.Errorf("a corner's middle at x %.4f, want %g", c.X, corner)
				}
			}
		}
		if round != 2 {
			t.Errorf("%d corners of %g mm", round, corner)
		}
		if s.Trim.Area() < 0 || !profile.Path(s.Trim).Closed() {
			t.Error("not a counter-clockwise loop")
		}
	}
}
