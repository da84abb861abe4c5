package knives_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// strip is a blade with straight parallel edge, grind line and spine, at y 0, 16 and 24, so that heights are known at every point.
func strip(t *testing.T, set func(*measures.Blade)) *pieces.Buck {
	t.Helper()
	s := bucktest.Spec()
	set(&s.Blade)
	return bucktest.Knife(t, bucktest.Strip(), s)
}

// TestGrinds checks the half thickness across the bevel: te/2 at the edge, T/2 at the grind line, in
// between the straight line, an arc of the wheel's radius below it, or one of the given bulge above it.
func TestGrinds(t *testing.T) {
	const te, full = 0.2, 1.6
	line := func(u float64) float64 { return te + (full-te)*u }
	tests := []struct {
		name string
		set  func(*measures.Blade)
		half func(u float64) float64
	}{
		{"flat", func(*measures.Blade) {}, line},
		{"hollow", func(b *measures.Blade) { b.Grind, b.WheelRadius = measures.Hollow, 100 }, func(u float64) float64 {
			s := 16 * (u - 0.5) // circle of radius 100 through both ends of a chord of 16
			return line(u) - (math.Sqrt(100*100-s*s) - math.Sqrt(100*100-8*8))
		}},
		{"convex", func(b *measures.Blade) { b.Grind, b.Bulge = measures.Convex, 0.25 }, func(u float64) float64 {
			r := 16*16/(8*0.25) + 0.25/2 // sagitta 0.25 on a chord of 16
			s := 16 * (u - 0.5)
			return line(u) + math.Sqrt(r*r-s*s) - (r - 0.25)
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			k := strip(t, tt.set)
			for _, u := range []float64{0.001, 0.25, 0.5, 0.75, 0.999} {
				near(t, "half thickness", k.Half(r2.Vec{X: 50, Y: 16 * u}), tt.half(u), 1e-9)
			}
			near(t, "flat above the grind line", k.Half(r2.Vec{X: 50, Y: 20}), full, 1e-12)
			near(t, "beside the blade", k.Half(r2.Vec{X: 50, Y: -1}), 0, 0)
		})
	}
}

func TestDistalTaper(t *testing.T) {
	k := strip(t, func(b *measures.Blade) { b.TipThickness = 1.2 })
	heel, tip := k.Plan.Heel.X, k.Plan.Tip.X
	for _, share := range []float64{0, 0.25, 0.5, 1} {
		x := heel + share*(tip-heel)*0.999
		near(t, "stock", 2*k.Half(r2.Vec{X: x, Y: 20}), 3.2-2*share*0.999, 1e-9)
	}
}

// TestHandle checks the rounded edge: Th/2 - r + sqrt(r^2 - (r-d)^2) at d from the handle's outline.
func TestHandle(t *testing.T) {
	k := strip(t, func(*measures.Blade) {})
	near(t, "middle", k.Half(r2.Vec{X: -50, Y: 12}), 11, 1e-12)
	for _, d := range []float64{0.01, 1, 4, 7.9} {
		near(t, "rounded", k.Half(r2.Vec{X: -50, Y: 24 - d}), 11-8+math.Sqrt(64-(8-d)*(8-d)), 1e-9)
	}
}

func TestKnifeRefusals(t *testing.T) {
	for _, tt := range []struct {
		name, key string
		set       func(*measures.Blade)
	}{
		{"no thickness", "blade.thickness", func(b *measures.Blade) { b.Thickness = -1 }},
		{"thicker at the tip", "blade.tip_thickness", func(b *measures.Blade) { b.TipThickness = 4 }},
		{"edge as thick as the stock", "blade.edge_thickness", func(b *measures.Blade) { b.EdgeThickness = 3.2 }},
		{"wheel smaller than the bevel", "blade.wheel_radius", func(b *measures.Blade) { b.Grind, b.WheelRadius = measures.Hollow, 7 }},
		{"hollow cut through", "blade.wheel_radius", func(b *measures.Blade) { b.Grind, b.WheelRadius = measures.Hollow, 20 }},
		{"bulge past the stock", "blade.bulge", func(b *measures.Blade) { b.Grind, b.Bulge = measures.Convex, 2 }},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := bucktest.Spec()
			tt.set(&s.Blade)
			_, err := pieces.NewBuck(bucktest.Strip(), s)
			var f *measures.Fault
			if !errors.As(err, &f) || f.Key != tt.key {
				t.Errorf("got %v, want a fault of %s", err, tt.key)
			}
		})
	}
}

// TestFold checks flat contact against a table worked from the two tangent arcs, edge radius 0.2,
// foot radius t, draft 5 degrees. Derived here.
func TestFold(t *testing.T) {
	table := map[float64][4]float64{ // h: x_f at t 1.5, 2.0, 2.4, 3.2
		1.0: {2.124, 2.520, 2.800, 3.293},
		1.6: {2.571, 3.098, 3.466, 4.108},
		2.0: {2.766, 3.378, 3.800, 4.533},
		2.5: {2.922, 3.641, 4.130, 4.972},
		3.0: {2.995, 3.825, 4.383, 5.332},
		4.0: {3.082, 3.999, 4.699, 5.866},
		11:  {3.695, 4.611, 5.344, 6.810},
	}
	for h, row := range table {
		for i, sheet := range []float64{1.5, 2.0, 2.4, 3.2} {
			near(t, "x_f", measures.Fold{Half: h, Sheet: sheet, Edge: 0.2, DraftDeg: 5}.Contact(), row[i], 5.1e-4)
		}
	}
	near(t, "worked case", measures.Fold{Half: 1.75, Sheet: 2, Edge: 0.2, DraftDeg: 5}.Contact(), 3.211, 5e-4)
	near(t, "thicker sheet", measures.Fold{Half: 1.75, Sheet: 2.4, Edge: 0.2, DraftDeg: 5}.Contact(), 3.600, 5e-4)
}

// TestNoGrindLine looks at a blade of which only the plunge is known: the ricasso behind it is the stock, ahead of it the bevel
// comes down from the plunge and rises from the edge over its width.
func TestNoGrindLine(t *testing.T) {
	const te, full, width, plunge = 0.2, 1.6, 16, 20
	plan := bucktest.Strip()
	plan.Grind, plan.Heel = nil, r2.Vec{X: plunge}
	plan.Edge[0].A = plan.Heel
	s := bucktest.Spec()
	s.Blade.GrindWidth = width
	k := bucktest.Knife(t, plan, s)
	for _, y := range []float64{0.1, 8, 20} {
		p := r2.Vec{X: plunge - 0.1, Y: y}
		near(t, "ricasso", k.Half(p), full, 1e-9)
		if k.ZoneAt(p) != knives.OnFlat {
			t.Errorf("%v is zone %d", p, k.ZoneAt(p))
		}
	}
	for _, y := range []float64{0.5, 4, 12, 15.9} {
		near(t, "bevel", k.Half(r2.Vec{X: 60, Y: y}), te+(full-te)*y/width, 1e-9)
		near(t, "at the plunge", k.Half(r2.Vec{X: plunge + 1e-6, Y: y}), full, 1e-4)
	}
	near(t, "over the bevel", k.Half(r2.Vec{X: 60, Y: 20}), full, 1e-9)
	// 5 mm ahead of the plunge and 4 over the edge, 9 mm of bevel in all
	near(t, "beside the plunge", k.Half(r2.Vec{X: plunge + 5, Y: 4}), te+(full-te)*4/9, 1e-9)
}

// TestUndrawnHandle looks at a blade drawn alone: the clip reaches over the handle that its outline does not show, and lies on it
// as on a handle that is full and square, while the sheet is formed over the blade alone.
func TestUndrawnHandle(t *testing.T) {
	s := bucktest.Spec()
	plan := bucktest.Strip()
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	plan.Outline, plan.Handle, plan.Undrawn = bucktest.Polygon(v(0, 0), v(100, 0), v(100, 24), v(0, 24)), nil, true
	k := bucktest.Knife(t, plan, s)
	got, err := pieces.NewStandoff(k)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "boss", got.TopZ, s.Handle.Thickness/2+s.Clip.Clearance-s.Sheet.BossThickness, 1e-9)
	near(t, "buck behind the outline", k.Half(v(-5, 12)), 0, 0)
	near(t, "handle behind the outline", k.WornHalf(v(-5, 12)), 11, 1e-9)
}

// TestDagger looks across a blade with two edges 24 mm apart: it falls to both from grind lines at a third of the width, or where
// none is drawn from the middle.
func TestDagger(t *testing.T) {
	const te, full = 0.2, 1.6
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	line := func(y float64) profile.Path { return profile.Path{{A: v(0, y), B: v(100, y)}} }
	plan := bucktest.Strip()
	plan.Grind, plan.GrindBack, plan.Back = line(8), line(16), line(24)
	k := bucktest.Knife(t, plan, bucktest.Spec())
	for _, y := range []float64{0.1, 3, 6, 7.9} {
		want := te + (full-te)*y/8
		near(t, "first edge", k.Half(v(50, y)), want, 1e-9)
		near(t, "second edge", k.Half(v(50, 24-y)), want, 1e-9)
	}
	near(t, "flat between", k.Half(v(50, 12)), full, 1e-12)
	if zone := k.ZoneAt(v(50, 20)); zone != knives.OnBack {
		t.Errorf("zone %d", zone)
	}
	plan.Grind, plan.GrindBack = nil, nil
	k = bucktest.Knife(t, plan, bucktest.Spec())
	for _, y := range []float64{0.1, 3, 6, 11.9} {
		want := te + (full-te)*y/12
		near(t, "first edge, by width", k.Half(v(50, y)), want, 1e-9)
		near(t, "second edge, by width", k.Half(v(50, 24-y)), want, 1e-9)
	}
}

// TestSwedge looks across a blade whose spine at y 24 has a false edge from a line at y 20: it comes down to what is left there,
// and nowhere stands higher than the other bevel lets it.
func TestSwedge(t *testing.T) {
	const full, left = 1.6, 0.6
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	plan := bucktest.Strip()
	plan.Swedge, plan.SwedgeEdge = profile.Path{{A: v(40, 20), B: v(80, 20)}}, profile.Path{{A: v(40, 24), B: v(80, 24)}}
	s := bucktest.Spec()
	s.Swedge.Thickness = 2 * left
	k := bucktest.Knife(t, plan, s)
	for _, d := range []float64{0.1, 1, 3.9} { // from the spine
		near(t, "swedge", k.Half(v(60, 24-d)), left+(full-left)*d/4, 1e-9)
		near(t, "behind it", k.Half(v(39, 24-d)), full, 1e-9)
	}
	near(t, "bevel", k.Half(v(60, 8)), 0.2+1.4/2, 1e-9)
	plan.Grind, s.Blade.GrindWidth = nil, 30
	k = bucktest.Knife(t, plan, s)
	near(t, "where the bevel has taken more", k.Half(v(70, 20.5)), 0.2+1.4*20.5/30, 1e-9)
	near(t, "where the swedge has", k.Half(v(70, 23.5)), left+(full-left)*0.5/4, 1e-9)
	s.Swedge.Thickness = 3.2
	if _, err := pieces.NewBuck(plan, s); err == nil || !strings.Contains(err.Error(), "spine") {
		t.Errorf("a swedge that takes nothing: %v", err)
	}
}

// TestConvexNarrows looks at a convex bevel that narrows to a point at the heel: there it holds the stock.
func TestConvexNarrows(t *testing.T) {
	plan := bucktest.Strip()
	plan.Grind = profile.Path{{A: r2.Vec{}, B: r2.Vec{X: 60, Y: 16}}, {A: r2.Vec{X: 60, Y: 16}, B: r2.Vec{X: 100, Y: 16}}}
	s := bucktest.Spec()
	s.Blade.Grind, s.Blade.Bulge = measures.Convex, 0.5
	k := bucktest.Knife(t, plan, s)
	for x := 0.5; x < 100; x += 0.5 {
		for y := 0.1; y < 24; y += 0.2 {
			if h := k.Half(r2.Vec{X: x, Y: y}); !(h >= 0.2-1e-9 && h <= 1.6+1e-9) {
				t.Fatalf("%g mm at (%g, %g)", h, x, y)
			}
		}
	}
}

// TestGuard looks at a guard of 14 mm between a handle of 22 and the blade: it has its own thickness over its whole plan, the
// handle behind it keeps its own, and the blade ahead of it, too.
func TestGuard(t *testing.T) {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	plan := bucktest.Strip()
	plan.Handle = bucktest.Polygon(v(-100, 0), v(6, 0), v(6, 24), v(-100, 24))
	plan.Guard = bucktest.Polygon(v(0, 0), v(6, 0), v(6, 24), v(0, 24))
	plan.HandleFront = 6
	s := bucktest.Spec()
	s.Guard.Thickness = 14
	k := bucktest.Knife(t, plan, s)
	for _, y := range []float64{0.1, 12, 23.9} {
		near(t, "guard", k.Half(v(3, y)), 7, 1e-12)
	}
	near(t, "handle", k.Half(v(-20, 12)), 11, 1e-9)
	near(t, "blade", k.Half(v(10, 20)), 1.6, 1e-9)
	if boss, err := pieces.NewStandoff(k); err != nil || boss.Top.Centre.X-boss.Top.Length/2 < 6 {
		t.Errorf("the boss does not stand ahead of the guard: %v", err)
	}
	zone, half := make([]knives.Zone, 60), make([]float64, 60)
	k.Row(v(-20.3, 11.7), v(0.77, 0.03), zone, half)
	for i := range half {
		p := r2.Add(v(-20.3, 11.7), r2.Scale(float64(i), v(0.77, 0.03)))
		if zone[i] != k.ZoneAt(p) || half[i] != k.Half(p) {
			t.Errorf("row: %v %g, alone %v %g at %v", zone[i], half[i], k.ZoneAt(p), k.Half(p), p)
		}
	}
	s.Guard.Thickness = 3
	if _, err := pieces.NewBuck(plan, s); err == nil || !strings.Contains(err.Error(), "blade") {
		t.Errorf("a guard thinner than the blade: %v", err)
	}
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.6g, want %.6g within %.2g", what, got, want, tol)
	}
}
