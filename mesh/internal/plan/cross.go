package plan

import (
	"cmp"
	"math"
)

// A crossing takes a piece and a constraint and gives back the parts of them, led over one grid
// point: its rounded place, or a better one. That comes to an end, because of a number that every
// crossing makes smaller: the sum of the squared lengths of all pieces and constraints. With a and
// b for the ends of one, seen from the point, it changes by |a|^2 + |b|^2 - |a-b|^2 = 2 a.b.
//
// For the rounded crossing, neither a.b nor the same for the other is positive: both lines meet the
// cell of the point, the square of side 1 around it. If a.x >= 1 then b.x < 1, or the line would
// miss the cell, and so on for the other signs and for y: a.x*b.x <= 0 and a.y*b.y <= 0. For the
// point not to be an end of the line and yet a.b = 0, the line must be the diagonal of a square of
// the grid that turns into two of its sides; the sum then stays but there is one piece more, and
// there cannot be more pieces than the sum. The point is not an end of both lines, as they have
// none in common.
//
// If pieces were led over the rounded crossing each time, a line crossed by many would stray: each
// piece starts where rounding put the one before. So a point closer to the straight lines that the
// pieces come from is taken instead, wherever there is one that makes the sum smaller.

// cross leads a piece and the constraint of h, which it crosses, over a common point.
func (t *Triangulation) cross(p piece, h int32) error {
	at := t.meet(p, h)
	n := len(t.pieces)
	t.pieces = append(t.pieces, piece{}, piece{})
	v, err := t.bend(h, at)
	t.pieces[n] = piece{v, p.b, p.src, p.mark}
	t.pieces[n+1] = piece{p.a, v, p.src, p.mark}
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
	src, mark := t.edges[h].src, t.edges[h].mark
	for _, side := range [2]int32{h, t.edges[h].twin} {
		t.edges[side].src, t.edges[side].mark = free, 0
	}
	t.suspects = append(t.suspects, h)
	t.restore()
	v, err := t.insert(at)
	if err != nil {
		return -1, err
	}
	t.pieces = append(t.pieces, piece{v, d, src, mark}, piece{c, v, src, mark})
	return v, nil
}

// meet is where the piece and the constraint of h are led over: the rounded crossing, or what is
// less off the straight lines they come from, among the crossing of these and the ends of both, if
// it makes the sum of squares smaller.
func (t *Triangulation) meet(p piece, h int32) point {
	a, b := t.points[p.a], t.points[p.b]
	c, d := t.points[t.edges[h].org], t.points[t.dest(h)]
	one, two := t.straight(p.src), t.straight(t.edges[h].src)

	best, _ := crossing(a, b, c, d)
	least := max(one.off(best), two.off(best))
	others := [...]point{a, b, c, d, a}
	if at, ok := crossing(one.a, one.b, two.a, two.b); ok {
		others[4] = at
	}
	for _, at := range others {
		first, second := angle(a, at, b), angle(c, at, d)
		if first > 0 || second > 0 || first+second == 0 {
			continue
		}
		if off := max(one.off(at), two.off(at)); off < least {
			best, least = at, off
		}
	}
	return best
}

// straight is a line between two points.
type straight struct{ a, b point }

func (t *Triangulation) straight(src int32) straight {
	s := t.sources[src-1]
	return straight{t.points[s.a], t.points[s.b]}
}

// off is how far a point is from the line, in grid steps.
func (s straight) off(p point) float64 {
	x, y := float64(s.b.x)-float64(s.a.x), float64(s.b.y)-float64(s.a.y)
	// The conversions keep machines that can from fusing the two steps: same result on all.
	length := math.Sqrt(float64(x*x) + float64(y*y))
	return math.Abs(float64(orient(s.a, s.b, p))) / length
}

// angle is the sign of the product of the vectors from p to a and to b: negative for an obtuse
// angle, 0 for a right one or if p is one of the two.
func angle(a, p, b point) int {
	x := (int64(a.x) - int64(p.x)) * (int64(b.x) - int64(p.x))
	y := (int64(a.y) - int64(p.y)) * (int64(b.y) - int64(p.y))
	if (x < 0) == (y < 0) {
		return cmp.Compare(x, -y) // not x+y, which may overflow
	}
	return cmp.Compare(x+y, 0)
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
