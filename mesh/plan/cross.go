package plan

// A crossing takes a piece and a constraint and gives back parts of them, led over the rounded
// crossing. That comes to an end. Take a grid point and a piece that meets its cell, the square of
// side 1 around it, and let a and b be the ends of the piece seen from there. If a.x >= 1 then
// b.x <= 0, or the piece would miss the cell, and the same for the other signs and for y. So
// a.x*b.x <= 0 and a.y*b.y <= 0, hence |a|^2 + |b|^2 <= |a-b|^2: the sum of the squared lengths of all pieces
// and constraints, a whole number, does not grow where a piece is led over the point. It
// stays the same only where a or b is the point itself, which never holds for both that cross, or where a
// diagonal of the grid turns into two sides, which no crossing can divide again.
//
// This holds for the crossing of the pieces as they are. Led over that each time, a line crossed by many would stray:
// each piece starts where rounding put the one before. So the crossing of the straight lines
// that the pieces come from is taken instead, as long as the budget lasts and it makes sense.

// cross leads a piece and the constraint of h, which it crosses from right to left, over the
// crossing.
func (t *Triangulation) cross(p piece, h int32, straight bool) error {
	at := t.meet(p, h, straight)
	n := len(t.pieces)
	t.pieces = append(t.pieces, piece{}, piece{})
	v, err := t.bend(h, at)
	t.pieces[n] = piece{v, p.b, p.src}
	t.pieces[n+1] = piece{p.a, v, p.src}
	return err
}

// bend puts a point on the constraint of h and returns its vertex. Unless the point is exactly on
// it, it is no constraint any more, and its two parts are listed in pieces.
func (t *Triangulation) bend(h int32, at point) (int32, error) {
	c, d := t.edges[h].org, t.dest(h)
	switch at {
	case t.points[c]:
		return c, nil
	case t.points[d]:
		return d, nil
	}
	t.last = h / 3
	if orient(t.points[c], t.points[d], at) == 0 {
		return t.insert(at)
	}
	src := t.edges[h].src
	t.edges[h].src = free
	t.edges[t.edges[h].twin].src = free
	t.suspects = append(t.suspects, h)
	t.restore()
	v, err := t.insert(at)
	if err != nil {
		return -1, err
	}
	t.pieces = append(t.pieces, piece{v, d, src}, piece{c, v, src})
	return v, nil
}

// meet is where the piece and the constraint of h are led over.
func (t *Triangulation) meet(p piece, h int32, straight bool) point {
	a, b := t.points[p.a], t.points[p.b]
	c, d := t.points[t.edges[h].org], t.points[t.dest(h)]
	if straight {
		if at, ok := t.meetStraight(p.src, t.edges[h].src); ok {
			at, ok1 := clamp(at, a, b)
			at, ok2 := clamp(at, c, d)
			if ok1 || ok2 {
				return at
			}
		}
	}
	at, _ := crossing(a, b, c, d)
	return at
}

// meetStraight is the crossing of two sources, rounded, and whether they have one.
func (t *Triangulation) meetStraight(p, q int32) (point, bool) {
	s, r := t.sources[p-1], t.sources[q-1]
	return crossing(t.points[s.a], t.points[s.b], t.points[r.a], t.points[r.b])
}

// crossing is the point, rounded to the grid, where the lines from a to b and from c to d cross,
// and whether they do so between their ends.
func crossing(a, b, c, d point) (point, bool) {
	oc, od := orient(a, b, c), orient(a, b, d)
	oa, ob := orient(c, d, a), orient(c, d, b)
	if !opposite(oc, od) || !opposite(oa, ob) {
		return point{}, false
	}
	num := uint64(max(oc, -oc))
	den := num + uint64(max(od, -od))
	return point{
		int32(int64(c.x) + scale(int64(d.x)-int64(c.x), num, den)),
		int32(int64(c.y) + scale(int64(d.y)-int64(c.y), num, den)),
	}, true
}

// opposite tells whether one is positive and the other negative.
func opposite(a, b int64) bool { return a < 0 && b > 0 || a > 0 && b < 0 }

// clamp is the point if it is between a and b, as seen along the axis that they are further apart on;
// else the nearer of the two, and false.
func clamp(p, a, b point) (point, bool) {
	lo, hi, x := int64(a.x), int64(b.x), int64(p.x)
	if dx, dy := hi-lo, int64(b.y)-int64(a.y); max(dx, -dx) < max(dy, -dy) {
		lo, hi, x = int64(a.y), int64(b.y), int64(p.y)
	}
	if lo > hi {
		a, b, lo, hi = b, a, hi, lo
	}
	switch {
	case x <= lo:
		return a, false
	case x >= hi:
		return b, false
	}
	return p, true
}
