package profile

import (
	"math"
	"slices"

	"formbuck/profile/dxf"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Polygon is a closed path through points.
func Polygon(points ...r2.Vec) Path {
	var p Path
	for i, a := range points {
		p = append(p, Segment{A: a, B: points[(i+1)%len(points)]})
	}
	return p
}

// Polyline is an open path through points.
func Polyline(points ...r2.Vec) Path {
	var p Path
	for i := 1; i < len(points); i++ {
		p = append(p, Segment{A: points[i-1], B: points[i]})
	}
	return p
}

// Rectangle is the border of a box, counter-clockwise from its lower left corner.
func Rectangle(b r2.Box) Path { return Polygon(b.Vertices()...) }

// flattest is the height of an arc over its chord, in mm, under which it is drawn straight: some
// programs take arcs of very large radius badly (common practice, no source). A drawing holds
// places no finer than that.
const flattest = 1e-4

// AddContour adds to a drawing, on the layer, a path whose segments go on from each other: one
// polyline with its arcs as bulges, closed and counter-clockwise where it comes back to its
// beginning. Segments without length are left out; an empty path adds nothing.
func AddContour(d *dxf.Drawing, layer string, p Path) {
	p = slices.DeleteFunc(slices.Clone(p), func(s Segment) bool { return s.A == s.B })
	if len(p) == 0 {
		return
	}
	line := &dxf.Polyline{Closed: p.Closed()}
	if line.Closed && Loop(p).Area() < 0 {
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

// AddCircle adds a circle to a drawing, on the layer.
func AddCircle(d *dxf.Drawing, layer string, centre r2.Vec, diameter float64) {
	d.Entities = append(d.Entities, dxf.Entity{
		Kind: "CIRCLE", Layer: layer,
		Shape: &dxf.Circle{Centre: r3.Vec{X: centre.X, Y: centre.Y}, Radius: diameter / 2},
	})
}
