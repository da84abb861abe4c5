package relief

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// thinness is the thickness, in tolerances, below which a span is thin.
const thinness = 4

// thin tells whether span k is thin over triangle i of its zone: on a foot, or at any corner. There
// lid and floor keep to the triangles of the plan, so that they cannot meet, however they miss
// their heights.
func (w *work) thin(z *zone, k, i int) bool {
	for _, v := range w.triangles[i] {
		if w.foot[v] || w.thickness(z, k, v) < thinness*w.opt.Tolerance {
			return true
		}
	}
	return false
}

// refineThin adds points to the plan until no plane over a triangle where a span is thin misses the
// heights of its ends by more than is allowed.
func (w *work) refineThin() error {
	w.plan.Fresh()
	triangles := make([]int, len(w.triangles))
	for i := range triangles {
		triangles[i] = i
	}
	for {
		misses := w.thinMisses(triangles)
		if w.bad != nil {
			return w.bad
		}
		before := w.plan.Len()
		for _, m := range misses {
			if w.plan.Triangle(m.triangle) != m.corners {
				continue
			}
			var err error
			if m.side >= 0 {
				_, err = w.plan.Split(m.triangle, m.side, m.at)
			} else {
				_, err = w.plan.Insert(m.at)
			}
			if err != nil {
				return fmt.Errorf("plan: %w", err)
			}
		}
		if w.plan.Len() == before {
			return nil
		}
		w.survey()
		if len(w.points) > w.opt.MaxPoints {
			return fmt.Errorf("%w: %d", ErrTooFine, w.opt.MaxPoints)
		}
		triangles = w.plan.Fresh()
	}
}

func (w *work) thinMisses(triangles []int) []miss {
	var misses []miss
	for _, i := range triangles {
		z := w.zone[i]
		best := miss{triangle: i, corners: w.triangles[i], far: 1}
		for k := range z.spans {
			if !w.open(z, k, i) || !w.thin(z, k, i) {
				continue
			}
			for end := 2 * k; end <= 2*k+1; end++ {
				if m := w.thinMiss(z, end, i); m.far > best.far {
					best = m
				}
			}
		}
		if best.far > 1 {
			misses = append(misses, best)
		}
	}
	slices.SortStableFunc(misses, func(a, b miss) int { return cmp.Compare(b.far, a.far) })
	return misses
}

func (w *work) thinMiss(z *zone, end, i int) miss {
	a, b, c := w.corners(i)
	t, q := w.triangles[i], [3]r2.Vec{a, b, c}
	m := miss{triangle: i, corners: t, side: -1, far: 1}
	h := [3]float64{w.over(z, end, t[0]), w.over(z, end, t[1]), w.over(z, end, t[2])}
	normal := steep(q, h)
	newSampler(q).each(func(b [3]float64) {
		p := blend(q, b)
		far := math.Abs(w.at(z, end, p)-b[0]*h[0]-b[1]*h[1]-b[2]*h[2]) / normal / w.allowed()
		if far <= m.far {
			return
		}
		if side, ok := w.room(i, b, p); ok {
			m.at, m.side, m.far = p, side, far
		}
	})
	return m
}

// room tells whether a point can be put into triangle i: on or not near lines about it, not near
// its corners, and not on a foot. It gives the side of a line that the point is on, or -1.
func (w *work) room(i int, b [3]float64, p r2.Vec) (side int, ok bool) {
	t := w.triangles[i]
	side = -1
	keep := math.Max(nearby, w.opt.Tolerance/2)
	for k, v := range t {
		if r2.Norm(r2.Sub(p, w.points[v])) < keep {
			return side, false
		}
		if b[(k+2)%3] == 0 && w.plan.Constrained(i, k) {
			u := t[(k+1)%3]
			return k, !w.foot[v] || !w.foot[u]
		}
	}
	for _, j := range append(w.neighbours(i), i) {
		if j < 0 {
			continue
		}
		for k, v := range w.triangles[j] {
			if !w.plan.Constrained(j, k) {
				continue
			}
			if _, off := onSide(w.points[v], w.points[w.triangles[j][(k+1)%3]], p); off < keep {
				return side, false
			}
		}
	}
	return side, true
}

func (w *work) neighbours(i int) []int {
	n := w.plan.Neighbours(i)
	return n[:]
}
