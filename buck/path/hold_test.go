package path_test

import (
	"math"
	"testing"

	"formbuck/buck/path"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol {
		t.Errorf("%s: %g, want %g", what, got, want)
	}
}

// TestOpening checks the beam formulas on a strip 20 mm wide of 50 mm span, opened by 0.25 mm, worked by
// hand: clamped F = 192 E I d / L^3 (beams fixed at both ends, P L^3 / 192 E I, Machinery's Handbook, from memory).
func TestOpening(t *testing.T) {
	m := path.Alloy()
	for _, c := range []struct{ sheet, force, strain float64 }{
		{1.5, 4.97, 0.180}, {2.0, 11.78, 0.240}, {2.4, 20.35, 0.288}, {3.2, 48.23, 0.384},
	} {
		s := path.Strip{Sheet: c.sheet, Span: 50, Along: 20}
		near(t, "force", m.Force(s, 0.25).Clamped, c.force, 0.006)
		near(t, "pinned", m.Force(s, 0.25).Pinned, c.force/4, 0.006)
		near(t, "strain", 100*m.Strain(s, 0.25).Clamped, c.strain, 5e-4)
		near(t, "pinned strain", m.Strain(s, 0.25).Pinned, m.Strain(s, 0.25).Clamped/2, 1e-12)
	}
	near(t, "strain borne once", 100*m.Once(), 2.45, 1e-9)
	near(t, "strain borne often", 100*m.Often(), 1.47, 1e-9)
	slope := math.Tan(20 * math.Pi / 180)
	force := m.Force(path.Strip{Sheet: 2, Span: 50, Along: 20}, 0.25)
	near(t, "pull", m.Draw(force, slope).Clamped, 17.6, 0.06)
	if pull := m.Draw(force, math.Tan(73.4*math.Pi/180)); !math.IsInf(pull.Pinned, 1) {
		t.Errorf("a slope of 73.4 degrees locks by itself at a friction of 0.3, the pull is %g", pull.Pinned)
	}
}

// TestArealRatio: a cylinder as wide as high, from its own disc, 5 (SPE Thermoforming Quarterly 24(4), 2005,
// "The Ubiquitous Draw Ratio"); a pill of 50 by 16 mm, 4 mm high, with no feed and fed from a ring of 10 mm,
// worked by hand.
func TestArealRatio(t *testing.T) {
	near(t, "cylinder", path.ArealRatio(math.Pi/4, math.Pi, 1, 0), 5, 1e-12)
	area, perimeter := math.Pi*64+16*34, 16*math.Pi+2*34
	near(t, "pill, no feed", path.ArealRatio(area, perimeter, 4, 0), 1.635, 5e-4)
	near(t, "pill, 10 mm ring", path.ArealRatio(area, perimeter, 4, 10), 1.211, 5e-4)
}

// TestHead: water stands in a round hole to twice what it does in a slit as wide, which is 14.7, 7.3, 4.9 and
// 3.7 mm for 1 to 4 mm (2 gamma / (rho g w) with 0.072 N/m; worked by hand).
func TestHead(t *testing.T) {
	for d, slit := range map[float64]float64{1: 14.7, 2: 7.3, 3: 4.9, 4: 3.7} {
		near(t, "head", path.Head(d), 2*slit, 0.02*2*slit)
	}
}

// TestTapeRun: the ball's flat contact beside a step of 0.28 mm with a radius of 4 mm: sqrt(0.28 (8 - 0.28)).
func TestTapeRun(t *testing.T) { near(t, "run", path.TapeRun(0.28, 4), 1.470, 5e-4) }
