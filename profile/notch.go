package profile

import "math"

// leastNotch is how deep, in mm, a step before the edge must be to count as one.
const leastNotch = 1.0

// clearNotch is how deep, in mm, a notch must be to tell on which side the edge is: grooves for fingers in a handle are
// shallower, and on the spine a thumb's rest is; common practice, no source.
const clearNotch = 3.0

// notch looks for a finger notch in the lower side of an outline that lies along x, or in the upper
// side: a place between 35 and 65 % of the length that stands above what lies within an eighth of the
// length on both of its sides. Rise is by how much, 0 for no such place; x is the lowest place on its
// butt's side (the lesser x).
func notch(outline Path, upper bool) (x, rise float64) {
	const (
		n     = 240
		reach = n / 8
	)
	b := outline.Bounds()
	at := func(i int) float64 { return b.Min.X + (b.Max.X-b.Min.X)*(float64(i)+0.5)/(n+1) }
	var low [n + 1]float64
	for i := range low {
		lo, hi, ok := span(outline, at(i))
		switch {
		case !ok:
			low[i] = math.Inf(1)
		case upper:
			low[i] = -hi.at.Y
		default:
			low[i] = lo.at.Y
		}
	}
	best := 0
	for i := n * 35 / 100; i <= n*65/100; i++ {
		side := max(low[lowest(low[:], i-reach, i)], low[lowest(low[:], i, i+reach)])
		if r := low[i] - side; r > rise && !math.IsInf(r, 0) {
			best, rise = i, r
		}
	}
	return at(lowest(low[:], best-reach, best)), rise
}

// lowest is the index of the least value in list[from:to+1].
func lowest(list []float64, from, to int) int {
	from, to = max(0, from), min(len(list)-1, to)
	best := from
	for i := from; i <= to; i++ {
		if list[i] < list[best] {
			best = i
		}
	}
	return best
}
