package twin_test

import (
	"math"
	"testing"

	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/buck/pieces"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// locator is the knife's locator without its text.
func locator(t testing.TB, k *pieces.Buck) *pieces.LocatorPiece {
	t.Helper()
	s, err := pieces.NewStandoff(k)
	if err != nil {
		t.Fatal(err)
	}
	d, err := pieces.NewDrain(k)
	if err != nil {
		t.Fatal(err)
	}
	parts, err := pieces.NewLocators([]*pieces.StandoffPiece{s}, ramps(t, k), d)
	if err != nil {
		t.Fatal(err)
	}
	return parts[0]
}

// The locator's mesh and its twin agree. An engraved square lessens the volume by exactly its area times its
// depth.
func TestLocatorAgainstItsTwin(t *testing.T) {
	size.Long(t)
	for name, k := range everyKnife(t) {
		t.Run(name, func(t *testing.T) {
			if !size.Full() && name != "hunter" {
				t.Skip("in full")
			}
			l := locator(t, k)
			m, err := solid.Locator(l, 0)
			if err != nil {
				t.Fatal(err)
			}
			body, err := twin.Locator(l)
			if err != nil {
				t.Fatal(err)
			}
			d, err := twin.Measure(m, body, twin.Options{Step: 2})
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%d triangles, %.1f mm3, from mesh %.5f at %.3f, from twin %.5f at %.3f", len(m.Triangles), m.Volume(), d.FromMesh.Distance, d.FromMesh.At, d.FromTwin.Distance, d.FromTwin.At)
			if !(d.FromMesh.Distance <= solid.Tolerance) || !(d.FromTwin.Distance <= solid.Tolerance) {
				t.Errorf("%.5f and %.5f mm from its twin", d.FromMesh.Distance, d.FromTwin.Distance)
			}
			at, ok := l.Room(r2.Vec{X: 4, Y: 4}, 1)
			if !ok {
				t.Fatal("no room for a square of 4 mm")
			}
			square := []r2.Vec{{X: -2, Y: -2}, {X: 2, Y: -2}, {X: 2, Y: 2}, {X: -2, Y: 2}}
			for i := range square {
				square[i] = r2.Add(at, square[i])
			}
			l.Engrave([][]r2.Vec{square}, 0.4)
			cut, err := solid.Locator(l, 0)
			if err != nil {
				t.Fatal(err)
			}
			if less := m.Volume() - cut.Volume(); math.Abs(less-16*0.4) > 1e-3 {
				t.Errorf("the square takes %.5f mm3, want 6.4", less)
			}
		})
	}
}
