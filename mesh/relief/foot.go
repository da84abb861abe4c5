package relief

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"
)

// pinchTolerance is the thickness below which a span is closed at a point: what rounding the point
// to the plan's grid can open on the steepest wall (1 in 60, about a degree of draft).
const pinchTolerance = 60 * 1e-4

// cutFeet cuts the plan along the lines where the ends of a span meet, so that every triangle is
// either full or empty.
func (w *work) cutFeet() error {
	type cut struct{ a, b r2.Vec }
	var cuts []cut
	for i, r := range w.region {
		a, b, c := w.corners(i)
		q := [3]r2.Vec{a, b, c}
		for k := range w.spans[r] {
			var ends []r2.Vec
			for j := range q {
				tj, tn := w.thickness(r, k, q[j]), w.thickness(r, k, q[(j+1)%3])
				switch {
				case tj == 0:
					ends = append(ends, q[j])
				case tj*tn < 0:
					ends = append(ends, w.root(r, k, q[j], q[(j+1)%3]))
				}
			}
			if len(ends) == 2 {
				cuts = append(cuts, cut{ends[0], ends[1]})
			}
		}
	}
	if w.bad != nil {
		return w.bad
	}
	for _, c := range cuts {
		if err := w.plan.AddLine([]r2.Vec{c.a, c.b}, false); err != nil {
			return fmt.Errorf("plan: %w", err)
		}
	}
	w.survey()
	return nil
}

// levels are the heights of the ends of span k over point p as the mesh has them, on the plan's
// grid: equal where the span is closed. Where rounding left it a little open, the common height is
// the one equally far from both surfaces.
func (w *work) levels(r, k int, p r2.Vec) (low, high int64) {
	lo, hi := w.height(r, 2*k, p), w.height(r, 2*k+1, p)
	open := hi - lo
	if open > pinchTolerance {
		return snap(lo), snap(hi)
	}
	nl, nh := w.steepness(r, 2*k, p), w.steepness(r, 2*k+1, p)
	if open > 1e-4*(nl+nh) {
		return snap(lo), snap(hi)
	}
	z := snap(lo + open*nl/(nl+nh))
	return z, z
}
