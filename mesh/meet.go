package mesh

import "math/bits"

// Whether two triangles meet where they should not is decided by signs of exact determinants alone.
// Both must have an area. What they share is told by their indices: the same vertex, not merely the
// same place.

// intersect tells whether two triangles have a point in common beyond the vertices and the edge that
// they share. Triangles with all three vertices in common are duplicates and another fault.
func (c *checker) intersect(i, j int32) bool {
	s, t := &c.Triangles[i], &c.Triangles[j]
	shared, si, ti := 0, 0, 0 // how many, and the sum of their corners in each
	settled := false
	for same := common(s, t); same != 0; same &= same - 1 {
		at := bits.TrailingZeros(same)
		shared, si, ti = shared+1, si+at/4, ti+at%4
		settled = settled || c.settled[s[at/4]]
	}
	if shared == 3 || settled {
		return false
	}
	a, b := c.grid.triangle(i), c.grid.triangle(j)
	switch shared {
	case 0:
		return apart(&a, &b)
	case 1:
		return hinged(rotated(a, si), rotated(b, ti))
	default: // the corner not shared is what the sum lacks of 0 + 1 + 2
		return folded(rotated(a, 3-si), &b[3-ti])
	}
}

// common tells which vertices are the same: bit 4 k + l for corner k of the first and l of the second.
func common(s, t *[3]int32) (same uint) {
	for k, v := range s {
		for l, w := range t {
			bit := uint(0)
			if v == w { // compiled without a branch
				bit = 1
			}
			same |= bit << (4*k + l)
		}
	}
	return same
}

// rotated is the triangle begun at corner k.
func rotated(t [3]point, k int) *[3]point { return &[3]point{t[k], t[(k+1)%3], t[(k+2)%3]} }

// sides are the sides of t's plane on which the corners of o lie.
func sides(t, o *[3]point) [3]int {
	return [3]int{above(&t[0], &t[1], &t[2], &o[0]), above(&t[0], &t[1], &t[2], &o[1]), above(&t[0], &t[1], &t[2], &o[2])}
}

// apart is intersect for triangles that share no vertex: any point in common counts.
func apart(a, b *[3]point) bool {
	sb := sides(a, b)
	if sb[0] == sb[1] && sb[1] == sb[2] {
		return sb[0] == 0 && overlap(a, b)
	}
	sa := sides(b, a)
	if sa[0] == sa[1] && sa[1] == sa[2] { // not all zero: the planes differ
		return false
	}
	// Triangles in two planes meet if and only if an edge of one meets the other. Edges that lie in
	// the other's plane need no look: an end that lies in the other triangle also ends an edge that
	// leaves the plane.
	return pierces(b, &sb, a) || pierces(a, &sa, b)
}

// pierces tells whether an edge of e, whose corners lie on the given sides of t's plane, crosses
// that plane within t, its border included.
func pierces(e *[3]point, s *[3]int, t *[3]point) bool {
	for k := range 3 {
		p, q, from, to := &e[k], &e[(k+1)%3], s[k], s[(k+1)%3]
		if from == to || from*to > 0 {
			continue
		}
		x, y := above(p, q, &t[0], &t[1]), above(p, q, &t[1], &t[2])
		if x*y < 0 {
			continue
		}
		if z := above(p, q, &t[2], &t[0]); x*z >= 0 && y*z >= 0 {
			return true
		}
	}
	return false
}

// overlap is apart in one plane: two triangles are apart if and only if an edge of one has the whole
// other strictly on its outer side.
func overlap(a, b *[3]point) bool {
	axis, wa := facing(a)
	wb := turn(&b[0], &b[1], &b[2], axis)
	return !separates(a, wa, b, axis) && !separates(b, wb, a, axis)
}

// facing is an axis along which the triangle is seen as a triangle, and which way round.
func facing(t *[3]point) (axis, winding int) {
	for axis = range 3 {
		if winding = turn(&t[0], &t[1], &t[2], axis); winding != 0 {
			break
		}
	}
	return axis, winding
}

// separates tells whether an edge of a, wound as given, has b strictly outside.
func separates(a *[3]point, winding int, b *[3]point, axis int) bool {
	for k := range 3 {
		p, q := &a[k], &a[(k+1)%3]
		if turn(p, q, &b[0], axis) == -winding && turn(p, q, &b[1], axis) == -winding && turn(p, q, &b[2], axis) == -winding {
			return true
		}
	}
	return false
}

// hinged is intersect for triangles that share their first corner and nothing else. A further point
// in common lies on a ray from that corner, so that it is enough to compare directions.
func hinged(a, b *[3]point) bool {
	v := &a[0]
	s1, s2 := above(v, &a[1], &a[2], &b[1]), above(v, &a[1], &a[2], &b[2])
	switch {
	case s1*s2 > 0:
		return false
	case s1 == 0 && s2 == 0:
		return fanned(a, b)
	}
	if above(v, &b[1], &b[2], &a[1])*above(v, &b[1], &b[2], &a[2]) > 0 {
		return false
	}
	// b's far edge crosses a's plane at one point; it must lie between a's two near edges. Seen along
	// the edge from below, a's edges run counter-clockwise about that point.
	way := 1
	if s1 > s2 {
		way = -1
	}
	return way*above(&b[1], &b[2], v, &a[1]) >= 0 && way*above(&b[1], &b[2], &a[2], v) >= 0
}

// fanned is hinged in one plane: the two angles overlap if a leg of one lies within the other.
func fanned(a, b *[3]point) bool {
	axis, wa := facing(a)
	wb := turn(&b[0], &b[1], &b[2], axis)
	return within(a, wa, &b[1], axis) || within(a, wa, &b[2], axis) ||
		within(b, wb, &a[1], axis) || within(b, wb, &a[2], axis)
}

// within tells whether p lies between the two legs from t's first corner, or on one.
func within(t *[3]point, winding int, p *point, axis int) bool {
	return winding*turn(&t[0], &t[1], p, axis) >= 0 && winding*turn(&t[0], p, &t[2], axis) >= 0
}

// folded is intersect for triangles that share an edge: a's first corner and d are the ones not
// shared. They meet beyond the edge only if one lies on the other.
func folded(a *[3]point, d *point) bool {
	if above(&a[0], &a[1], &a[2], d) != 0 {
		return false
	}
	axis, winding := facing(a)
	return turn(&a[1], &a[2], d, axis) == winding
}
