package pieces_test

import (
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

func TestParseHoles(t *testing.T) {
	holes, err := measures.ParseHoles("snap 40 -2.5 6.35; loop2 60 1 5 left")
	want := []measures.NamedHole{
		{Name: "snap", At: r2.Vec{X: 40, Y: -2.5}, Diameter: 6.35, Face: measures.RightFace},
		{Name: "loop2", At: r2.Vec{X: 60, Y: 1}, Diameter: 5, Face: measures.LeftFace},
	}
	if err != nil || len(holes) != 2 || holes[0] != want[0] || holes[1] != want[1] {
		t.Errorf("%v, %v", holes, err)
	}
	for text, says := range map[string]string{
		";":                           "is not a name",
		"snap 40 2":                   "is not a name",
		"snap 40 2 6 left high":       "is not a name",
		"Snap 40 2 6":                 "is no name of a hole",
		"snap x 2 6":                  `"x" is no length`,
		"snap NaN 2 6":                "is no length",
		"snap 40 2 0":                 "is not between",
		"snap 40 2 6 up":              "neither right nor left",
		"snap 40 2 6; snap 50 2 6":    "two holes are named",
		strings.Repeat("a 1 1 1;", 2): "two holes",
	} {
		if _, err := measures.ParseHoles(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", text, err)
		}
	}
}

// A nub for a hole is as wide as the hole less the margin, and stands on the blade with the glue under it.
func TestHoleNub(t *testing.T) {
	k := bucktest.Knife(t, bucktest.Strip(), bucktest.Spec())
	n, err := pieces.NewHoleNub(k, measures.NamedHole{Name: "snap", At: r2.Vec{X: 40, Y: 20}, Diameter: 5})
	if err != nil {
		t.Fatal(err)
	}
	if n.Base != 4 || math.Abs(n.BaseZ-1.7) > 1e-9 {
		t.Errorf("base %g mm at %g mm, want 4 at 1.7", n.Base, n.BaseZ)
	}
	for _, h := range []measures.NamedHole{
		{Name: "beside", At: r2.Vec{X: 40, Y: 90}, Diameter: 5},
		{Name: "small", At: r2.Vec{X: 40, Y: 20}, Diameter: 1},
	} {
		if _, err := pieces.NewHoleNub(k, h); err == nil || !strings.Contains(err.Error(), h.Name) {
			t.Errorf("%s: %v", h.Name, err)
		}
	}
}
