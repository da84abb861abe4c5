package plan

import "gonum.org/v1/gonum/spatial/r2"

// place is where a point lies: in a triangle, on an edge or at a vertex.
type place struct {
	tri    int32 // a triangle that has it in it or on its rim
	edge   int32 // the half-edge of tri it is on, else -1
	vertex int32 // the vertex it is at, else -1
}

// located is the point located last, and where it lies while no triangle changes.
type located struct {
	point
	place
	still bool
}

// Locate is a triangle that holds the point, rounded to the grid, in it or on its rim; -1 if the
// point is outside Bounds or not finite. It is quick for points near the last one used.
func (t *Triangulation) Locate(p r2.Vec) int {
	b := t.Bounds()
	if !finite(p) || len(t.points) == 0 ||
		p.X < b.Min.X || p.X > b.Max.X || p.Y < b.Min.Y || p.Y > b.Max.Y {
		return -1
	}
	return int(t.locate(snap(p)).tri)
}

// locate finds a point of the rectangle, at once where it was the last one.
func (t *Triangulation) locate(p point) place {
	if t.latest.still && t.latest.point == p {
		t.last = t.latest.tri
		return t.latest.place
	}
	t.latest = located{p, t.walk(p), true}
	return t.latest.place
}

// walk finds a point of the rectangle. It walks from the last triangle used towards the point,
// never back over the edge it came by (Devillers, Pion and Teillaud, "Walking in a triangulation",
// 2002). With constraints a walk may go in circles; it tries the other two edges in an order that
// varies without pattern, and if it still is not there after as many steps as there are triangles,
// it looks at all of them.
func (t *Triangulation) walk(p point) place {
	tri, from := t.start(p), int32(-1)
	seed := uint32(1)
	for range len(t.edges) {
		seed = seed*1664525 + 1013904223 // Knuth, The Art of Computer Programming 2, 3.3.4 table 1
		h := t.exit(tri, from, p, seed>>31 != 0)
		if h < 0 {
			return t.settle(tri, p)
		}
		from = t.edges[h].twin
		tri = from / 3
	}
	return t.scan(p)
}

// scan finds a point of the rectangle by looking at one triangle after the other.
func (t *Triangulation) scan(p point) place {
	tri := int32(0)
	for t.exit(tri, -1, p, false) >= 0 {
		tri++
	}
	return t.settle(tri, p)
}

// exit is an edge of the triangle, other than from, that has p strictly beyond it and a triangle
// on its far side, or -1.
func (t *Triangulation) exit(tri, from int32, p point, swap bool) int32 {
	a, b, c := from, 3*tri+1, 3*tri+2
	if from < 0 {
		a = 3 * tri
	} else {
		b, c = following(a), preceding(a)
	}
	if swap {
		b, c = c, b
	}
	switch {
	case t.beyond(b, p):
		return b
	case t.beyond(c, p):
		return c
	case from < 0 && t.beyond(a, p):
		return a
	}
	return -1
}

// beyond tells whether p is strictly to the right of h and there is a triangle there.
func (t *Triangulation) beyond(h int32, p point) bool {
	e := &t.edges[h]
	return orient(t.points[e.org], t.points[t.dest(h)], p) < 0 && e.twin >= 0
}

// settle tells where in the triangle, which holds it, the point lies, and starts the next walk
// there.
func (t *Triangulation) settle(tri int32, p point) place {
	t.last = tri
	at := place{tri: tri, edge: -1, vertex: -1}
	for h := 3 * tri; h < 3*tri+3; h++ {
		a, b := t.edges[h].org, t.dest(h)
		switch {
		case t.points[a] == p:
			at.vertex = a
			return at
		case orient(t.points[a], t.points[b], p) == 0 && t.points[b] != p:
			at.edge = h
		}
	}
	return at
}
