package plan

// edge is one side of an edge: the half-edge that starts at org and has its triangle to the left.
// The half-edges 3i, 3i+1 and 3i+2 run around triangle i.
type edge struct {
	org  int32 // the vertex it starts at
	twin int32 // the half-edge on the other side, -1 on the border
	src  int32 // the source of the constraint, both sides alike, or free
	mark uint8 // of all constraints along it, both sides alike
}

// free marks an edge that is no constraint.
const free int32 = 0

// following is the next half-edge counter-clockwise around the triangle of h.
func following(h int32) int32 {
	if h%3 == 2 {
		return h - 2
	}
	return h + 1
}

// preceding is the half-edge before h around its triangle.
func preceding(h int32) int32 {
	if h%3 == 0 {
		return h + 2
	}
	return h - 1
}

// dest is the vertex at which h ends.
func (t *Triangulation) dest(h int32) int32 { return t.edges[following(h)].org }

// turn is the half-edge next to h counter-clockwise among those that leave the same vertex, -1
// beyond the border.
func (t *Triangulation) turn(h int32) int32 { return t.edges[preceding(h)].twin }

// find is the half-edge from a to b, -1 if there is none. (One along the border has its triangle
// to the left in one sense only; constraints never get there.)
func (t *Triangulation) find(a, b int32) int32 {
	first := t.out[a]
	for h := first; ; {
		if t.dest(h) == b {
			return h
		}
		if h = t.turn(h); h == first || h < 0 {
			return -1
		}
	}
}

// move puts the half-edge g, which keeps its start, in place of the half-edge h.
func (t *Triangulation) move(h, g int32) {
	e := t.edges[g]
	t.edges[h] = e
	if e.twin >= 0 {
		t.edges[e.twin].twin = h
	}
	if t.out[e.org] == g {
		t.out[e.org] = h
	}
}

// flip replaces the edge of h by the other diagonal of the two triangles beside it, which must form
// a strictly convex quadrilateral. Let h run from u to w, with p to its left and q to its right:
// afterwards h runs from u to q, and the new diagonal is the half-edge following h, from q to p.
func (t *Triangulation) flip(h int32) {
	g := t.edges[h].twin
	hn, gn := following(h), following(g)
	p, q := t.edges[preceding(h)].org, t.edges[preceding(g)].org
	t.move(h, gn)
	t.move(g, hn)
	t.edges[hn] = edge{org: q, twin: gn}
	t.edges[gn] = edge{org: p, twin: hn}
	t.touch(h/3, g/3)
}

// bad tells whether the edge of h is free and not locally Delaunay.
func (t *Triangulation) bad(h int32) bool {
	e := &t.edges[h]
	if e.src != free || e.twin < 0 {
		return false
	}
	hn, hp, gp := following(h), preceding(h), preceding(e.twin)
	return inCircle(t.points[e.org], t.points[t.edges[hn].org], t.points[t.edges[hp].org],
		t.points[t.edges[gp].org])
}

// suspect notes the four sides of the quadrilateral around the edge of h, and the edge itself, to
// be looked at by restore.
func (t *Triangulation) suspect(h int32) {
	g := t.edges[h].twin
	t.suspects = append(t.suspects, following(h), preceding(h), following(g), preceding(g), h)
}

// restore flips until all suspects and what they touch are locally Delaunay (Lawson, "Software for
// C1 surface interpolation", 1977). A flip moves edges to other half-edges, but it moves only the
// four it notes again, so that none is lost from the list.
func (t *Triangulation) restore() {
	for len(t.suspects) > 0 {
		h := t.suspects[len(t.suspects)-1]
		t.suspects = t.suspects[:len(t.suspects)-1]
		if !t.bad(h) {
			continue
		}
		g := t.edges[h].twin
		t.flip(h)
		t.suspects = append(t.suspects, h, preceding(h), g, preceding(g))
	}
}
