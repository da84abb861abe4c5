package profile_test

import (
	"math"
	"testing"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// A traced outline has more points than anything that is made of it can follow: the plan takes those
// that count, and lies within a micrometre of all.
func TestTracedOutline(t *testing.T) {
	p, err := readAll([]byte(bigPolyline(100_000)))
	if err != nil {
		t.Fatal(err)
	}
	tip, edge := 0.0, -90.0
	plan, err := p.Plan(profile.Hints{TipDeg: &tip, EdgeDeg: &edge, HandleFront: 100, Plunge: 90})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(plan.Outline); n > 2000 || n < 100 {
		t.Errorf("the plan's outline has %d segments", n)
	}
	// The ellipse of half axes 110 and 20 about the drawing's origin: the area of a polygon of
	// chords within a micrometre misses it by less than its perimeter times that.
	near(t, "area", plan.Outline.Area(), 110*20*math.Pi, 0.001*2*math.Pi*110)
	around := profile.NewNear(profile.Path(plan.Outline))
	for i := range 997 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 997)
		q := plan.Frame.ToBlade(r2.Vec{X: 110 * cos, Y: 20 * sin})
		if _, d := around.Nearest(q); d > 2*profile.CurveTolerance {
			t.Fatalf("the plan lies %.5f mm off at %v", d, q)
		}
	}
}
