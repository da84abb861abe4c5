package relief

import "gonum.org/v1/gonum/spatial/r2"

// thinness is the thickness, in tolerances, below which a span is thin.
const thinness = 4

// thin tells whether a span, of which the thicknesses are given, is thin over triangle i: on a foot, or at any corner. There
// lid and floor keep to the triangles of the plan, so that they cannot meet, however they miss
// their heights.
func (w *work) thin(i int, thick [3]float64) bool {
	for j, v := range w.plan.Triangle(i) {
		if w.foot[v] || thick[j] < thinness*w.opt.Tolerance {
			return true
		}
	}
	return false
}

// refineThin adds points to the plan until no plane over a triangle where a span is thin misses the
// heights of its ends by more than is allowed.
func (w *work) refineThin() error {
	return w.improve(w.plan, w.thinMiss, w.survey)
}

// thinMiss is the worst miss of triangle i in the spans that are thin over it.
func (w *work) thinMiss(i int) (worst miss, found bool) {
	z := w.zone[i]
	t := w.plan.Triangle(i)
	a, b, c := w.corners(i)
	looks := false
	for end := range z.ends {
		if end%2 == 0 {
			thick := w.thicknesses(z, end/2, i)
			looks = w.thin(i, thick) && w.open(z, end/2, i, thick)
		}
		if !looks {
			continue
		}
		heights := [3]float64{w.over(z, end, t[0]), w.over(z, end, t[1]), w.over(z, end, t[2])}
		m, ok := w.planeMiss(&facet{
			corners: [3]r2.Vec{a, b, c}, z: heights, marks: z.ends[end].marks,
			closed: [3]bool{w.onFoot(i, 0), w.onFoot(i, 1), w.onFoot(i, 2)},
			height: func(p r2.Vec) float64 { return w.at(z, end, p) },
			room:   func(side int, p r2.Vec) bool { return w.room(w.plan, i, side, p) },
			missed: func(int, float64) float64 { return unknown },
		})
		if ok && (!found || m.far > worst.far) {
			worst, found = m, true
		}
	}
	return worst, found
}

// onFoot tells whether a side, none if it is negative, is part of a foot, which may not be cut.
func (w *work) onFoot(i, side int) bool {
	t := w.plan.Triangle(i)
	return side >= 0 && w.plan.Constrained(i, side) && w.foot[t[side]] && w.foot[t[(side+1)%3]]
}
