// Package sketch draws outlines as nodes with directions, joined by pairs of tangent arcs, and writes
// them as DXF text of its own: whatever kinds of entity a maker's program may write, read by profile/dxf.
package sketch

import "math"

// Node is a point that an outline goes through, in mm, with its direction on arriving and leaving in
// degrees from x.
type Node struct {
	X, Y    float64
	In, Out float64
}

// Smooth is a node that the outline passes without a corner.
func Smooth(x, y, deg float64) Node { return Node{x, y, deg, deg} }

// Corner is a node with two directions.
func Corner(x, y, in, out float64) Node { return Node{x, y, in, out} }

// Arc is a straight line or an arc with a bulge from a to b.
type Arc struct {
	AX, AY, BX, BY, Bulge float64
}

// Through joins the nodes by pairs of tangent arcs, and closes the row when asked.
func Through(closed bool, nodes ...Node) []Arc {
	var out []Arc
	for i := range nodes {
		if i == len(nodes)-1 && !closed {
			break
		}
		out = append(out, pair(nodes[i], nodes[(i+1)%len(nodes)])...)
	}
	return out
}

// pair is two arcs with equal tangent lengths from one node to the next, or one line.
func pair(a, b Node) []Arc {
	rad := math.Pi / 180
	t0x, t0y := math.Cos(a.Out*rad), math.Sin(a.Out*rad)
	t1x, t1y := math.Cos(b.In*rad), math.Sin(b.In*rad)
	vx, vy := b.X-a.X, b.Y-a.Y
	vt := vx*(t0x+t1x) + vy*(t0y+t1y)
	vv := vx*vx + vy*vy
	k := 2 * (1 - t0x*t1x - t0y*t1y)
	d := vv / (vt + math.Sqrt(vt*vt+k*vv))
	mx, my := (a.X+b.X+d*(t0x-t1x))/2, (a.Y+b.Y+d*(t0y-t1y))/2
	lean := func(ux, uy, wx, wy float64) float64 {
		l := math.Tan(math.Atan2(ux*wy-uy*wx, ux*wx+uy*wy) / 2)
		if math.Abs(l) < 1e-6 {
			return 0
		}
		return l
	}
	b0, b1 := lean(t0x, t0y, mx-a.X, my-a.Y), lean(b.X-mx, b.Y-my, t1x, t1y)
	if b0 == 0 && b1 == 0 {
		return []Arc{{a.X, a.Y, b.X, b.Y, 0}}
	}
	return []Arc{{a.X, a.Y, mx, my, b0}, {mx, my, b.X, b.Y, b1}}
}

// Pose brings a shape from the blade's axes into the drawing: mirrored in y, turned, shifted, in
// other units.
type Pose struct {
	Mirror bool
	Deg    float64
	X, Y   float64 // mm
	Unit   float64 // mm
}

// Point is where a point comes to lie, in drawing units.
func (p Pose) Point(x, y float64) (float64, float64) {
	if p.Mirror {
		y = -y
	}
	s, c := math.Sincos(p.Deg * math.Pi / 180)
	return (x*c - y*s + p.X) / p.Unit, (x*s + y*c + p.Y) / p.Unit
}

// Arcs are arcs as they come to lie.
func (p Pose) Arcs(in []Arc) []Arc {
	out := make([]Arc, len(in))
	for i, a := range in {
		out[i].AX, out[i].AY = p.Point(a.AX, a.AY)
		out[i].BX, out[i].BY = p.Point(a.BX, a.BY)
		out[i].Bulge = a.Bulge
		if p.Mirror {
			out[i].Bulge = -a.Bulge
		}
	}
	return out
}

// Points are points as they come to lie.
func (p Pose) Points(in [][2]float64) [][2]float64 {
	out := make([][2]float64, len(in))
	for i, q := range in {
		out[i][0], out[i][1] = p.Point(q[0], q[1])
	}
	return out
}
