package plan

import (
	"cmp"

	"gonum.org/v1/gonum/spatial/r2"
)

// source is the straight line between two vertices that a constraint edge is a part of.
type source struct{ a, b int32 }

// piece is a part of a source that is still to be made a constraint, as straight as it can be.
type piece struct {
	a, b, src int32
	mark      uint8
}

// AddLine adds the points and makes the parts of the line between one and the next constraints;
// also from the last back to the first if it is closed. Points that round to the one before are
// passed over. Either all points are fit to be inserted or none is, and the error is that of Insert
// for the first that is not.
func (t *Triangulation) AddLine(points []r2.Vec, closed bool) error {
	for _, p := range points {
		if err := t.check(p); err != nil {
			return err
		}
	}
	line := make([]int32, 0, len(points)+1)
	for _, p := range points {
		v, err := t.insert(snap(p))
		if err != nil {
			return err
		}
		line = append(line, v)
	}
	if closed && len(line) > 2 {
		line = append(line, line[0])
	}
	for i := 1; i < len(line); i++ {
		if err := t.constrain(line[i-1], line[i], 0); err != nil {
			return err
		}
	}
	return nil
}

// Constrain makes the straight line between two vertices a chain of constraint edges, by way of the
// vertices that lie on it. Where it crosses a constraint both are led over the crossing, rounded to
// the grid; that vertex is added if need be. A vertex to itself is no line and no fault. An index
// that no vertex has, or one of the four corners, is an *Error.
func (t *Triangulation) Constrain(a, b int) error { return t.ConstrainAs(a, b, 0) }

// ConstrainAs is Constrain, and puts the bits of a mark on all edges of the chain. An edge along which
// two lines run has the bits of both.
func (t *Triangulation) ConstrainAs(a, b int, mark uint8) error {
	for _, v := range []int{a, b} {
		if v < corners || v >= len(t.points) {
			return &Error{Kind: NoVertex, Index: v}
		}
	}
	return t.constrain(int32(a), int32(b), mark)
}

func (t *Triangulation) constrain(a, b int32, mark uint8) error {
	t.sources = append(t.sources, source{a, b})
	t.pieces = append(t.pieces[:0], piece{a, b, int32(len(t.sources)), mark})
	return t.force()
}

// force makes all pieces constraints, and the parts of the constraints that they cross again.
func (t *Triangulation) force() error {
	for len(t.pieces) > 0 {
		last := len(t.pieces) - 1
		p := t.pieces[last]
		t.pieces = t.pieces[:last]
		h := t.enforce(&p)
		if h < 0 {
			continue
		}
		if err := t.cross(p, h); err != nil {
			return err
		}
	}
	return nil
}

// enforce makes the piece a chain of constraint edges. If a constraint crosses it, it returns that
// edge, from left to right, and leaves what is still to be done in the piece; else it returns -1.
func (t *Triangulation) enforce(p *piece) int32 {
	for p.a != p.b {
		h, along := t.depart(p.a, p.b)
		if !along {
			if crossed := t.corridor(p.a, p.b, h); crossed >= 0 {
				return crossed
			}
			h = t.clear()
		}
		e := &t.edges[h]
		if e.src == free {
			e.src = p.src
			t.edges[e.twin].src = p.src
		}
		e.mark |= p.mark
		t.edges[e.twin].mark = e.mark
		p.a = t.dest(h)
		t.restore()
	}
	return -1
}

// depart finds the way out of the vertex a towards b: either along a half-edge, or into the
// triangle whose far side, the half-edge returned, the line crosses.
func (t *Triangulation) depart(a, b int32) (h int32, along bool) {
	from, to := t.points[a], t.points[b]
	h = t.out[a]
	x := t.points[t.dest(h)]
	side := orient(from, to, x)
	for {
		if side == 0 && ahead(from, to, x) {
			return h, true
		}
		x = t.points[t.edges[preceding(h)].org]
		next := orient(from, to, x)
		if side < 0 && next > 0 {
			return following(h), false
		}
		h, side = t.turn(h), next
	}
}

// ahead tells whether x, on the line through the points a and b, is on b's side of a.
func ahead(a, b, x point) bool {
	return cmp.Compare(b.x, a.x) == cmp.Compare(x.x, a.x) &&
		cmp.Compare(b.y, a.y) == cmp.Compare(x.y, a.y)
}

// corridor follows the line from a to b over the half-edge h, which it crosses from right to left
// as seen along the line, to the next vertex on it. It lists in chain the vertices to the left of
// the triangles it crosses, with a before them and the vertex reached behind. If it comes to a
// constraint it returns that and stops, else it returns -1.
func (t *Triangulation) corridor(a, b, h int32) int32 {
	from, to := t.points[a], t.points[b]
	t.chain = append(t.chain[:0], a, t.dest(h))
	for {
		if t.edges[h].src != free {
			return h
		}
		g := t.edges[h].twin
		apex := t.edges[preceding(g)].org
		side := orient(from, to, t.points[apex])
		if side >= 0 {
			t.chain = append(t.chain, apex)
		}
		switch {
		case side == 0:
			return -1
		case side > 0:
			h = following(g)
		default:
			h = preceding(g)
		}
	}
}

// clear flips all edges away that cross the line from the first to the last vertex of chain, and
// returns the half-edge that then joins them. Of three vertices in a row in the chain, the middle
// one can be cut off where the turn at it is convex, which leaves a shorter chain; as the chain is
// to the left of the line all along, some turn is convex until only its ends are left.
func (t *Triangulation) clear() int32 {
	hull := t.hull[:0]
	for _, v := range t.chain {
		for len(hull) > 1 {
			p, q := hull[len(hull)-2], hull[len(hull)-1]
			if orient(t.points[p], t.points[q], t.points[v]) >= 0 {
				break
			}
			t.cutOff(p, q, v)
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, v)
	}
	t.hull = hull
	return t.find(hull[0], hull[1])
}

// cutOff flips all edges away that leave v between its edges to p and, counter-clockwise from
// there, to n, which make an angle of less than half a turn, so that the triangle of the three
// comes about. They lead to vertices beyond the line from p to n. While there are such, one of them
// makes a convex angle with those before and after it, seen from v, or none of them could be beyond
// the line; its edge can be flipped.
func (t *Triangulation) cutOff(p, v, n int32) {
	h := t.turn(t.find(v, p))
	for h >= 0 && t.dest(h) != n { // on the border there is no half-edge from v to n
		before := t.edges[preceding(t.edges[h].twin)].org
		at := t.dest(h)
		after := t.edges[preceding(h)].org
		if orient(t.points[before], t.points[at], t.points[after]) <= 0 {
			h = t.turn(h)
			continue
		}
		t.suspect(h)
		t.flip(h) // now h leads to the one before
		if before == p {
			h = t.turn(h)
		}
	}
}
