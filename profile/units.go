package profile

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/dxf"
)

// Lengths that a knife may have, in mm; common practice, no source. Beyond them a unit is implausible.
const (
	shortKnife = 50
	longKnife  = 900
)

// scaleOf finds what one drawing unit is: as asked, as the header says, or, where it says nothing,
// what alone gives the size of a knife. The name is that of the unit, by a phrase that says how it
// was found.
func scaleOf(d *dxf.Drawing, asked string) (unit dxf.Units, by string, err error) {
	if asked != "" {
		u, ok := dxf.ParseUnits(asked)
		if !ok {
			return 0, "", dxf.Faults{{File: d.File, Class: dxf.NoUnits, What: fmt.Sprintf("unit %q is none of mm, cm, m, in, ft", asked)}}
		}
		return u, "as asked for", nil
	}
	if d.Units.MM() > 0 {
		return d.Units, "$INSUNITS of the drawing", nil
	}
	var x extent
	_ = d.Walk(&x)
	return guessUnits(d, max(x.box.Max.X-x.box.Min.X, x.box.Max.Y-x.box.Min.Y))
}

// guessUnits finds the units of a drawing that states none from its longer side.
func guessUnits(d *dxf.Drawing, long float64) (dxf.Units, string, error) {
	inches := long*25.4 >= shortKnife && long*25.4 <= longKnife
	switch {
	case long == 0:
		return dxf.Millimetres, "not stated; nothing to measure", nil
	case long >= longKnife/25.4 && long <= longKnife:
		return dxf.Millimetres, fmt.Sprintf("not stated; taken as mm because %.4g mm can be a knife and %.4g in cannot", long, long), nil
	case inches && d.Measure == dxf.Imperial:
		return dxf.Inches, fmt.Sprintf("not stated; taken as inches because $MEASUREMENT is imperial and %.4g in can be a knife", long), nil
	}
	return 0, "", dxf.Faults{{
		File: d.File, Class: dxf.NoUnits,
		What: fmt.Sprintf("the drawing states no units and is %.4g units long, which is no knife in mm; state the units (mm, cm or in)", long),
	}}
}

// extent is a dxf.Sink that finds how large a drawing is, near enough to tell units apart.
type extent struct {
	box r2.Box
	any bool
}

func (x *extent) grow(p r2.Vec) {
	if !x.any {
		x.box, x.any = r2.Box{Min: p, Max: p}, true
	}
	x.box = grow(x.box, p)
}

// Chain takes vertices, and of arcs their highest point over the chord.
func (x *extent) Chain(_ dxf.Item, vertices []dxf.Vertex, closed bool) {
	for i, v := range vertices {
		a := r2.Vec{X: v.X, Y: v.Y}
		x.grow(a)
		if v.Bulge != 0 && (closed || i+1 < len(vertices)) {
			w := vertices[(i+1)%len(vertices)]
			x.grow(Segment{A: a, B: r2.Vec{X: w.X, Y: w.Y}, Bulge: v.Bulge}.At(0.5))
		}
	}
}

// Conic takes eight points.
func (x *extent) Conic(_ dxf.Item, c dxf.Conic) {
	for i := range 9 {
		x.grow(c.At(c.T0 + (c.T1-c.T0)*float64(i)/8))
	}
}

// Curve takes the points that make the curve.
func (x *extent) Curve(_ dxf.Item, c dxf.Curve) {
	for _, p := range slices.Concat(c.Controls, c.Fits) {
		x.grow(p)
	}
}

// Point takes nothing: points are not geometry.
func (x *extent) Point(dxf.Item, r2.Vec) {}

// Skip takes nothing.
func (x *extent) Skip(dxf.Item, string) {}

// Unread takes nothing.
func (x *extent) Unread(dxf.Item) {}
