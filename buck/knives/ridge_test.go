package knives_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/knives"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestRidgeLines looks at the ridge from a corner of the grind line: it runs along the middle of the corner, to the
// edge, and the bevel's slope jumps across it.
func TestRidgeLines(t *testing.T) {
	plan := bucktest.Strip()
	plan.Grind = profile.Path{
		{A: r2.Vec{X: 0, Y: 0}, B: r2.Vec{X: 20, Y: 16}}, {A: r2.Vec{X: 20, Y: 16}, B: r2.Vec{X: 100, Y: 16}},
	}
	k := bucktest.Knife(t, plan, bucktest.Spec())
	lines := k.RidgeLines()
	if len(lines) != 1 {
		t.Fatalf("%d ridges", len(lines))
	}
	middle := (math.Atan2(-16, -20) + 0) / 2 // between the way back and the way on
	along := r2.Vec{X: math.Cos(middle), Y: math.Sin(middle)}
	for _, p := range lines[0] {
		if off := math.Abs(r2.Cross(along, r2.Sub(p, r2.Vec{X: 20, Y: 16}))); off > 1e-3 {
			t.Errorf("(%.3f, %.3f) is %.4f mm off the middle of the corner", p.X, p.Y, off)
		}
	}
	if end := lines[0][len(lines[0])-1]; end.Y > 1 {
		t.Errorf("the ridge ends at (%.3f, %.3f), not at the edge", end.X, end.Y)
	}
	at := lines[0][len(lines[0])/2]
	across := r2.Vec{X: -along.Y, Y: along.X}
	half := func(d float64) float64 { return k.HalfOn(knives.OnBevel, r2.Add(at, r2.Scale(d, across))) }
	const d = 0.01
	left, right := (half(-d)-half(-2*d))/d, (half(2*d)-half(d))/d
	if math.Abs(left-right) < 0.02 {
		t.Errorf("the bevel's slope is %.4f before the ridge and %.4f behind", left, right)
	}
}

// TestRidgeOfEdge looks at the ridge from a corner of the edge: it runs up to the grind line, wherever the corner is and however
// the edge turns there.
func TestRidgeOfEdge(t *testing.T) {
	for _, c := range []r2.Vec{{X: 30, Y: 0}, {X: 60, Y: 0}, {X: 80, Y: 1}} {
		for _, tip := range []float64{4, 8, 12} {
			plan := bucktest.Strip()
			corner, end := c, r2.Vec{X: 100, Y: tip}
			from := plan.Edge.Start()
			plan.Edge = profile.Path{{A: from, B: corner}, {A: corner, B: end}}
			plan.Outline = profile.Loop{
				{A: from, B: corner},
				{A: corner, B: end},
				{A: end, B: r2.Vec{X: 100, Y: 24}},
				{A: r2.Vec{X: 100, Y: 24}, B: r2.Vec{X: 0, Y: 24}},
				{A: r2.Vec{X: 0, Y: 24}, B: from},
			}
			lines := bucktest.Knife(t, plan, bucktest.Spec()).RidgeLines()
			if len(lines) != 1 {
				t.Fatalf("corner at %v, tip at %g: %d ridges", c, tip, len(lines))
			}
			if end := lines[0][len(lines[0])-1]; end.Y < 14 {
				t.Errorf("corner at %v, tip at %g: the ridge ends at (%.3f, %.3f), not at the grind line", c, tip, end.X, end.Y)
			}
		}
	}
}

// TestNoRidge tells that a bevel between smooth lines has no ridge.
func TestNoRidge(t *testing.T) {
	if lines := bucktest.Knife(t, bucktest.Strip(), bucktest.Spec()).RidgeLines(); len(lines) > 0 {
		t.Errorf("%d ridges", len(lines))
	}
}
