package main

import "math"

// node is a point that an outline goes through, in mm, with its direction on arriving and leaving in
// degrees from x.
type node struct {
	x, y    float64
	in, out float64
}

// smooth is a node that the outline passes without a corner.
func smooth(x, y, deg float64) node { return node{x, y, deg, deg} }

// corner is a node with two directions.
func corner(x, y, in, out float64) node { return node{x, y, in, out} }

// arc is a straight line or an arc with a bulge from a to b.
type arc struct {
	ax, ay, bx, by, bulge float64
}

// through joins the nodes by pairs of tangent arcs, and closes the row when asked.
func through(closed bool, nodes ...node) []arc {
	var out []arc
	for i := range nodes {
		if i == len(nodes)-1 && !closed {
			break
		}
		out = append(out, pair(nodes[i], nodes[(i+1)%len(nodes)])...)
	}
	return out
}

// pair is two arcs with equal tangent lengths from one node to the next, or one line.
func pair(a, b node) []arc {
	rad := math.Pi / 180
	t0x, t0y := math.Cos(a.out*rad), math.Sin(a.out*rad)
	t1x, t1y := math.Cos(b.in*rad), math.Sin(b.in*rad)
	vx, vy := b.x-a.x, b.y-a.y
	vt := vx*(t0x+t1x) + vy*(t0y+t1y)
	vv := vx*vx + vy*vy
	k := 2 * (1 - t0x*t1x - t0y*t1y)
	d := vv / (vt + math.Sqrt(vt*vt+k*vv))
	mx, my := (a.x+b.x+d*(t0x-t1x))/2, (a.y+b.y+d*(t0y-t1y))/2
	lean := func(ux, uy, wx, wy float64) float64 {
		l := math.Tan(math.Atan2(ux*wy-uy*wx, ux*wx+uy*wy) / 2)
		if math.Abs(l) < 1e-6 {
			return 0
		}
		return l
	}
	b0, b1 := lean(t0x, t0y, mx-a.x, my-a.y), lean(b.x-mx, b.y-my, t1x, t1y)
	if b0 == 0 && b1 == 0 {
		return []arc{{a.x, a.y, b.x, b.y, 0}}
	}
	return []arc{{a.x, a.y, mx, my, b0}, {mx, my, b.x, b.y, b1}}
}

// pose brings a shape from the blade's axes into the drawing: mirrored in y, turned, shifted, in
// other units.
type pose struct {
	mirror bool
	deg    float64
	x, y   float64 // mm
	unit   float64 // mm
}

// point is where a point comes to lie, in drawing units.
func (p pose) point(x, y float64) (float64, float64) {
	if p.mirror {
		y = -y
	}
	s, c := math.Sincos(p.deg * math.Pi / 180)
	return (x*c - y*s + p.x) / p.unit, (x*s + y*c + p.y) / p.unit
}

// arcs are arcs as they come to lie.
func (p pose) arcs(in []arc) []arc {
	out := make([]arc, len(in))
	for i, a := range in {
		out[i].ax, out[i].ay = p.point(a.ax, a.ay)
		out[i].bx, out[i].by = p.point(a.bx, a.by)
		out[i].bulge = a.bulge
		if p.mirror {
			out[i].bulge = -a.bulge
		}
	}
	return out
}

// points are points as they come to lie.
func (p pose) points(in [][2]float64) [][2]float64 {
	out := make([][2]float64, len(in))
	for i, q := range in {
		out[i][0], out[i][1] = p.point(q[0], q[1])
	}
	return out
}
