package layout

import (
	"math"

	"formbuck/buck"
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
func PostsLayer(h buck.Hand) string {
	if h == buck.Left {
		return "POSTS-LEFT"
	}
	return "POSTS-RIGHT"
}

// flattest is the height of an arc over its chord, in mm, under which it is written as a line: some programs
// take arcs of very large radius badly.
const flattest = 1e-4

// Drawing is the layout for a drawing program: what is cut and drilled, in mm, in the blade's frame, each
// kind on its layer. Lines and arcs stay what they are.
func (s *Sheath) Drawing() *dxf.Drawing {
	d := &dxf.Drawing{Units: dxf.Millimetres, Layers: []dxf.Layer{
		{Name: TrimLayer, Colour: 7},
		{Name: EyeletLayer, Colour: 5},
		{Name: PostsLayer(buck.Right), Colour: 6},
		{Name: PostsLayer(buck.Left), Colour: 3},
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
	for i, p := range corners {
		addPath(d, BlankLayer, profile.Path{{A: p, B: corners[(i+1)%4]}})
	}
	addPath(d, KnifeLayer, s.Knife.Plan.Outline.Path())
	addPath(d, KnifeLayer, s.Knife.Plan.Handle.Path())
	for _, path := range s.Open() {
		addPath(d, FoldLayer, path)
	}
	return d
}

func addPath(d *dxf.Drawing, layer string, p profile.Path) {
	for _, s := range p {
		if s.A == s.B {
			continue
		}
		e := dxf.Entity{Kind: "LINE", Layer: layer, Shape: &dxf.Line{A: r3.Vec{X: s.A.X, Y: s.A.Y}, B: r3.Vec{X: s.B.X, Y: s.B.Y}}}
		if math.Abs(s.Bulge)*r2.Norm(r2.Sub(s.B, s.A))/2 > flattest {
			e.Kind, e.Shape = "LWPOLYLINE", &dxf.Polyline{Vertices: []dxf.Vertex{{X: s.A.X, Y: s.A.Y, Bulge: s.Bulge}, {X: s.B.X, Y: s.B.Y}}}
		}
		d.Entities = append(d.Entities, e)
	}
}

func addCircle(d *dxf.Drawing, layer string, at r2.Vec, diameter float64) {
	d.Entities = append(d.Entities, dxf.Entity{
		Kind: "CIRCLE", Layer: layer,
		Shape: &dxf.Circle{Centre: r3.Vec{X: at.X, Y: at.Y}, Radius: diameter / 2},
	})
}
