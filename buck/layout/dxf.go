package layout

import (
	"math"
	"slices"

	"formbuck/buck/measures"
	"formbuck/profile"
	"formbuck/profile/dxf"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
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

// flattest is the height of an arc over its chord, in mm, under which it is drawn straight: some programs
// take arcs of very large radius badly.
const flattest = 1e-4

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
	addPath(d, TrimLayer, s.Trim.Path())
	spec := s.Knife.Spec
	for _, e := range s.Eyelets {
		addCircle(d, EyeletLayer, e.At, spec.Eyelet.Hole)
	}
	for _, h := range s.Holes {
		addCircle(d, HoleLayer, h.At, h.Diameter)
	}
	for _, p := range s.Posts {
		addCircle(d, PostsLayer(p.Hand), p.At, p.Diameter)
		if spec.Hole.Sink() > 0 {
			addCircle(d, PostsLayer(p.Hand), p.At, spec.Hole.SinkDiameter)
		}
	}
	for _, p := range s.Pins {
		addCircle(d, PinLayer, p.At, p.Diameter)
	}
	b := s.Blank.Box
	corners := []r2.Vec{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}
	var blank profile.Path
	for i, p := range corners {
		blank = append(blank, profile.Segment{A: p, B: corners[(i+1)%4]})
	}
	addPath(d, BlankLayer, blank)
	addPath(d, KnifeLayer, s.Knife.Plan.Outline.Path())
	for _, path := range besides(s.Knife.Plan.Handle.Path(), s.Knife.Plan.Outline) {
		addPath(d, KnifeLayer, path)
	}
	for _, path := range s.Open() {
		addPath(d, FoldLayer, path)
	}
	return d
}

// addPath adds a line of segments that go on from each other as one polyline, closed and counter-clockwise where it
// comes back to its beginning.
func addPath(d *dxf.Drawing, layer string, p profile.Path) {
	p = slices.DeleteFunc(slices.Clone(p), func(s profile.Segment) bool { return s.A == s.B })
	if len(p) == 0 {
		return
	}
	line := &dxf.Polyline{Closed: p.Closed()}
	if line.Closed && profile.Loop(p).Area() < 0 {
		p = p.Reversed()
	}
	for _, s := range p {
		v := dxf.Vertex{X: s.A.X, Y: s.A.Y}
		if math.Abs(s.Bulge)*r2.Norm(r2.Sub(s.B, s.A))/2 > flattest {
			v.Bulge = s.Bulge
		}
		line.Vertices = append(line.Vertices, v)
	}
	if end := p.End(); !line.Closed {
		line.Vertices = append(line.Vertices, dxf.Vertex{X: end.X, Y: end.Y})
	}
	d.Entities = append(d.Entities, dxf.Entity{Kind: "LWPOLYLINE", Layer: layer, Shape: line})
}

// sameLine is how near in mm a segment has to lie to a line to be part of it: half of what two ends are joined over.
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

func addCircle(d *dxf.Drawing, layer string, at r2.Vec, diameter float64) {
	d.Entities = append(d.Entities, dxf.Entity{
		Kind: "CIRCLE", Layer: layer,
		Shape: &dxf.Circle{Centre: r3.Vec{X: at.X, Y: at.Y}, Radius: diameter / 2},
	})
}
