package relief

import "gonum.org/v1/gonum/spatial/r2"

// thinness is the thickness, in tolerances, below which a span is thin.
const thinness = 4

// opening is how fast, in mm for each mm off a foot, the ends of a span must part for it to be no thin one.
const opening = 0.5

// thin tells whether span k, of which the thicknesses are given, is thin over triangle i: on a foot, or at any corner. There
// lid and floor keep to the triangles of the plan, so that they cannot meet, however they miss
// their heights. They cannot either where one of them is level, as the other's corners are all on one side of it, if they
// part so fast that no corner on the foot matters which is a little off it.
func (w *work) thin(z *zone, k, i int, thick [3]float64) bool {
	foot := 0
	for j, v := range w.plan.Triangle(i) {
		switch {
		case w.foot[v]:
			foot++
		case thick[j] < thinness*w.opt.Tolerance:
			return true
		}
	}
	if foot == 0 {
		return false
	}
	if foot == 3 || !z.ends[2*k].even && !z.ends[2*k+1].even || w.chordWithin(i) {
		return true
	}
	parted, _ := through(w.corners(i), thick)
	return r2.Norm(parted.slope) < opening
}

// chordWithin tells whether a side of triangle i joins two points of feet and is no foot: there is material beyond it.
func (w *work) chordWithin(i int) bool {
	t := w.plan.Triangle(i)
	for j, v := range t {
		if !w.foot[v] || !w.foot[t[(j+1)%3]] {
			continue
		}
		n, _ := w.plan.Across(i, j)
		if n < 0 {
			continue
		}
		z := w.zone[n]
		for k := range z.spans {
			if w.open(z, k, n, w.thicknesses(z, k, n)) {
				return true
			}
		}
	}
	return false
}

// refineThin adds points to the plan until no plane over a triangle where a span is thin misses the
// heights of its ends by more than is allowed.
func (w *work) refineThin() error {
	w.findEven()
	return w.improve(w.plan, w.thinMiss, w.survey)
}

// thinMiss is the worst miss of triangle i in the spans that are thin over it.
func (w *work) thinMiss(i int) (worst miss, found bool) {
	z := w.zone[i]
	t := w.plan.Triangle(i)
	looks := false
	for end := range z.ends {
		if end%2 == 0 {
			thick := w.thicknesses(z, end/2, i)
			looks = w.thin(z, end/2, i, thick) && w.open(z, end/2, i, thick)
		}
		if !looks {
			continue
		}
		heights := [3]float64{w.over(z, end, t[0]), w.over(z, end, t[1]), w.over(z, end, t[2])}
		m, ok := w.planeMiss(&facet{
			corners: w.corners(i), z: heights, grid: w.grid.bent(z.ends[end].marks),
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
