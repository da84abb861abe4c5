package solid_test

import (
	"errors"
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh/meshtest"
)

// TestBedChamfer: on a level face the chamfer takes a triangle that goes round the foot, from the chamfer's width
// within the underside to where 45 degrees meet the wall: its volume by Pappus's rule, to within what the tolerance of the heights makes of it, its height and the foot line,
// which is drawn in by c tan(draft) / (1 + tan(draft)).
func TestBedChamfer(t *testing.T) {
	const c, tol = 0.8, 0.002
	for _, draft := range []float64{5, 0} {
		s := bucktest.Spec()
		s.Standoff.Y, s.Standoff.DraftDeg, s.Plate.Width, s.Plate.PostDiameter = 8, draft, 3.5, 2 // on the flat above the grind line
		sharp := standoff(t, s)
		s.Print.BedChamfer = c
		cut := standoff(t, s)
		whole, err := solid.Standoff(sharp, tol)
		if err != nil {
			t.Fatal(err)
		}
		m, err := solid.Standoff(cut, tol)
		if err != nil {
			t.Fatal(err)
		}
		meshtest.Clean(t, m)
		tan := math.Tan(draft * math.Pi / 180)
		in := c * tan / (1 + tan)
		wall := (sharp.Height() - sharp.Gap) * tan // of the foot, from the top pill
		straight := 2 * (sharp.Top.Length - sharp.Top.Width)
		radius := sharp.Top.Width/2 + wall - (c+in)/3
		want := c * c / (1 + tan) / 2 * (straight + 2*math.Pi*radius)
		if got := whole.Volume() - m.Volume(); math.Abs(got-want) > 2*tol/c*want {
			t.Errorf("draft %g: the chamfer takes %.4f mm3, want %.4f", draft, got, want)
		}
		a, b := whole.Bounds(), m.Bounds()
		if got := (a.Size().X - b.Size().X) / 2; math.Abs(got-in) > 0.003 {
			t.Errorf("draft %g: the foot is drawn in by %.4f mm, want %.4f", draft, got, in)
		}
		// The foot is on the file's grid of 0.0001 mm in the plan, and the wall above it is steep.
		if math.Abs(a.Min.Z-b.Min.Z) > 0.001 || a.Max.Z != b.Max.Z {
			t.Errorf("draft %g: from %g to %g mm high, not from %g to %g", draft, b.Min.Z, b.Max.Z, a.Min.Z, a.Max.Z)
		}
	}
}

// TestBedChamferRefused: a chamfer that leaves nothing of the wall.
func TestBedChamferRefused(t *testing.T) {
	s := bucktest.Spec()
	s.Handle.Thickness, s.Handle.Rounding = 6, 1
	s.Plate.Thickness, s.Standoff.Clearance, s.Clip.Clearance, s.Print.BedChamfer = 0.8, 0.1, 0, 0.8
	_, err := pieces.NewStandoff(bucktest.Knife(t, bucktest.Strip(), s))
	var f *measures.Fault
	if !errors.As(err, &f) || f.Key != "print.bed_chamfer" {
		t.Errorf("%v", err)
	}
}

func standoff(t *testing.T, s measures.Spec) *pieces.StandoffPiece {
	t.Helper()
	p, err := pieces.NewStandoff(bucktest.Knife(t, bucktest.Strip(), s))
	if err != nil {
		t.Fatal(err)
	}
	return p
}
