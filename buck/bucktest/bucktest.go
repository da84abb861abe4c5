// Package bucktest makes knives for tests: plain shapes whose every dimension is known, and one that
// has what a real knife has.
package bucktest

import (
	"testing"

	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Spec are measures that suit the knives of this package: a blade of 3.2 mm, a handle of 22 mm.
func Spec() measures.Spec {
	return measures.Spec{
		Name:     "test",
		Blade:    measures.Blade{Thickness: 3.2, TipThickness: 3.2, EdgeThickness: 0.4, Grind: measures.Flat},
		Handle:   measures.Handle{Thickness: 22, Rounding: 8},
		Sheet:    measures.Sheet{Thickness: 2, BossThickness: 1.8},
		Tape:     measures.Tape{Layers: 2, Thickness: 0.14, TipGap: 12},
		Plate:    measures.Plate{Length: 38, Width: 12, Thickness: 1.5, PostSpacing: 28, PostDiameter: 5},
		Clip:     measures.Clip{Length: 76, Width: 14, Thickness: 1.6, Clearance: 1},
		Screw:    measures.Screw{Diameter: 4.1656, Lengths: "3/16 in", PostHeight: 3},
		Hole:     measures.Hole{Diameter: 6.35, PointAngleDeg: 118, SinkAngleDeg: 82},
		Eyelet:   measures.Eyelet{Hole: 6.35, Flange: 9.5, Die: 9.5},
		Standoff: measures.Standoff{SideClearance: 0.3, Clearance: 0.4, Glue: 0.1, DraftDeg: 5, EdgeRadius: 1},
		Ramp:     measures.Ramp{Clearance: 0.2, Grace: 0.01, Lap: 5, Wall: 0.8, Glue: 0.1, DraftDeg: 5, Split: measures.SplitAuto},
		Drain:    measures.Drain{Diameter: 5, TaperDeg: 3, Lap: 8},
		Nub:      measures.Nub{AngleDeg: 120, Margin: 1},
		Locator:  measures.Locator{Fit: 0.05, Clearance: 0.2, Thickness: 2, Wall: 2.4, Hook: 3, Text: 5},
		Whole:    measures.Whole{Bed: 220, Pin: 4, PinFit: 0.15, PinDepth: 12},
		Layout: measures.Layout{
			Pitch: 32, Clearance: 0.5, EdgeGuard: 4, Rim: 2, Smooth: 80, Corner: 3, ThumbDepth: 6, FlareDeg: 15,
			Handling: 25, StretchPercent: 3, Extrusion: measures.Along,
		},
		Mill: measures.Mill{
			Units: measures.Millimetres, Material: measures.Alloy, Cutter: 6.35, Flutes: 2, Flute: 25.4, Allowance: 0.4, Bite: 0.3, Through: 1,
			Safe: 5, Rapid: 3000, MaxFeed: 5000, MaxSpeed: 24000, ToolChange: measures.ByM6, Dialect: measures.FullDialect, Hold: measures.Clamps, Board: 25, Clamp: 12, ClampHeight: 15, PinHeight: 8, Washer: 9.5,
		},
	}
}

// Polygon is a closed loop of straight lines.
func Polygon(points ...r2.Vec) profile.Loop {
	l := make(profile.Loop, len(points))
	for i, p := range points {
		l[i] = profile.Segment{A: p, B: points[(i+1)%len(points)]}
	}
	return l
}

// Hunter is the plan of a knife with a handle that begins at x = 2 and is 100 mm long, a choil
// between it and the heel at x = 18, a belly that hangs 2 mm below the heel, and its tip at (105, 4).
func Hunter() *profile.Plan {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	seg := func(a, b r2.Vec, bulge float64) profile.Segment { return profile.Segment{A: a, B: b, Bulge: bulge} }
	butt0, butt1 := v(-98, -13), v(-98, 12)
	lower, upper := v(2, -13), v(2, 13)
	ricasso, heel := v(6, -8), v(18, -11)
	belly, tip := v(60, -13), v(105, 4)
	outline := profile.Loop{
		seg(butt1, butt0, 0.3),
		seg(butt0, lower, 0),
		seg(lower, v(2, -8), 0), seg(v(2, -8), ricasso, 0),
		seg(ricasso, v(14, -8), -0.4), seg(v(14, -8), heel, 0),
		seg(heel, belly, 0.03), seg(belly, tip, 0.13),
		seg(tip, v(70, 13), 0.06), seg(v(70, 13), upper, 0),
		seg(upper, butt1, 0),
	}
	return &profile.Plan{
		Outline:     outline,
		Handle:      Polygon(butt0, lower, upper, butt1),
		Grind:       profile.Path{seg(heel, v(24, 5), -0.2), seg(v(24, 5), v(88, 9.4), 0)},
		Edge:        profile.Path{outline[6], outline[7]},
		Spine:       profile.Path{seg(v(0, 13), v(70, 13), 0), seg(v(70, 13), tip, -0.06)},
		Tip:         tip,
		Heel:        heel,
		Butt:        v(-104, 0),
		ThroatSpine: v(0, 13), ThroatEdge: v(0, -13),
		HandleFront: 2,
	}
}

// Full is the test knife drawn out to 220 mm by 35 mm, as large as a whole knife gets.
func Full() *profile.Plan {
	p := Hunter()
	for range 4 { // arcs keep their bulge, and so the box does not grow by quite as much as the corners
		size := p.Outline.Bounds().Size()
		drawOut(p, r2.Vec{X: 220 / size.X, Y: 35 / size.Y})
	}
	return p
}

// drawOut makes a plan longer and wider.
func drawOut(p *profile.Plan, by r2.Vec) {
	to := func(v r2.Vec) r2.Vec { return r2.Vec{X: v.X * by.X, Y: v.Y * by.Y} }
	for _, path := range [][]profile.Segment{p.Outline, p.Handle, p.Grind, p.Edge, p.Spine} {
		for i, s := range path {
			path[i].A, path[i].B = to(s.A), to(s.B)
		}
	}
	for _, v := range []*r2.Vec{&p.Tip, &p.Heel, &p.Butt, &p.ThroatSpine, &p.ThroatEdge} {
		*v = to(*v)
	}
	p.HandleFront *= by.X
}

// Strip is the plan of a blade with a straight edge at y 0, grind line at y 16 and spine at y 24, from
// the handle's front at x 0 to a square tip at x 100. It draws freely.
func Strip() *profile.Plan {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	line := func(a, b r2.Vec) profile.Path { return profile.Path{{A: a, B: b}} }
	return &profile.Plan{
		Outline: Polygon(v(-100, 0), v(100, 0), v(100, 24), v(-100, 24)),
		Handle:  Polygon(v(-100, 0), v(0, 0), v(0, 24), v(-100, 24)),
		Grind:   line(v(0, 16), v(100, 16)),
		Edge:    line(v(0, 0), v(100, 0)),
		Spine:   append(line(v(0, 24), v(100, 24)), line(v(100, 24), v(100, 0))...),
		Tip:     v(100, 0), Heel: v(0, 0), Butt: v(-100, 12),
		ThroatSpine: v(0, 24), ThroatEdge: v(0, 0),
	}
}

// Knife is a knife of the plan, or the test fails.
func Knife(t testing.TB, plan *profile.Plan, s measures.Spec) *pieces.Buck {
	t.Helper()
	k, err := pieces.NewBuck(plan, s)
	if err != nil {
		t.Fatal(err)
	}
	return k
}
