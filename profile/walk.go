package profile

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Walk tells of one point after the other how far a path is, quickly where they lie close together. It may not be used by
// several goroutines at once.
type Walk struct {
	near   *Near
	item   int32   // that was nearest; -1: none yet
	others float64 // no other item is nearer to the last point than this
	last   r2.Vec
}

// Walk begins one along points that are near each other.
func (n *Near) Walk() Walk { return Walk{near: n, item: -1} }

// Distance is how far the path is from q, in mm: what Nearest says. For an empty path it is infinite.
//
// As long as the item that was nearest is nearer than any other can have come since, no other is looked at.
func (w *Walk) Distance(q r2.Vec) float64 {
	const rounding = 1e-9
	if w.item >= 0 {
		w.others -= math.Sqrt(r2.Norm2(r2.Sub(q, w.last))) + rounding
		w.last = q
		if d := math.Sqrt(r2.Norm2(r2.Sub(w.near.items[w.item].nearest(q), q))); d < w.others {
			return d
		}
	}
	var d float64
	_, w.item, d = w.near.search(q, math.Inf(1), -1)
	_, _, w.others = w.near.search(q, math.Inf(1), w.item)
	w.last = q
	return d
}
