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

// near checks a figure.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.6g, want %.6g within %.2g", what, got, want, tol)
	}
}

func standoff(t *testing.T, s measures.Spec) *pieces.StandoffPiece {
	t.Helper()
	p, err := pieces.NewStandoff(bucktest.Knife(t, bucktest.Hunter(), s))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestHeightDemand is the worked case: the clip's inner face has to clear a handle of half thickness
// 11 by 1, the face is at 1.6 and the sheet over the boss is 1.8: 11 + 1 - 1.6 - 1.8 = 8.6 above the
// face. Each mm of handle is half a mm of height. Derived here.
func TestHeightDemand(t *testing.T) {
	size.Long(t)
	for _, tt := range []struct {
		handle, clip, height float64
		governs              string
	}{
		{22, 76, 8.6, "bare handle"},
		{24, 76, 9.6, "bare handle"},
		// At the mouth, 2 mm behind the front, 2 mm of sheet square to a rounding of 7.2: a circle of 9.2 about (-5.2, 1.8)
		// stands at 1.8 + sqrt(9.2^2 - 5.2^2) = 9.38947 there, over the handle's 9.
		{18, 76, 6.98947, "sheathed handle"},
		{4.5, 76, 2.1, "sheath"}, // over a ramp: wall 0.8 and glue 0.1 over the blade's 1.6, sheet 2
		{4.5, 20, 1.9, "plate"},  // no clip to clear: plate 1.5 and 0.4 over the blade
	} {
		s := bucktest.Spec()
		s.Handle.Thickness, s.Handle.Rounding, s.Clip.Length = tt.handle, min(8, 0.4*tt.handle), tt.clip
		p := standoff(t, s)
		near(t, "height over the face", p.Height(), tt.height, 1e-3)
		near(t, "top plane", p.TopZ, tt.height+1.6, 1e-3)
		if got := p.Governing().What; !strings.Contains(got, tt.governs) {
			t.Errorf("handle %g: governed by %q, want %q", tt.handle, got, tt.governs)
		}
	}
}

// TestSheathedHandle puts the mouth further over the handle, so that the sheet under the clip stands higher than
// the bare handle.
func TestSheathedHandle(t *testing.T) {
	plan := bucktest.Hunter()
	s := bucktest.Spec()
	s.Handle.Rounding = 1 // full thickness right behind the front
	p, err := pieces.NewStandoff(bucktest.Knife(t, plan, s))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "height", p.Height(), 8.6+s.Sheet.Thickness, 1e-9)
	if got := p.Governing().What; !strings.Contains(got, "sheathed handle") {
		t.Errorf("governed by %q", got)
	}
}

// TestTopHoldsPlate checks that the flat of the top takes the plate and its side clearance, after the edge
// radius has taken rho tan(45 - draft/2) on every side: 0.9163 for 1 mm at 5 degrees. Derived here.
func TestTopHoldsPlate(t *testing.T) {
	s := bucktest.Spec()
	p := standoff(t, s)
	near(t, "edge inset", p.EdgeInset(), 0.91633, 1e-5)
	flat := p.Top.Grown(-p.EdgeInset())
	near(t, "flat length", flat.Length, s.Plate.Length+2*s.Standoff.SideClearance, 1e-12)
	near(t, "flat width", flat.Width, s.Plate.Width+2*s.Standoff.SideClearance, 1e-12)
}

func TestStandoffPlacement(t *testing.T) {
	s := bucktest.Spec()
	still := standoff(t, s)
	s.Standoff.X, s.Standoff.Y, s.Standoff.CantDeg, s.Standoff.Fit = 3, -0.5, 4, 0.15
	moved := standoff(t, s)
	near(t, "x", moved.Top.Centre.X-still.Top.Centre.X, 3, 1e-12)
	near(t, "y", moved.Top.Centre.Y-still.Top.Centre.Y, -0.5, 1e-12)
	near(t, "cant", moved.Top.AngleDeg, 4, 0)
	near(t, "gap", moved.Gap-still.Gap, 0.15, 1e-12)
}

func TestStatedHeight(t *testing.T) {
	s := bucktest.Spec()
	s.Standoff.Height = 12
	p := standoff(t, s)
	near(t, "top", p.TopZ, 12, 0)
	if p.Governing().What != "height stated" {
		t.Errorf("governed by %q", p.Governing().What)
	}
}

// TestStandoffRefusals are measures that cannot be made, and the key that is at fault.
func TestStandoffRefusals(t *testing.T) {
	size.Long(t)
	for _, tt := range []struct {
		name string
		key  string
		set  func(*measures.Spec)
	}{
		{"posts longer than the plate", "plate.post_spacing", func(s *measures.Spec) { s.Plate.PostSpacing = 40 }},
		{"height under the plate's", "standoff.height", func(s *measures.Spec) { s.Standoff.Height = 2 }},
		{"beyond the tip", "standoff.x", func(s *measures.Spec) { s.Standoff.X = 100 }},
		{"on the handle", "standoff.x", func(s *measures.Spec) { s.Standoff.X = -8 }},
		{"nub wider than the hole", "nub.base", func(s *measures.Spec) { s.Nub.Base = 6.35 }},
		{"nub eaten by its fit", "nub.base", func(s *measures.Spec) { s.Nub.Fit = 3 }},
		{"nub sharper than the drill", "nub.angle", func(s *measures.Spec) { s.Nub.AngleDeg = 90 }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := bucktest.Spec()
			tt.set(&s)
			_, err := pieces.NewStandoff(bucktest.Knife(t, bucktest.Hunter(), s))
			var f *measures.Fault
			if !errors.As(err, &f) || f.Key != tt.key {
				t.Errorf("got %v, want a fault of %s", err, tt.key)
			}
		})
	}
}

// TestNub checks the cone: its height is b / (2 tan(angle/2)): 1.155 for a base of 4 at 120 degrees, 0.728 at
// 140. Derived here; that a starter's angle is larger than the drill's: Today's Machining World,
// October 2006, "Off-Center".
func TestNub(t *testing.T) {
	for _, tt := range []struct{ base, angle, point, tall float64 }{
		{4, 120, 118, 1.155},
		{4, 140, 135, 0.728},
	} {
		s := bucktest.Spec()
		s.Nub.Base, s.Nub.AngleDeg, s.Hole.PointAngleDeg = tt.base, tt.angle, tt.point
		n, err := pieces.NewNub(bucktest.Knife(t, bucktest.Hunter(), s))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "height", n.Tall(), tt.tall, 5e-4)
		near(t, "height by formula", n.Tall(), tt.base/(2*math.Tan(tt.angle/2*math.Pi/180)), 1e-12)
	}
	p := standoff(t, bucktest.Spec())
	for _, n := range p.Nubs {
		near(t, "base under the hole of 6.35 by the margin of 1", n.Base, 5.35, 1e-12)
		near(t, "stands on the top", n.BaseZ, p.TopZ, 0)
	}
	near(t, "distance", p.Nubs[1].Centre.X-p.Nubs[0].Centre.X, 28, 1e-12)
}
