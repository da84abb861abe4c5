package relief_test

import (
	"math"
	"testing"

	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// A cone bends one way only: its faces may be long and narrow, and it takes few more than its widest ring has chords, of
// an angle of 2 acos(1 - tol sqrt(2) / radius) each at this slope. Faces as round as can be are ten times as many.
func TestConeTakesFewFaces(t *testing.T) {
	const (
		tol   = 0.01
		slope = 1.0 // tangent
	)
	cone := func(p r2.Vec) float64 { return 30 - slope*r2.Norm(p) }
	m := build(t, relief.Body{Lines: []relief.Line{box(4, -8, 20, 8)}, Spans: func(p r2.Vec) []relief.Span {
		if !inBox(p, 4, -8, 20, 8) {
			return nil
		}
		return block(flat(0), cone)
	}}, tol)
	up, _ := facing(m)
	chords := 2 * math.Atan(8./4) / (2 * math.Acos(1-tol*math.Sqrt2/math.Hypot(20, 8)))
	t.Logf("%d faces for %.0f chords", up, chords)
	if float64(up) > 4*chords {
		t.Errorf("%d faces for %.0f chords", up, chords)
	}
	worst, asked := 0.0, 0
	for x := 4.05; x < 20; x += 0.31 {
		for y := -7.95; y < 8; y += 0.31 {
			p := r2.Vec{X: x, Y: y}
			z, ok := lidOver(m, p)
			if !ok {
				continue // on a side of a face
			}
			asked++
			worst = max(worst, math.Abs(z-cone(p))/math.Hypot(1, slope))
		}
	}
	if !(worst <= tol) || asked < 2000 {
		t.Errorf("%.5f mm off at %d places", worst, asked)
	}
}
