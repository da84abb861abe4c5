package twin_test

import (
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/measures"
	"formbuck/testdata/size"
)

// Measures that change the shape of a piece, one at a time, on the test knife.
func TestVariedPiecesAreWithinToleranceOfTheirTwins(t *testing.T) {
	size.Long(t)
	for name, tc := range map[string]struct {
		piece  string
		change func(s *measures.Spec)
	}{
		"sharp edge":       {"standoff", func(s *measures.Spec) { s.Standoff.EdgeRadius = 0 }},
		"upright walls":    {"standoff", func(s *measures.Spec) { s.Standoff.DraftDeg = 0 }},
		"canted":           {"standoff", func(s *measures.Spec) { s.Standoff.CantDeg, s.Standoff.Y = 12, -1 }},
		"over the edge":    {"standoff", func(s *measures.Spec) { s.Standoff.X, s.Standoff.Y = 15, -6 }},
		"chamfered":        {"standoff", func(s *measures.Spec) { s.Print.BedChamfer = 0.3 }},
		"chamfer, upright": {"standoff", func(s *measures.Spec) { s.Print.BedChamfer, s.Standoff.DraftDeg = 0.4, 0 }},
		"chamfer, edge":    {"standoff", func(s *measures.Spec) { s.Print.BedChamfer, s.Standoff.X, s.Standoff.Y = 0.4, 15, -6 }},
		"hollow":           {"standoff", func(s *measures.Spec) { s.Blade.Grind, s.Blade.WheelRadius = measures.Hollow, 150 }},
		"thin edge":        {"standoff", func(s *measures.Spec) { s.Blade.EdgeThickness = 0 }},
		"drain turned":     {"drain", func(s *measures.Spec) { s.Drain.CantDeg, s.Drain.Y = 15, 0.7 }},
		"straight drain":   {"drain", func(s *measures.Spec) { s.Drain.TaperDeg, s.Drain.Fit = 0, 0.2 }},
		"drain far back":   {"drain", func(s *measures.Spec) { s.Drain.Lap, s.Drain.Diameter = 20, 9 }},
		"drain that flies": {"drain", func(s *measures.Spec) { s.Drain.TaperDeg, s.Drain.Length = 20, 30 }},
		"flat nub":         {"nub", func(s *measures.Spec) { s.Nub.AngleDeg = 170 }},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := bucktest.Spec()
			tc.change(&s)
			for _, p := range bodies(t, bucktest.Knife(t, bucktest.Hunter(), s)) {
				if p.name != tc.piece {
					continue
				}
				if d := measured(t, p, solid.Tolerance, 1); !(d.Worst() <= solid.Tolerance) {
					t.Errorf("%s: %.5f mm from its twin", p.name, d.Worst())
				}
			}
		})
	}
}
