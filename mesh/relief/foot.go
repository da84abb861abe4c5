package relief

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// cutFeet cuts the plan along the lines where the ends of a span meet, so that every triangle is
// either full or empty.
func (w *work) cutFeet() error {
	feet := w.thinned(w.feet())
	if w.bad != nil {
		return w.bad
	}
	cuts := make(map[[2]int][]int) // the points of an edge, from its one end to the other
	var on []int                   // all points on feet
	ends := make([][2]int, len(feet))
	for i, f := range feet {
		for n := range f {
			v, err := w.cutAt(f[n], cuts)
			if err != nil {
				return fmt.Errorf("plan: %w", err)
			}
			ends[i][n] = v
			on = append(on, v)
		}
	}
	for _, e := range ends {
		by, err := w.draft.lay(e[0], e[1], 0)
		if err != nil {
			return fmt.Errorf("plan: %w", err)
		}
		on = append(on, by...)
	}
	w.survey()
	for _, v := range on {
		w.foot[v] = true
	}
	return nil
}

// cutAt is the point for a footing. On a line each zone beside it has a foot of its own, and so there may be several
// on one edge.
func (w *work) cutAt(f footing, cuts map[[2]int][]int) (int, error) {
	from, to := f.edge[0], f.edge[1]
	if from == to {
		return from, nil
	}
	start := w.plan.Point(from)
	far := r2.Norm2(r2.Sub(f.at, start))
	n := 0
	for _, v := range cuts[f.edge] {
		p := w.plan.Point(v)
		if r2.Norm(r2.Sub(p, f.at)) < nearby {
			return v, nil
		}
		if r2.Norm2(r2.Sub(p, start)) > far {
			to = v
			break
		}
		from = v
		n++
	}
	v, err := w.plan.SplitBetween(from, to, f.at)
	cuts[f.edge] = slices.Insert(cuts[f.edge], n, v)
	return v, err
}

// footing is a point where the ends of a span meet: on an edge of the plan, or at a point of it,
// twice named.
type footing struct {
	edge [2]int
	at   r2.Vec
	z    float64
}

// feet are the pieces of the feet, one for each triangle that a foot crosses.
func (w *work) feet() [][2]footing {
	feet := make([][2]footing, 0, len(w.roots)) // about as many as were found on edges
	for i, z := range w.zone {
		for k := range z.spans {
			f := w.footings(i, z, k, w.thicknesses(z, k, i))
			if len(f) == 2 && f[0].edge != f[1].edge {
				feet = append(feet, [2]footing(f))
			}
		}
	}
	return feet
}

// footings are where the foot of span k of a zone, of which the thicknesses are given, meets the corners and sides of triangle i. A
// foot that meets a side near a corner meets the corner. The list holds until footings are asked for again.
func (w *work) footings(i int, z *zone, k int, thick [3]float64) []footing {
	found := w.found[:0]
	add := func(f footing) {
		f.z = w.at(z, 2*k, f.at)
		for _, g := range found {
			if g.edge == f.edge {
				return
			}
		}
		found = append(found, f)
	}
	corner := func(v int) { add(footing{edge: [2]int{v, v}, at: w.points[v]}) }
	t := w.plan.Triangle(i)
	for j, v := range t {
		u := t[(j+1)%3]
		tp, tq := thick[j], thick[(j+1)%3]
		if tp == 0 {
			corner(v)
		}
		if tp*tq >= 0 {
			continue
		}
		p, q := w.points[v], w.points[u]
		at := w.rootOn(z, k, u, v)
		switch {
		case r2.Norm(r2.Sub(at, p)) < nearby:
			corner(v)
		case r2.Norm(r2.Sub(at, q)) < nearby:
			corner(u)
		default:
			add(footing{edge: [2]int{min(u, v), max(u, v)}, at: at})
		}
	}
	w.found = found
	return found
}

// leastSteps is the least thickness of a full triangle at a corner, in steps of the plan's grid: a
// foot ends in a wall of that height, a micrometre, so that no two sheets of the mesh ever touch. On
// a steep side the wall is higher, so that the triangles between the two are no slivers.
const leastSteps = 10

// levels are the heights of the ends of span k of a zone over point v as the mesh has them, on the
// plan's grid, where the span is full.
func (w *work) levels(z *zone, k, v int) interval {
	at := *z.levels[k]
	if v >= len(at) {
		at = slices.Grow(at, cap(w.points)-len(at))
		for len(at) < len(w.points) {
			at = append(at, interval{})
		}
		*z.levels[k] = at
	}
	if at[v] == (interval{}) { // of a full span one is above the other
		at[v] = w.round(z, k, v)
	}
	return at[v]
}

// levelsOf is where the levels of a span are remembered: with those of all that are known to be the same.
func (w *work) levelsOf(s Span) *[]interval {
	key := [2]int{s.LowKey, s.HighKey}
	if key[0] == 0 || key[1] == 0 {
		return new([]interval)
	}
	if w.levelled[key] == nil {
		w.levelled[key] = new([]interval)
	}
	return w.levelled[key]
}

// round rounds the two heights to the grid. On a foot, where rounding the point to the grid has
// left the two apart, they come together equally far from both surfaces, or where one is level, on that.
func (w *work) round(z *zone, k, v int) interval {
	lo, hi := w.over(z, 2*k, v), w.over(z, 2*k+1, v)
	low, high := snap(lo), snap(hi)
	open := hi - lo
	if open > 100*nearby {
		return interval{low, high}
	}
	p := w.points[v]
	nl, nh := w.steepness(z, 2*k, p), w.steepness(z, 2*k+1, p)
	half := int32(math.Ceil(max(leastSteps, min(max(nl, nh), 100)) / 2))
	if w.foot[v] && open < 2*nearby*(nl+nh) {
		switch {
		case z.ends[2*k].even:
			return interval{low, low + 2*half}
		case z.ends[2*k+1].even:
			return interval{high - 2*half, high}
		}
		z := snap(lo + open*nl/(nl+nh))
		return interval{z - half, z + half}
	}
	return interval{low, max(high, low+2*half)}
}
