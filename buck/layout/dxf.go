package layout

import (
	"formbuck/buck/measures"
	"formbuck/profile"
	"formbuck/profile/dxf"
)

// The layers of a layout's drawing. Post holes have one for each hand: PostsLayer and the hand.
const (
	TrimLayer   = "TRIM"
	EyeletLayer = "EYELETS"
	PinLayer    = "PINS"
	BlankLayer  = "BLANK"
	KnifeLayer  = "KNIFE"
	FoldLayer   = "FOLD"
	HoleLayer   = "HOLES" // for other mounts
)

// PostsLayer is the layer of the post holes of a hand.
func PostsLayer(h measures.Hand) string {
	if h == measures.Left {
		return "POSTS-LEFT"
	}
	return "POSTS-RIGHT"
}

// Drawing is the layout for a drawing program: what is cut and drilled, in mm, in the blade's frame, each
// kind on its layer. Every contour is one polyline with its arcs as bulges, counter-clockwise where it is closed; what the
// handle's outline shares with the knife's is drawn once.
func (s *Sheath) Drawing() *dxf.Drawing {
	d := &dxf.Drawing{Units: dxf.Millimetres, Layers: []dxf.Layer{
		{Name: TrimLayer, Colour: 7},
		{Name: EyeletLayer, Colour: 5},
		{Name: PostsLayer(measures.Right), Colour: 6},
		{Name: PostsLayer(measures.Left), Colour: 3},
		{Name: PinLayer, Colour: 1},
		{Name: BlankLayer, Colour: 8},
		{Name: KnifeLayer, Colour: 9},
		{Name: FoldLayer, Colour: 30},
		{Name: HoleLayer, Colour: 4},
	}}
	profile.AddContour(d, TrimLayer, s.Trim.Path())
	spec := s.Knife.Spec
	for _, e := range s.Eyelets {
		profile.AddCircle(d, EyeletLayer, e.At, spec.Eyelet.Hole)
	}
	for _, h := range s.Holes {
		profile.AddCircle(d, HoleLayer, h.At, h.Diameter)
	}
	for _, p := range s.Posts {
		profile.AddCircle(d, PostsLayer(p.Hand), p.At, p.Diameter)
		if spec.Hole.Sink() > 0 {
			profile.AddCircle(d, PostsLayer(p.Hand), p.At, spec.Hole.SinkDiameter)
		}
	}
	for _, p := range s.Pins {
		profile.AddCircle(d, PinLayer, p.At, p.Diameter)
	}
	profile.AddContour(d, BlankLayer, profile.Rectangle(s.Blank.Box))
	profile.AddContour(d, KnifeLayer, s.Knife.Plan.Outline.Path())
	for _, path := range besides(s.Knife.Plan.Handle.Path(), s.Knife.Plan.Outline) {
		profile.AddContour(d, KnifeLayer, path)
	}
	for _, path := range s.Open() {
		profile.AddContour(d, FoldLayer, path)
	}
	return d
}

// sameLine is how near in mm a segment has to lie to a line to be part of it: half of what two ends are joined over.
// Our own, no source.
const sameLine = 0.025

// besides returns the parts of p, in segments that go on from each other, that do not lie on the outline: what both
// share is drawn once.
func besides(p profile.Path, outline profile.Loop) []profile.Path {
	var parts []profile.Path
	apart := true
	for _, s := range p {
		on := true
		for _, t := range []float64{0, 0.25, 0.5, 0.75, 1} {
			on = on && outline.Distance(s.At(t)) < sameLine
		}
		switch {
		case on:
			apart = true
		case apart:
			parts, apart = append(parts, profile.Path{s}), false
		default:
			parts[len(parts)-1] = append(parts[len(parts)-1], s)
		}
	}
	return parts
}
