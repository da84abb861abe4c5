package profile_test

import (
	"errors"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

func plan(t *testing.T, name string, h profile.Hints) *profile.Plan {
	t.Helper()
	p, err := read(t, filepath.Join("../testdata", name), profile.Options{})
	if err != nil {
		t.Fatal(err)
	}
	w, err := p.Plan(h)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// The demo knives come out as they were laid out, whatever the units and the position of their
// drawing: x towards the tip, y towards the spine, the origin on the throat.
func TestDemoKnives(t *testing.T) {
	for _, k := range []struct {
		file             string
		angleDeg         float64
		over             bool
		long, front      float64
		tip, heel, along float64 // x of tip and heel; how much deeper than the heel the belly is
	}{
		{"thistle.dxf", 0, false, 225.013, 2, 107, 17, 4.6},
		{"minnow.dxf", 158, false, 239.55, 3, 134, 11, -0.5},
		{"otter.dxf", 90, true, 234.006, 2.5, 124.5, 17, 0.2},
	} {
		t.Run(k.file, func(t *testing.T) {
			w := plan(t, k.file, profile.Hints{})
			near(t, "angle", w.Frame.AngleDeg, k.angleDeg, 1e-5)
			if w.Frame.TurnedOver != k.over {
				t.Errorf("turned over %v", w.Frame.TurnedOver)
			}
			near(t, "length", w.Tip.X-w.Butt.X, k.long, 2e-3)
			near(t, "handle's front", w.HandleFront, k.front, 1e-3)
			near(t, "tip", w.Tip.X, k.tip, 1e-3)
			near(t, "heel", w.Heel.X, k.heel, 0.1)
			low := w.Edge.Bounds().Min.Y
			if k.along > 0 && w.Heel.Y-low < k.along {
				t.Errorf("belly %.2f mm below the heel, want %.2f", w.Heel.Y-low, k.along)
			}
			checkPlan(t, w)
		})
	}
}

// checkPlan holds what every plan must satisfy.
func checkPlan(t *testing.T, w *profile.Plan) {
	t.Helper()
	if w.Outline.Area() <= 0 || w.Handle.Area() <= 0 {
		t.Errorf("areas %g and %g", w.Outline.Area(), w.Handle.Area())
	}
	for name, l := range map[string]profile.Path{"outline": profile.Path(w.Outline), "handle": profile.Path(w.Handle)} {
		for i := range l {
			if d := r2.Norm(r2.Sub(l[i].B, l[(i+1)%len(l)].A)); d > 1e-9 {
				t.Errorf("%s has a gap of %g after segment %d", name, d, i)
			}
		}
	}
	mid := r2.Scale(0.5, r2.Add(w.ThroatEdge, w.ThroatSpine))
	near(t, "origin", r2.Norm(mid), 0, 1e-9)
	for name, q := range map[string]r2.Vec{"tip": w.Tip, "heel": w.Heel, "butt": w.Butt, "throat, edge": w.ThroatEdge, "throat, spine": w.ThroatSpine} {
		near(t, name+" off the outline", w.Outline.Distance(q), 0, 1e-6)
	}
	for name, p := range map[string]profile.Path{"edge": w.Edge, "spine": w.Spine} {
		for i := range 50 {
			near(t, name+" off the outline", w.Outline.Distance(p.At(float64(i)/49)), 0, 1e-6)
		}
		near(t, name+" end", r2.Norm(r2.Sub(p.End(), w.Tip)), 0, 1e-6)
	}
	near(t, "start of the edge", r2.Norm(r2.Sub(w.Edge.Start(), w.Heel)), 0, 1e-6)
	near(t, "start of the spine", r2.Norm(r2.Sub(w.Spine.Start(), w.ThroatSpine)), 0, 1e-6)
	if w.ThroatSpine.Y <= w.ThroatEdge.Y || w.Spine.At(0.3).Y <= w.Edge.At(0.3).Y || w.Tip.X <= 0 || w.Butt.X >= 0 {
		t.Error("not in the blade's frame")
	}
	back := w.Frame.ToBlade(w.Frame.ToDrawing(w.Tip))
	near(t, "frame there and back", r2.Norm(r2.Sub(back, w.Tip)), 0, 1e-9)
}

// The recurved knife's waist lies at least 3 mm above its belly.
func TestRecurve(t *testing.T) {
	w := plan(t, "otter.dxf", profile.Hints{})
	waist := math.Inf(-1)
	low := r2.Vec{Y: math.Inf(1)}
	for _, q := range w.Edge.Flatten(0.01) {
		if q.X > 60 && q.Y < low.Y {
			low = q
		}
	}
	for _, q := range w.Edge.Flatten(0.01) {
		if q.X < low.X {
			waist = max(waist, q.Y)
		}
	}
	if waist-low.Y < 3 {
		t.Errorf("waist %.2f, belly %.2f", waist, low.Y)
	}
}

// posed is a profile turned, and mirrored when asked, in its own drawing.
func posed(p *profile.Profile, deg float64, mirror bool) *profile.Profile {
	f := profile.Frame{Origin: r2.Vec{X: 12, Y: -7}, AngleDeg: deg, TurnedOver: mirror}
	move := func(in profile.Path) profile.Path {
		out := make(profile.Path, len(in))
		for i, s := range in {
			out[i] = profile.Segment{A: f.ToDrawing(s.A), B: f.ToDrawing(s.B), Bulge: s.Bulge}
			if mirror {
				out[i].Bulge = -s.Bulge
			}
		}
		return out
	}
	loop := func(l profile.Loop) profile.Loop {
		out := profile.Loop(move(profile.Path(l)))
		if mirror {
			out = out.Reversed()
		}
		return out
	}
	q := *p
	q.Outline, q.Holes, q.Marks = loop(p.Outline), nil, nil
	for _, h := range p.Holes {
		q.Holes = append(q.Holes, loop(h))
	}
	for _, m := range p.Marks {
		m.Path = move(m.Path)
		q.Marks = append(q.Marks, m)
	}
	return &q
}

// However a drawing lies, turned by any angle and on either face, the plan is the same.
func TestPlanDoesNotDependOnPosition(t *testing.T) {
	for _, name := range []string{"thistle.dxf", "minnow.dxf", "otter.dxf"} {
		p, err := read(t, filepath.Join("../testdata", name), profile.Options{})
		if err != nil {
			t.Fatal(err)
		}
		want, err := p.Plan(profile.Hints{})
		if err != nil {
			t.Fatal(err)
		}
		for deg := 0.0; deg < 360; deg += 23 {
			for _, mirror := range []bool{false, true} {
				got, err := posed(p, deg, mirror).Plan(profile.Hints{})
				if err != nil {
					t.Fatal(err)
				}
				for k, d := range map[string]r2.Vec{
					"tip": r2.Sub(got.Tip, want.Tip), "heel": r2.Sub(got.Heel, want.Heel), "butt": r2.Sub(got.Butt, want.Butt),
					"centroid": r2.Sub(got.Outline.Centroid(), want.Outline.Centroid()), "handle": r2.Sub(got.Handle.Centroid(), want.Handle.Centroid()),
				} {
					near(t, name+" "+k, r2.Norm(d), 0, 1e-4)
				}
				checkPlan(t, got)
			}
		}
	}
}

// knife is a plain drawing without marks: a handle of 110 by 24, a straight blade with a drop point,
// edge down, tip right.
func knife(marks ...profile.Mark) *profile.Profile {
	pts := []r2.Vec{{X: -110, Y: -12}, {X: 0, Y: -12}, {X: 80, Y: -12}, {X: 110, Y: 4}, {X: 70, Y: 12}, {X: -110, Y: 12}}
	l := make(profile.Loop, len(pts))
	for i := range pts {
		l[i] = profile.Segment{A: pts[i], B: pts[(i+1)%len(pts)]}
	}
	return &profile.Profile{File: "knife.dxf", Outline: l, Marks: marks}
}

func straight(k profile.MarkKind, ax, ay, bx, by float64) profile.Mark {
	return profile.Mark{Kind: k, Layer: strings.ToUpper(string(k)), Path: profile.Path{{A: r2.Vec{X: ax, Y: ay}, B: r2.Vec{X: bx, Y: by}}}}
}

func deg(d float64) *float64 { return &d }

func TestHintsOverrule(t *testing.T) {
	w, err := knife().Plan(profile.Hints{HandleFront: 110, Plunge: 108, ThroatDepth: 3, TipDeg: deg(0), EdgeDeg: deg(-90)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "front", w.HandleFront, 3, 1e-9)
	near(t, "tip", w.Tip.X, 113, 1e-9)
	near(t, "handle", w.Handle.Area(), 110*24, 1e-6)
	if len(w.Warnings) != 0 || w.Frame.TurnedOver {
		t.Errorf("%v, %+v", w.Warnings, w.Frame)
	}
	w, err = knife().Plan(profile.Hints{HandleFront: 110, Plunge: 108, TipDeg: deg(0), EdgeDeg: deg(90)})
	if err != nil || !w.Frame.TurnedOver {
		t.Errorf("edge above: %v", err)
	}
	w, err = knife().Plan(profile.Hints{HandleFront: 100, Plunge: 98, TipDeg: deg(180), EdgeDeg: deg(-90)})
	if err != nil || math.Abs(w.Tip.X-100) > 1e-9 {
		t.Errorf("tip to the left: %v", err)
	}
}

func TestMarksDecide(t *testing.T) {
	w, err := knife(straight(profile.Tip, -111, 0, -115, 0), straight(profile.Edge, -50, 13, -10, 13), straight(profile.Handle, 20, -20, 20, 20)).Plan(profile.Hints{Plunge: 120})
	if err != nil {
		t.Fatal(err)
	}
	// the tip is at the left end now and the edge above: turned by 180 deg the edge lies below
	near(t, "angle", math.Abs(w.Frame.AngleDeg), 180, 1e-9)
	near(t, "tip from the front", w.Tip.X-w.HandleFront, 130, 1e-6)
	if w.Frame.TurnedOver {
		t.Error("turned over")
	}
}

func TestPlanFaults(t *testing.T) {
	for name, c := range map[string]struct {
		p    *profile.Profile
		h    profile.Hints
		want dxf.Class
	}{
		"no outline":         {&profile.Profile{}, profile.Hints{}, dxf.NoOutline},
		"front beyond knife": {knife(), profile.Hints{HandleFront: 400}, dxf.OutOfRange},
		"throat along":       {knife(straight(profile.Throat, -50, 0, 50, 1)), profile.Hints{HandleFront: 110}, dxf.BadMark},
		"throat beside":      {knife(straight(profile.Throat, 200, -20, 200, 20)), profile.Hints{HandleFront: 110}, dxf.BadMark},
		"throat off":         {knife(), profile.Hints{HandleFront: 110, ThroatDepth: 300}, dxf.OutOfRange},
	} {
		t.Run(name, func(t *testing.T) {
			w, err := c.p.Plan(c.h)
			var f *dxf.Fault
			if w != nil || !errors.As(err, &f) || f.Class != c.want {
				t.Errorf("got %v, want %s", err, c.want)
			}
		})
	}
}

// Without any mark the outlines of two demo knives tell by a deep notch which way round they lie, and by a corner where the edge
// begins, once it is stated where the handle begins; that is asked for, with what the notch says. The third does not tell.
func TestBareOutlines(t *testing.T) {
	for name, hint := range map[string]string{"thistle.dxf": "109.7 mm", "otter.dxf": "", "minnow.dxf": ""} {
		p, err := read(t, filepath.Join("../testdata", name), profile.Options{})
		if err != nil {
			t.Fatal(err)
		}
		want, err := p.Plan(profile.Hints{})
		if err != nil {
			t.Fatal(err)
		}
		bare := *p
		bare.Marks = nil
		_, err = bare.Plan(profile.Hints{ThroatDepth: 2})
		var f *dxf.Fault
		if !errors.As(err, &f) || f.Class != dxf.Unsettled || !strings.Contains(err.Error(), "handle.front") || !strings.Contains(err.Error(), hint) {
			t.Errorf("%s: want handle.front asked for with %q, got %v", name, hint, err)
		}
		got, err := bare.Plan(profile.Hints{ThroatDepth: 2, HandleFront: want.Tip.X - want.HandleFront})
		if name == "minnow.dxf" {
			if !errors.As(err, &f) || f.Class != dxf.Unsettled {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if err != nil {
			t.Error(err)
			continue
		}
		checkPlan(t, got)
		if got.Frame.TurnedOver != want.Frame.TurnedOver {
			t.Errorf("%s: edge on the wrong side (%s)", name, got.Frame.Edge)
		}
		near(t, name+": direction", math.Abs(math.Remainder(got.Frame.AngleDeg-want.Frame.AngleDeg, 360)), 0, 1)
		near(t, name+": heel from the tip", got.Tip.X-got.Heel.X, want.Tip.X-want.Heel.X, 0.5)
		if len(got.Warnings) == 0 {
			t.Errorf("%s: no warning", name)
		}
	}
}

// A tang alone, with a square end and more slender than the end of a blunt blade, is not taken for the tip in silence.
func TestSquareEndIsAsked(t *testing.T) {
	l := loop(r2.Vec{X: -100, Y: -3}, r2.Vec{X: 0, Y: -3}, r2.Vec{X: 0, Y: -14}, r2.Vec{X: 115, Y: -14}, r2.Vec{X: 114, Y: 4},
		r2.Vec{X: 104, Y: 14}, r2.Vec{X: 0, Y: 14}, r2.Vec{X: 0, Y: 3}, r2.Vec{X: -100, Y: 3})
	p := &profile.Profile{File: "tang.dxf", Outline: l}
	h := profile.Hints{HandleFront: 115, Plunge: 105, EdgeDeg: deg(-90)}
	var f *dxf.Fault
	if _, err := p.Plan(h); !errors.As(err, &f) || f.Class != dxf.Unsettled || !strings.Contains(f.What, "drawing.tip") {
		t.Errorf("want the tip asked for, got %v", err)
	}
	p.Marks = []profile.Mark{straight(profile.Grind, 8, -8, 112, -4)}
	if w, err := p.Plan(h); err != nil || w.Frame.AngleDeg != 0 {
		t.Errorf("the grind line tells: %v", err)
	}
}

// A narrow tang with a square end is not taken for the tip.
func TestNarrowTang(t *testing.T) {
	pts := []r2.Vec{{X: -100, Y: -4}, {X: 0, Y: -4}, {X: 0, Y: -14}, {X: 90, Y: -14}, {X: 115, Y: 2}, {X: 80, Y: 14}, {X: 0, Y: 14}, {X: 0, Y: 4}, {X: -100, Y: 4}}
	l := make(profile.Loop, len(pts))
	for i := range pts {
		l[i] = profile.Segment{A: pts[i], B: pts[(i+1)%len(pts)]}
	}
	w, err := posed(&profile.Profile{File: "tang.dxf", Outline: l}, 180, false).Plan(profile.Hints{HandleFront: 110, Plunge: 105, EdgeDeg: deg(90)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "tip", w.Tip.X-w.Butt.X, 215, 1e-6)
	near(t, "angle", math.Abs(w.Frame.AngleDeg), 180, 1e-9)
	checkPlan(t, w)
}
