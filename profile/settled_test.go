package profile_test

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

// A guess that places a piece is refused, each with the layer and the key that settle it, all at once.
func TestGuessesAreRefused(t *testing.T) {
	_, err := knife().Plan(profile.Hints{})
	var faults dxf.Faults
	if !errors.As(err, &faults) || len(faults) != 3 {
		t.Fatalf("want edge, handle and plunge refused, got %v", err)
	}
	for i, settles := range [][]string{
		{"EDGE", "GRIND", "drawing.edge"}, {"HANDLE", "handle.front", "handle.drawn"}, {"GRIND", "blade.plunge"},
	} {
		for _, word := range settles {
			if faults[i].Class != dxf.Unsettled || !strings.Contains(faults[i].What, word) {
				t.Errorf("%v does not name %s", faults[i], word)
			}
		}
	}
}

// An outline that is the same from either end and on either side tells neither tip nor edge.
func TestSymmetricIsRefused(t *testing.T) {
	l := loop(r2.Vec{X: -110, Y: 0}, r2.Vec{X: -60, Y: -12}, r2.Vec{X: 60, Y: -12}, r2.Vec{X: 110, Y: 0}, r2.Vec{X: 60, Y: 12}, r2.Vec{X: -60, Y: 12})
	p := &profile.Profile{File: "lens.dxf", Outline: l}
	_, err := p.Plan(profile.Hints{HandleFront: 110, Plunge: 100})
	for _, key := range []string{"drawing.tip", "drawing.edge"} {
		if err == nil || !strings.Contains(err.Error(), key) {
			t.Errorf("want %s named, got %v", key, err)
		}
	}
	if _, err := p.Plan(profile.Hints{HandleFront: 110, Plunge: 100, TipDeg: deg(0), EdgeDeg: deg(-90)}); err != nil {
		t.Errorf("stated: %v", err)
	}
}

// loop is the closed row of lines through points.
func loop(pts ...r2.Vec) profile.Loop {
	l := make(profile.Loop, len(pts))
	for i := range pts {
		l[i] = profile.Segment{A: pts[i], B: pts[(i+1)%len(pts)]}
	}
	return l
}

// The heel of a blade whose grind line is not drawn is where the plunge is stated to be, or the corner of a choil.
func TestPlunge(t *testing.T) {
	w, err := knife().Plan(profile.Hints{HandleFront: 110, Plunge: 95, TipDeg: deg(0), EdgeDeg: deg(-90)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "stated", w.Tip.X-w.Heel.X, 95, 1e-9)
	near(t, "edge begins", w.Edge.Start().X-w.Heel.X, 0, 1e-9)
	for name, grind := range map[string]float64{"thistle.dxf": 90, "otter.dxf": 107.5} {
		p, err := read(t, filepath.Join("../testdata", name), profile.Options{})
		if err != nil {
			t.Fatal(err)
		}
		p.Marks = slices.DeleteFunc(p.Marks, func(m profile.Mark) bool { return m.Kind == profile.Grind })
		w, err := p.Plan(profile.Hints{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+": heel from the tip", w.Tip.X-w.Heel.X, grind, 0.5)
		if !strings.Contains(w.Frame.Heel, "no grind line is drawn") {
			t.Errorf("%s: %s", name, w.Frame.Heel)
		}
	}
}

// A step at the handle's front is its shoulder and may not be where the bevel begins: that is asked for, with the step's place.
// One further ahead is the heel.
func TestShoulderIsNoHeel(t *testing.T) {
	for ahead, asked := range map[float64]bool{0.5: true, 2: true, 3: false, 12: false} {
		l := loop(r2.Vec{X: -110, Y: -12}, r2.Vec{X: 0, Y: -12}, r2.Vec{X: ahead, Y: -11}, r2.Vec{X: ahead, Y: -16},
			r2.Vec{X: 90, Y: -16}, r2.Vec{X: 110, Y: 4}, r2.Vec{X: 70, Y: 12}, r2.Vec{X: -110, Y: 12})
		w, err := (&profile.Profile{File: "step.dxf", Outline: l}).Plan(profile.Hints{HandleFront: 110, TipDeg: deg(0), EdgeDeg: deg(-90)})
		hint := fmt.Sprintf("blade.plunge = \"%.4g mm\"", 110-ahead)
		switch {
		case asked && (err == nil || !strings.Contains(err.Error(), hint)):
			t.Errorf("%g mm ahead: want %s, got %v", ahead, hint, err)
		case !asked && err != nil:
			t.Errorf("%g mm ahead: %v", ahead, err)
		case !asked:
			near(t, "heel from the tip", w.Tip.X-w.Heel.X, 110-ahead, 1e-9)
		}
	}
}

// The step ahead of a handle that is drawn as a loop is looked for ahead of all of the loop, however its front slants.
func TestHeelAheadOfSlantedFront(t *testing.T) {
	l := loop(r2.Vec{X: -110, Y: -12}, r2.Vec{X: -36, Y: -12}, r2.Vec{X: -36, Y: -16}, r2.Vec{X: -20, Y: -16}, r2.Vec{X: -20, Y: -9}, r2.Vec{X: 12, Y: -9}, r2.Vec{X: 12, Y: -14},
		r2.Vec{X: 90, Y: -14}, r2.Vec{X: 110, Y: 4}, r2.Vec{X: 70, Y: 12}, r2.Vec{X: -110, Y: 12})
	handle := loop(r2.Vec{X: -110, Y: -12}, r2.Vec{X: -60, Y: -12}, r2.Vec{X: 0, Y: -8}, r2.Vec{X: 0, Y: 12}, r2.Vec{X: -110, Y: 12})
	p := &profile.Profile{File: "slant.dxf", Outline: l, Marks: []profile.Mark{{Kind: profile.Handle, Layer: "HANDLE", Path: profile.Path(handle)}}}
	w, err := p.Plan(profile.Hints{TipDeg: deg(0), EdgeDeg: deg(-90), ThroatDepth: 38})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "heel from the tip", w.Tip.X-w.Heel.X, 98, 1e-9)
}

// A shallow notch, as a groove for a finger is, does not tell on which side the edge is; a deep one does.
func TestNotchTellsTheEdge(t *testing.T) {
	for deep, asked := range map[float64]bool{1.5: true, 2.9: true, 4: false} {
		l := loop(r2.Vec{X: -110, Y: -12}, r2.Vec{X: -10, Y: -12}, r2.Vec{X: -5, Y: -12 + deep}, r2.Vec{X: 5, Y: -12 + deep}, r2.Vec{X: 10, Y: -12},
			r2.Vec{X: 90, Y: -12}, r2.Vec{X: 110, Y: 0}, r2.Vec{X: 90, Y: 12}, r2.Vec{X: -110, Y: 12})
		_, err := (&profile.Profile{File: "notch.dxf", Outline: l}).Plan(profile.Hints{HandleFront: 110, Plunge: 95, TipDeg: deg(0)})
		if (err != nil && strings.Contains(err.Error(), "drawing.edge")) != asked {
			t.Errorf("%g mm deep: %v", deep, err)
		}
	}
}

// What juts out ahead of the handle and goes back again is a guard, not the heel.
func TestGuardIsNoHeel(t *testing.T) {
	l := loop(r2.Vec{X: -110, Y: -12}, r2.Vec{X: 2, Y: -12}, r2.Vec{X: 2, Y: -20}, r2.Vec{X: 7, Y: -20}, r2.Vec{X: 7, Y: -10},
		r2.Vec{X: 90, Y: -10}, r2.Vec{X: 110, Y: 4}, r2.Vec{X: 70, Y: 12}, r2.Vec{X: -110, Y: 12})
	_, err := (&profile.Profile{File: "guard.dxf", Outline: l}).Plan(profile.Hints{HandleFront: 110, TipDeg: deg(0), EdgeDeg: deg(-90)})
	if err == nil || !strings.Contains(err.Error(), "blade.plunge") {
		t.Errorf("want the plunge asked for, got %v", err)
	}
}

// A handle that is not drawn begins where the outline ends, or where it is stated, and has no region of the plan.
func TestBladeAlone(t *testing.T) {
	l := loop(r2.Vec{X: 0, Y: -12}, r2.Vec{X: 80, Y: -12}, r2.Vec{X: 110, Y: 4}, r2.Vec{X: 70, Y: 12}, r2.Vec{X: 0, Y: 12})
	p := &profile.Profile{File: "blade.dxf", Outline: l}
	h := profile.Hints{NoHandle: true, Plunge: 95, ThroatDepth: -2, TipDeg: deg(0), EdgeDeg: deg(-90)}
	w, err := p.Plan(h)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "front from the tip", w.Tip.X-w.HandleFront, 110, 1e-9)
	near(t, "mouth from the front", -w.HandleFront, 2, 1e-9)
	if w.Handle != nil {
		t.Error("a handle that is not drawn has a region")
	}
	h.ThroatDepth = 10
	if _, err = p.Plan(h); err == nil || !strings.Contains(err.Error(), "throat.depth") {
		t.Errorf("a mouth off the outline: %v", err)
	}
	p.Marks = []profile.Mark{straight(profile.Handle, 5, -20, 5, 20)}
	if _, err = p.Plan(h); err == nil || !strings.Contains(err.Error(), "handle.drawn") {
		t.Errorf("drawn and said not to be: %v", err)
	}
}

// Of a blade with two edges the second runs on the other side, from its own heel to the tip, and two grind lines that end short of
// the tip are carried on to it; the sides need not be told apart.
func TestTwoEdges(t *testing.T) {
	l := loop(r2.Vec{X: -110, Y: -9}, r2.Vec{X: 0, Y: -9}, r2.Vec{X: 10, Y: -12}, r2.Vec{X: 80, Y: -12}, r2.Vec{X: 120, Y: 0},
		r2.Vec{X: 80, Y: 12}, r2.Vec{X: 20, Y: 12}, r2.Vec{X: 0, Y: 9}, r2.Vec{X: -110, Y: 9})
	p := &profile.Profile{File: "dagger.dxf", Outline: l, Marks: []profile.Mark{
		straight(profile.Grind, 110, 1, 20, 3), straight(profile.Grind, 12, -3, 110, -1),
	}}
	for name, h := range map[string]profile.Hints{
		"drawn": {HandleFront: 120, Edges: 2}, "by width": {HandleFront: 120, Edges: 2, Plunge: 105},
	} {
		t.Run(name, func(t *testing.T) {
			q := *p
			if h.Plunge > 0 {
				q.Marks = nil
			}
			w, err := q.Plan(h)
			if err != nil {
				t.Fatal(err)
			}
			checkPlan(t, w)
			for _, e := range []profile.Path{w.Edge, w.Back} {
				near(t, "edge ends at the tip", r2.Norm(r2.Sub(e.End(), w.Tip)), 0, 1e-9)
				near(t, "edge on the outline", w.Outline.Distance(e.At(0.4)), 0, 1e-9)
			}
			if w.Edge.At(0.3).Y >= 0 || w.Back.At(0.3).Y <= 0 {
				t.Error("the edges are not on either side")
			}
			if h.Plunge > 0 {
				near(t, "second heel", w.Tip.X-w.Back.Start().X, 105, 1e-9)
				return
			}
			near(t, "second heel", w.Tip.X-w.Back.Start().X, 100, 1e-9)
			for _, g := range []profile.Path{w.Grind, w.GrindBack} {
				near(t, "grind line to the tip", r2.Norm(r2.Sub(g.End(), w.Tip)), 0, 1e-9)
			}
			if len(w.Warnings) > 0 {
				t.Error(w.Warnings)
			}
		})
	}
}

// Two grind lines, one on either side, ask how many edges there are: to take one of them would be a
// guess at which side the edge is on.
func TestGrindLinesOfTwoEdges(t *testing.T) {
	h := profile.Hints{HandleFront: 110, TipDeg: deg(0), EdgeDeg: deg(-90)}
	_, err := knife(straight(profile.Grind, 12, -8, 110, -1), straight(profile.Grind, 12, 8, 110, 1)).Plan(h)
	var f *dxf.Fault
	if !errors.As(err, &f) || f.Class != dxf.Unsettled || !strings.Contains(f.What, "blade.edges = 2") {
		t.Errorf("error %v, want one that asks for blade.edges", err)
	}
	if _, err := knife(straight(profile.Grind, 12, -8, 110, -1), straight(profile.Grind, 12, -11, 100, -6)).Plan(h); err != nil {
		t.Errorf("a line beside the grind line: %v", err)
	}
}

// Of several grind lines any two may come from either side.
func TestGrindLinesInPieces(t *testing.T) {
	p := knife(straight(profile.Grind, 12, -8, 110, -1), straight(profile.Grind, 13, -8.5, 105, -2), straight(profile.Grind, 12, 8, 60, 5))
	h := profile.Hints{HandleFront: 110, TipDeg: deg(0), EdgeDeg: deg(-90)}
	if _, err := p.Plan(h); err == nil || !strings.Contains(err.Error(), "blade.edges = 2") {
		t.Errorf("one edge: %v", err)
	}
	h.Edges = 2
	w, err := p.Plan(h)
	if err != nil {
		t.Fatal(err)
	}
	if w.Grind.Start().Y >= 0 || w.GrindBack.Start().Y <= 0 || len(w.Warnings) != 1 {
		t.Errorf("from %v and %v, warnings %v", w.Grind.Start(), w.GrindBack.Start(), w.Warnings)
	}
}

// Of a blade with two edges a measure that tells them apart asks which is the first, and only that does.
func TestSidedMeasure(t *testing.T) {
	l := loop(r2.Vec{X: -110, Y: -9}, r2.Vec{X: 0, Y: -9}, r2.Vec{X: 10, Y: -12}, r2.Vec{X: 80, Y: -12}, r2.Vec{X: 120, Y: 0},
		r2.Vec{X: 80, Y: 12}, r2.Vec{X: 20, Y: 12}, r2.Vec{X: 0, Y: 9}, r2.Vec{X: -110, Y: 9})
	grinds := []profile.Mark{straight(profile.Grind, 110, 1, 20, 3), straight(profile.Grind, 12, -3, 110, -1)}
	plain := profile.Hints{HandleFront: 120, Edges: 2}
	sided := plain
	sided.Sided = []string{"standoff.y", "ramp.cant"}
	stated := sided
	stated.EdgeDeg = deg(-90)
	for name, c := range map[string]struct {
		marks   []profile.Mark
		h       profile.Hints
		refused bool
	}{
		"none":          {grinds, plain, false},
		"sided":         {grinds, sided, true},
		"side stated":   {grinds, stated, false},
		"side drawn":    {append(slices.Clone(grinds), straight(profile.Edge, 40, -16, 50, -16)), sided, false},
		"no grind line": {nil, profile.Hints{HandleFront: 120, Edges: 2, Plunge: 105, Sided: sided.Sided}, true},
	} {
		_, err := (&profile.Profile{File: "dagger.dxf", Outline: l, Marks: c.marks}).Plan(c.h)
		var f *dxf.Fault
		switch {
		case !c.refused && err != nil:
			t.Errorf("%s: %v", name, err)
		case c.refused && (!errors.As(err, &f) || f.Class != dxf.Unsettled || !strings.Contains(f.What, "standoff.y, ramp.cant") || !strings.Contains(f.What, "drawing.edge")):
			t.Errorf("%s: want drawing.edge asked for, got %v", name, err)
		}
	}
}

// A swedge's line takes the spine beside it; one that ends on the face is refused.
func TestSwedgeLine(t *testing.T) {
	h := profile.Hints{HandleFront: 110, Plunge: 95, TipDeg: deg(0), EdgeDeg: deg(-90)}
	w, err := knife(straight(profile.Swedge, 100, 6, 40, 12)).Plan(h)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "from", w.Tip.X-w.Swedge.Start().X, 70, 1e-9)
	near(t, "spine from", w.Tip.X-w.SwedgeEdge.Start().X, 70, 1e-6)
	near(t, "its middle off the outline", w.Outline.Distance(w.SwedgeEdge.At(0.5)), 0, 1e-6)
	if _, err = knife(straight(profile.Swedge, 40, 12, 70, 2)).Plan(h); err == nil || !strings.Contains(err.Error(), "SWEDGE") {
		t.Errorf("a line that ends on the face: %v", err)
	}
}

// A guard takes the outline between its ends, and what is thick begins at its front: from keys, from lines, from one line.
func TestGuardRegion(t *testing.T) {
	h := profile.Hints{HandleFront: 110, Plunge: 95, TipDeg: deg(0), EdgeDeg: deg(-90), Guard: true}
	keys := h
	keys.GuardFrom, keys.GuardTo = 104, 110
	for name, c := range map[string]struct {
		p *profile.Profile
		h profile.Hints
	}{
		"keys":      {knife(), keys},
		"two lines": {knife(straight(profile.Guard, 6, -20, 6, 20), straight(profile.Guard, 0, -20, 0, 20)), h},
		"its front": {knife(straight(profile.Guard, 6, -20, 6, 20)), h},
	} {
		t.Run(name, func(t *testing.T) {
			w, err := c.p.Plan(c.h)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "front from the tip", w.Tip.X-w.HandleFront, 104, 1e-9)
			near(t, "guard", w.Guard.Area(), 6*24, 1e-6)
			near(t, "handle with guard", w.Handle.Area(), 116*24, 1e-6)
			checkPlan(t, w)
		})
	}
	for want, c := range map[string]struct {
		p *profile.Profile
		h profile.Hints
	}{
		"guard.from":      {knife(), h},
		"guard.thickness": {knife(straight(profile.Guard, 6, -20, 6, 20)), profile.Hints{HandleFront: 110, Plunge: 95, TipDeg: deg(0), EdgeDeg: deg(-90)}},
		"between":         {knife(), profile.Hints{HandleFront: 110, Plunge: 95, TipDeg: deg(0), EdgeDeg: deg(-90), Guard: true, GuardFrom: 90, GuardTo: 100}},
	} {
		if _, err := c.p.Plan(c.h); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %s named, got %v", want, err)
		}
	}
}

// A mouth ahead of the handle lies where a depth below 0 says.
func TestMouthAhead(t *testing.T) {
	w, err := knife().Plan(profile.Hints{HandleFront: 110, Plunge: 80, ThroatDepth: -12.5, TipDeg: deg(0), EdgeDeg: deg(-90)})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "handle's front", w.HandleFront, -12.5, 1e-9)
	checkPlan(t, w)
}

// A mark of the tip that lies far off the outline says that the outline is not the knife's.
func TestTipOffTheOutline(t *testing.T) {
	_, err := knife(straight(profile.Tip, 140, 4, 145, 4)).Plan(profile.Hints{HandleFront: 110, Plunge: 95, EdgeDeg: deg(-90)})
	var f *dxf.Fault
	if !errors.As(err, &f) || f.Class != dxf.BadMark || !strings.Contains(f.What, "TIP") {
		t.Errorf("got %v", err)
	}
}
