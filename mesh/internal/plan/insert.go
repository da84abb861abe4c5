package plan

import "gonum.org/v1/gonum/spatial/r2"

// Insert adds a point and returns the index of its vertex; of the one that is there already, if
// the rounded point is one. On an edge it splits it, and both halves are constraints if the edge
// was. A point that is not finite or not within the bounds given to New is an *Error.
func (t *Triangulation) Insert(p r2.Vec) (int, error) {
	if err := t.check(p); err != nil {
		return -1, err
	}
	v, err := t.insert(snap(p))
	return int(v), err
}

// check tells what keeps a point from being inserted.
func (t *Triangulation) check(p r2.Vec) error {
	if !finite(p) {
		return &Error{Kind: NotFinite, At: p}
	}
	if len(t.points) == 0 || max(p.X, -p.X, p.Y, -p.Y) > MaxCoordinate+maxMargin {
		return &Error{Kind: Outside, At: p}
	}
	q := snap(p)
	if q.x < t.low.x || q.y < t.low.y || q.x > t.high.x || q.y > t.high.y {
		return &Error{Kind: Outside, At: p}
	}
	return nil
}

// insert adds a point that is strictly inside the rectangle.
func (t *Triangulation) insert(p point) (int32, error) {
	at := t.locate(p)
	if at.vertex >= 0 {
		return at.vertex, nil
	}
	if len(t.points) >= maxPoints {
		return -1, &Error{Kind: TooMany, At: p.vec()}
	}
	v := int32(len(t.points))
	t.points = append(t.points, p)
	if at.edge >= 0 {
		t.splitEdge(at.edge, v)
	} else {
		t.splitTriangle(at.tri, v)
	}
	t.remember(v)
	t.settleAround(v)
	return v, nil
}

// splitTriangle puts the vertex v into a triangle and joins it to the three corners.
func (t *Triangulation) splitTriangle(tri, v int32) {
	h := 3 * tri
	n := int32(len(t.edges))
	m := n + 3
	a, b, c := t.edges[h].org, t.edges[h+1].org, t.edges[h+2].org
	t.edges = append(t.edges,
		edge{}, edge{org: c, twin: m + 2}, edge{org: v, twin: h + 1},
		edge{}, edge{org: a, twin: h + 2}, edge{org: v, twin: n + 1})
	t.move(n, h+1)
	t.move(m, h+2)
	t.edges[h+1] = edge{org: b, twin: n + 2}
	t.edges[h+2] = edge{org: v, twin: m + 1}
	t.out = append(t.out, h+2)
	t.touch(tri, n/3, m/3)
}

// splitEdge puts the vertex v on the edge of h, which is not on the border, and joins it to the
// two vertices opposite.
func (t *Triangulation) splitEdge(h, v int32) {
	g := t.edges[h].twin
	hn, gn := following(h), following(g)
	src, mark := t.edges[h].src, t.edges[h].mark
	p, q := t.edges[preceding(h)].org, t.edges[preceding(g)].org
	n := int32(len(t.edges))
	m := n + 3
	// h now runs to v, and g, whose start stays, too; n and m carry on from v.
	t.edges = append(t.edges,
		edge{org: v, twin: g, src: src, mark: mark}, edge{}, edge{org: p, twin: hn},
		edge{org: v, twin: h, src: src, mark: mark}, edge{}, edge{org: q, twin: gn})
	t.move(n+1, hn)
	t.move(m+1, gn)
	t.edges[hn] = edge{org: v, twin: n + 2}
	t.edges[gn] = edge{org: v, twin: m + 2}
	t.edges[h].twin = m
	t.edges[g].twin = n
	t.out = append(t.out, n)
	t.touch(h/3, g/3, n/3, m/3)
}

// settleAround restores the Delaunay property after the vertex v came in: only edges opposite to it
// can be bad, and every flip gives it one edge more.
func (t *Triangulation) settleAround(v int32) {
	first := t.out[v]
	for h := first; ; {
		t.suspects = append(t.suspects, following(h))
		if h = t.turn(h); h == first {
			break
		}
	}
	for len(t.suspects) > 0 {
		h := t.suspects[len(t.suspects)-1]
		t.suspects = t.suspects[:len(t.suspects)-1]
		if !t.bad(h) {
			continue
		}
		g := t.edges[h].twin
		t.flip(h)
		t.suspects = append(t.suspects, h, preceding(g))
	}
	t.last = t.out[v] / 3
}

// Split adds the point, rounded, as one of the edge of triangle i from its vertex k to its vertex
// (k+1)%3, and returns the index of its vertex. A constraint is led over the point even where
// rounding puts it a little off the straight line; a free edge gives way, as for Insert. The point
// should be near the edge; if it is an end of it, nothing changes. Beside the faults of Insert and
// Constrain, an edge that does not exist or is on the border is an *Error.
func (t *Triangulation) Split(i, k int, p r2.Vec) (int, error) {
	if i < 0 || i >= len(t.edges)/3 || k < 0 || k > 2 || t.edges[3*i+k].twin < 0 {
		return -1, &Error{Kind: NoEdge, Index: i}
	}
	if err := t.check(p); err != nil {
		return -1, err
	}
	h := int32(3*i + k)
	t.last = int32(i)
	if t.edges[h].src == free {
		v, err := t.insert(snap(p))
		return int(v), err
	}
	t.pieces = t.pieces[:0]
	v, err := t.bend(h, snap(p))
	if err != nil {
		return -1, err
	}
	return int(v), t.force()
}
