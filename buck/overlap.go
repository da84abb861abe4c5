package buck

import "gonum.org/v1/gonum/spatial/r2"

// Overlap tells whether two outlines of pieces in the plan cover one place, and the middle of the points of either that lie
// in the other. Their points are no further apart than half a millimetre, so that no less than that goes unseen.
func Overlap(a, b []r2.Vec) (at r2.Vec, overlap bool) {
	n := 0.0
	for _, pair := range [2][2][]r2.Vec{{a, b}, {b, a}} {
		in := newPatch(pair[1])
		for _, p := range pair[0] {
			if in.holds(p) {
				at = r2.Add(at, p)
				n++
			}
		}
	}
	if n == 0 {
		return r2.Vec{}, false
	}
	return r2.Scale(1/n, at), true
}
