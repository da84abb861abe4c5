package plan

import "gonum.org/v1/gonum/spatial/r2"

// The predicates, for tests of their exactness.

// Orient is the sign of the area of the triangle abc, given in grid steps.
func Orient(a, b, c [2]int32) int {
	switch o := orient(point{a[0], a[1]}, point{b[0], b[1]}, point{c[0], c[1]}); {
	case o < 0:
		return -1
	case o > 0:
		return 1
	}
	return 0
}

// InCircle tells whether d is inside the circle through the counter-clockwise triangle abc.
func InCircle(a, b, c, d [2]int32) bool {
	return inCircle(point{a[0], a[1]}, point{b[0], b[1]}, point{c[0], c[1]}, point{d[0], d[1]})
}

// Crossing is the rounded crossing of the lines ab and cd.
func Crossing(a, b, c, d [2]int32) ([2]int32, bool) {
	p, ok := crossing(point{a[0], a[1]}, point{b[0], b[1]}, point{c[0], c[1]}, point{d[0], d[1]})
	return [2]int32{p.x, p.y}, ok
}

// Span is the length up to which the predicates are exact, in grid steps.
const Span = span

// Scan is Locate without a walk, for a point of the rectangle.
func (t *Triangulation) Scan(p r2.Vec) int { return int(t.scan(snap(p)).tri) }
