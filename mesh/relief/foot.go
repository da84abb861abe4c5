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
	feet := w.feet()
	if w.bad != nil {
		return w.bad
	}
	at := make(map[[2]int]int) // the point put on an edge
	for _, f := range feet {
		for _, on := range f {
			if _, done := at[on.edge]; done || on.edge[0] == on.edge[1] {
				continue
			}
			v, err := w.plan.SplitBetween(on.edge[0], on.edge[1], on.at)
			if err != nil {
				return fmt.Errorf("plan: %w", err)
			}
			at[on.edge] = v
		}
	}
	point := func(f footing) int {
		if f.edge[0] == f.edge[1] {
			return f.edge[0]
		}
		return at[f.edge]
	}
	for _, f := range feet {
		if err := w.plan.Constrain(point(f[0]), point(f[1])); err != nil {
			return fmt.Errorf("plan: %w", err)
		}
	}
	w.survey()
	return nil
}

// footing is a point where the ends of a span meet: on an edge of the plan, or at a point of it,
// twice named.
type footing struct {
	edge [2]int
	at   r2.Vec
}

// feet are the pieces of the feet, one for each triangle that a foot crosses.
func (w *work) feet() [][2]footing {
	var feet [][2]footing
	for i, r := range w.region {
		for k := range w.spans[r] {
			if f := w.footings(i, r, k); len(f) == 2 {
				feet = append(feet, [2]footing(f))
			}
		}
	}
	return feet
}

// footings are where the foot of span k of region r meets the corners and sides of triangle i.
func (w *work) footings(i, r, k int) []footing {
	var found []footing
	t := w.triangles[i]
	for j, v := range t {
		u := t[(j+1)%3]
		p, q := w.points[v], w.points[u]
		tp, tq := w.thickness(r, k, p), w.thickness(r, k, q)
		switch {
		case tp == 0:
			found = append(found, footing{edge: [2]int{v, v}, at: p})
		case tp*tq < 0:
			found = append(found, footing{edge: [2]int{min(u, v), max(u, v)}, at: w.root(r, k, p, q)})
		}
	}
	return found
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
