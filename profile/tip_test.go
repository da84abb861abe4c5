package profile_test

import (
	"cmp"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

// curve is n points, without the last, on a cubic Bezier curve.
func curve(n int, a, b, c, d r2.Vec) []r2.Vec {
	out := make([]r2.Vec, n)
	for i := range out {
		t := float64(i) / float64(n)
		for k, p := range []r2.Vec{a, b, c, d} {
			f := []float64{1, 3, 3, 1}[k] * math.Pow(t, float64(k)) * math.Pow(1-t, float64(3-k))
			out[i] = r2.Add(out[i], r2.Scale(f, p))
		}
	}
	return out
}

// beak is a hawkbill knife, traced with 4n points: the tip, at (92, -24), lies behind the furthest point of its round back.
func beak(n int) []r2.Vec {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	return slices.Concat(
		curve(n, v(-110, -11), v(-60, -14), v(-30, -11), v(12, -11)),
		curve(n, v(12, -13), v(50, -14), v(80, -10), v(92, -24)),
		curve(n, v(92, -24), v(112, -6), v(100, 12), v(60, 12)),
		curve(n, v(60, 12), v(0, 13), v(-60, 14), v(-110, 12)),
	)
}

// roughened is points, each moved by up to so many mm.
func roughened(pts []r2.Vec, by float64) []r2.Vec {
	rng := rand.New(rand.NewPCG(5, 6))
	out := slices.Clone(pts)
	for i := range out {
		out[i].X += by * (2*rng.Float64() - 1)
		out[i].Y += by * (2*rng.Float64() - 1)
	}
	return out
}

// The tip of a blade that bends down before its end is its corner, not its furthest point, however densely and roughly it
// was traced.
func TestBeak(t *testing.T) {
	for _, c := range []struct {
		n     int
		rough float64
	}{{20, 0}, {100, 0}, {2500, 0}, {2500, 0.003}, {2500, 0.01}} {
		pts := roughened(beak(c.n), c.rough)
		p := &profile.Profile{File: "beak.dxf", Outline: loop(pts...)}
		far := slices.MaxFunc(pts, func(a, b r2.Vec) int { return cmp.Compare(a.X, b.X) }).X
		for _, deg := range []float64{0, 143} {
			tip, edge := deg, deg-90
			w, err := posed(p, deg, false).Plan(profile.Hints{HandleFront: 92, Plunge: 80, TipDeg: &tip, EdgeDeg: &edge})
			if err != nil {
				t.Fatal(err)
			}
			near(t, "behind the furthest point", w.Outline.Bounds().Max.X-w.Tip.X, far-92, 0.05)
			near(t, "length", w.Tip.X-w.Butt.X, 202, 0.1)
			if !strings.Contains(w.Frame.Tip, "the corner 9.5 mm behind") {
				t.Errorf("it is not said: %s", w.Frame.Tip)
			}
			near(t, "edge ends at the tip", r2.Norm(r2.Sub(w.Edge.End(), w.Tip)), 0, 1e-9)
			near(t, "spine ends at the tip", r2.Norm(r2.Sub(w.Spine.End(), w.Tip)), 0, 1e-9)
		}
	}
}

// A round end with two corners behind it is asked for; a mark tells which it is.
func TestTwoBeaks(t *testing.T) {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	pts := slices.Concat([]r2.Vec{v(-110, -12), v(80, -12), v(92, -22)}, curve(40, v(94, -12), v(112, -8), v(112, 8), v(94, 12)),
		[]r2.Vec{v(92, 22), v(80, 12), v(-110, 12)})
	p := &profile.Profile{File: "two.dxf", Outline: loop(pts...)}
	h := profile.Hints{HandleFront: 110, Plunge: 95, TipDeg: deg(0), EdgeDeg: deg(-90)}
	_, err := p.Plan(h)
	var f *dxf.Fault
	if !errors.As(err, &f) || f.Class != dxf.Unsettled || !strings.Contains(f.What, "TIP") {
		t.Errorf("want the tip asked for, got %v", err)
	}
	p.Marks = []profile.Mark{straight(profile.Tip, 107, 0, 112, 0)}
	if w, err := p.Plan(h); err != nil || w.Outline.Bounds().Max.X-w.Tip.X > 0.5 {
		t.Errorf("marked: %v", err)
	}
}

// A trace of a pointed blade that is rough by 0.02 mm, at points 0.03 mm apart, has its tip within 0.3 mm of where it was, and a
// round end is its own tip.
func TestRoughTip(t *testing.T) {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	for _, tip := range []float64{4, 10} {
		pts := slices.Concat(curve(2000, v(-110, -12), v(-40, -13), v(30, -12), v(60, -12)), curve(2000, v(60, -12), v(85, -12), v(100, -6), v(110, tip)),
			curve(2000, v(110, tip), v(90, 12), v(30, 12), v(-110, 12)))
		w, err := (&profile.Profile{File: "rough.dxf", Outline: loop(roughened(pts, 0.02)...)}).Plan(
			profile.Hints{HandleFront: 110, Plunge: 95, TipDeg: deg(0), EdgeDeg: deg(-90)})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "tip from the furthest point", w.Outline.Bounds().Max.X-w.Tip.X, 0, 0.3)
		near(t, "length", w.Tip.X-w.Butt.X, 220, 0.3)
	}
	round := slices.Concat([]r2.Vec{v(-110, -12)}, curve(400, v(90, -12), v(114, -12), v(114, 12), v(90, 12)), []r2.Vec{v(-110, 12)})
	w, err := (&profile.Profile{File: "round.dxf", Outline: loop(round...)}).Plan(
		profile.Hints{HandleFront: 110, Plunge: 95, TipDeg: deg(0), EdgeDeg: deg(-90)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "round end", w.Tip.Y-(w.Outline.Bounds().Max.Y+w.Outline.Bounds().Min.Y)/2, 0, 0.1)
}
