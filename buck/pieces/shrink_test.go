package pieces_test

import (
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
)

// TestMadeUp checks 1 / (1 - s) on values worked by hand.
func TestMadeUp(t *testing.T) {
	for percent, want := range map[float64]float64{0: 1, 0.2: 1.00200, 0.3: 1.00301, 0.4: 1.00402, 0.5: 1.00503, 0.7: 1.00705, 1.5: 1.01523} {
		near(t, "factor", measures.MadeUp(percent), want, 5e-6)
	}
	near(t, "a cavity of 50 mm", 50*measures.MadeUp(0.4), 50.201, 5e-4)
}

// TestSheetShrink: the cold cavity is as long and wide as plate and clearance, and its dimples as far apart as
// the posts; heights do not change, and what the print shrinks has no part in it.
func TestSheetShrink(t *testing.T) {
	s := bucktest.Spec()
	s.Standoff.EdgeRadius = 0
	boss := func() *pieces.StandoffPiece {
		b, err := pieces.NewStandoff(bucktest.Knife(t, bucktest.Hunter(), s))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	still := boss()
	s.Print.ShrinkPercent = 0.7
	if b := boss(); b.Top != still.Top {
		t.Error("what the print shrinks changes the boss")
	}
	s.Sheet.ShrinkPercent = 0.4
	b := boss()
	const cold = 1 - 0.004
	near(t, "length", cold*b.Top.Length, s.Plate.Length+2*s.Standoff.SideClearance, 1e-9)
	near(t, "width", cold*b.Top.Width, s.Plate.Width+2*s.Standoff.SideClearance, 1e-9)
	near(t, "dimples", cold*(b.Nubs[1].Centre.X-b.Nubs[0].Centre.X), s.Plate.PostSpacing, 1e-9)
	near(t, "height", b.TopZ, still.TopZ, 1e-12)
}
