package path_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r2"
)

// curvedPieces are the ramps of a curved knife and what passes, by brute force along rows.
func curvedPieces(t *testing.T, name string) (*pieces.Buck, []*pieces.RampPiece) {
	t.Helper()
	v, plan := bucktest.CurvedKnife(t, name, "")
	k := bucktest.Knife(t, plan, v.Spec)
	b, err := path.Made(k, measures.Plain)
	if err != nil {
		t.Fatal(err)
	}
	return k, b.Ramps
}

// steelAlong reports whether there is steel of the knife from p on, every half millimetre, one way.
func steelAlong(k *pieces.Buck, p, way r2.Vec) bool {
	for a := 0.0; a < 250; a += 0.1 {
		if k.Holds(r2.Add(p, r2.Scale(a, way))) {
			return true
		}
	}
	return false
}

// TestCurvedRamps looks at the ramps of blades that do not run straight: beside the steel there is none of them where
// nothing passes, nor beyond the far side, but for a bead's width; none runs into the drain; each is one body.
func TestCurvedRamps(t *testing.T) {
	for _, name := range bucktest.Curved() {
		t.Run(name, func(t *testing.T) {
			k, ramps := curvedPieces(t, name)
			drain, err := pieces.NewDrain(k)
			if err != nil {
				t.Fatal(err)
			}
			if len(ramps) == 0 {
				t.Fatal("no ramps")
			}
			for _, r := range ramps {
				idle, far, meets := 0, 0, 0
				far1 := r2.Vec{Y: 1}
				if r.Side == "spine" {
					far1.Y = -1
				}
				for x := r.Head.Min.X + 0.25; x < r.Head.Max.X; x += 0.5 {
					for y := r.Head.Min.Y + 0.5; y < r.Head.Max.Y-0.5; y += 0.5 {
						p := r.Blade(r2.Vec{X: x, Y: y})
						if r.BaseAt(p) == pieces.NoBase {
							continue
						}
						if drain.Holds(p) {
							meets++
						}
						if r.BaseAt(p) != pieces.Gap {
							continue
						}
						if !steelAlong(k, p, r2.Vec{X: 1}) {
							idle++
						}
						if r.Side != "face" && !steelAlong(k, p, far1) {
							far++
						}
					}
				}
				if idle+far+meets > 0 {
					t.Errorf("%s ramp: %d places where nothing passes, %d beyond the far side, %d in the drain", r.Side, idle, far, meets)
				}
				m, err := solid.Ramp(r, 0)
				if err != nil {
					t.Fatal(err)
				}
				if _, err := mesh.GateBody(m); err != nil {
					t.Errorf("%s ramp: %v", r.Side, err)
				}
			}
		})
	}
}

// TestCurvedPlain draws the curved knives from plain sheaths, with the ramps trimmed: nothing binds on the blade.
func TestCurvedPlain(t *testing.T) {
	for _, name := range bucktest.Curved() {
		k, ramps := curvedPieces(t, name)
		d, err := pieces.NewDrain(k)
		if err != nil {
			t.Fatal(err)
		}
		s := path.New(path.Buck{Knife: k, Ramps: ramps, Drain: d}, path.Options{Step: 0.25})
		for _, b := range s.Verdict().Binds {
			if b.Side != path.AtHandle {
				t.Errorf("%s: binds at the %s by %.2f mm at (%.1f, %.1f)", name, b.Side, b.Depth, b.At.X, b.At.Y)
			}
		}
	}
}

// TestRampsByFace draws curved knives whose bevel binds where the boss's room is, for every hand: they come out, with a whole
// ramp on the face without a boss. Where the boss's room takes nothing that binds, one ramp serves all faces.
func TestRampsByFace(t *testing.T) {
	for _, name := range []string{"ring", "hawkbill", "sickle"} {
		v, plan := bucktest.CurvedKnife(t, name, "")
		k := bucktest.Knife(t, plan, v.Spec)
		_, ramps, err := k.Ramps()
		if err != nil {
			t.Fatal(err)
		}
		if !ramps.Differ() {
			t.Errorf("%s: one ramp for all faces", name)
		}
		for _, hand := range measures.Hands() {
			b, err := path.Made(k, hand)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range []measures.Face{measures.LeftFace, measures.RightFace} {
				for _, r := range b.On(f) {
					bossed := slices.Contains(measures.Hip.Faces(hand), f)
					if bossed && r.For == pieces.BareFaces || !bossed && r.For == pieces.BossedFaces {
						t.Errorf("%s, %s: the %s face has a ramp for the other kind of face", name, hand, f)
					}
				}
			}
			s := path.New(b, path.Options{Step: 0.25})
			for _, x := range s.Verdict().Binds {
				if x.Side != path.AtHandle {
					t.Errorf("%s, %s: binds %v", name, hand, x)
				}
			}
		}
	}
	for _, name := range bucktest.Demos() {
		v, plan := bucktest.Demo(t, name)
		if _, ramps, err := bucktest.Knife(t, plan, v.Spec).Ramps(); err != nil || ramps.Differ() {
			t.Errorf("%s: its ramps are by face, %v", name, err)
		}
	}
}

// TestArcIsFound: of a blade between two circles about one point, whose mouth lies ahead of the handle, the draw along an arc
// is found that needs no ramp, near that point; a straight one has a shelf.
func TestArcIsFound(t *testing.T) {
	v, plan := bucktest.CurvedKnife(t, "crescent", "[throat]\ndepth = -3\n")
	k := bucktest.Knife(t, plan, v.Spec)
	b, err := path.Made(k, measures.Plain)
	if err != nil {
		t.Fatal(err)
	}
	r := path.NewReport(b, path.Options{Step: 0.3})
	var said string
	for _, w := range r.Warnings() {
		if strings.Contains(w, "beside the blade") {
			said = w
		}
	}
	if !strings.Contains(said, "draws freely without any ramp") {
		t.Fatalf("warns %q", said)
	}
	var x, y float64
	if _, err := fmt.Sscanf(said[strings.Index(said, "about (")+len("about ("):], "%f, %f)", &x, &y); err != nil {
		t.Fatal(err)
	}
	if off := r2.Norm(r2.Sub(r2.Vec{X: x, Y: y}, r2.Vec{X: -3, Y: 140})); off > 25 {
		t.Errorf("the arc found is about (%g, %g)", x, y)
	}
	at := r2.Vec{X: x, Y: y}
	arc := path.New(path.Buck{Knife: k, Drain: b.Drain}, path.Options{Step: 0.2, Centre: &at})
	if left := arc.Verdict().Binds; len(left) > 0 {
		t.Errorf("along it binds %v", left)
	}
	if straight := path.New(path.Buck{Knife: k, Drain: b.Drain}, path.Options{Step: 0.2}); straight.Verdict().Free() {
		t.Error("drawn straight it is free without ramps")
	}
}
