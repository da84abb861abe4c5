package layout

import (
	"formbuck/buck/measures"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Blank is the sheet that one half is formed from. Its extrusion, along which it shrinks when it is reheated,
// lies along its Length or across it.
type Blank struct {
	Box    r2.Box // as it lies on the knife, flat
	Length float64
	Width  float64
	// Turned is the blank for a sheet whose extrusion lies the other way on the knife: which is longer changes.
	TurnedLength, TurnedWidth float64
	DrawnIn                   [3]float64 // sheet that the buck's height takes: at the edge, the spine and the tip
	Handling                  float64    // all round
	Stretch                   float64    // added along the extrusion
	Extrusion                 string     // measures.Along or measures.Across
}

// blank is the trim line's box, what the buck's height draws in, room to hold the sheet by, and what it
// shrinks along its extrusion when it is reheated.
func (g *ground) blank(trim profile.Loop) Blank {
	spec := g.knife.Spec
	b := Blank{Handling: spec.Layout.Handling, Extrusion: spec.Layout.Extrusion}
	for _, m := range g.members {
		for i, in := range [3]float64{m.drawnIn(-1), m.drawnIn(1), m.drawnInTip()} {
			b.DrawnIn[i] = max(b.DrawnIn[i], in)
		}
	}
	box := grown(trim.Bounds(), b.Handling)
	box.Min.Y -= b.DrawnIn[0]
	box.Max.Y += b.DrawnIn[1]
	box.Max.X += b.DrawnIn[2]
	length, width := box.Max.X-box.Min.X, box.Max.Y-box.Min.Y
	longer := 1 + spec.Layout.StretchPercent/100
	b.Length, b.Width = length*longer, width
	b.TurnedLength, b.TurnedWidth = length, width*longer
	b.Stretch = length * (longer - 1)
	room := r2.Vec{X: b.Stretch / 2}
	if b.Extrusion == measures.Across {
		b.Stretch = width * (longer - 1)
		room = r2.Vec{Y: b.Stretch / 2}
		b.Length, b.Width, b.TurnedLength, b.TurnedWidth = b.TurnedLength, b.TurnedWidth, b.Length, b.Width
	}
	b.Box = r2.Box{Min: r2.Sub(box.Min, room), Max: r2.Add(box.Max, room)}
	return b
}

// drawnIn is the most that any section takes in on one side: -1 the edge's, 1 the spine's.
func (g *ground) drawnIn(side float64) float64 {
	most := 0.0
	within := func(p r2.Vec) bool { return p.X >= 0 }
	for _, s := range g.knife.Plan.Outline {
		p := s.At(0.5)
		if !within(p) || g.knife.ZoneAt(inside(s)).OfHandle() || (side < 0) != (g.side(p) != Spine) {
			continue
		}
		most = max(most, g.extra(g.knife.BladeHalf(p)+g.knife.TapeAt(p), bladeEdge))
	}
	for _, p := range g.knife.Plan.Handle.Flatten(1) {
		if within(p) {
			h := g.knife.Spec.Handle
			return max(most, g.extra(h.Thickness/2, max(h.Rounding, bladeEdge)))
		}
	}
	return most
}

// drawnInTip is what is taken in along the blade: over the drain at the tip, and from the blade up to the
// handle where the sheath laps over it.
func (g *ground) drawnInTip() float64 {
	r := g.drain.RadiusAt(g.drain.To)
	sum := g.extra(r, r)
	h := g.knife.Spec.Handle
	for _, p := range g.knife.Plan.Handle.Flatten(1) {
		if p.X > 0 {
			step := h.Thickness/2 - g.knife.Spec.Blade.Thickness/2
			return sum + g.extra(step, max(h.Rounding, bladeEdge))
		}
	}
	return sum
}

func (g *ground) extra(half, edge float64) float64 {
	return measures.Fold{Half: half, Sheet: g.knife.Spec.Sheet.Thickness, Edge: edge, DraftDeg: draftDeg}.Extra()
}

// inside is a point just inside a segment of the outline.
func inside(s profile.Segment) r2.Vec {
	t := s.Tangent(0.5)
	return r2.Add(s.At(0.5), r2.Scale(insideLine, r2.Vec{X: -t.Y, Y: t.X}))
}
