package relief

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// chord is a straight piece that stands for the foot of a span.
type chord struct {
	*work
	zone     *zone
	span     int
	from, to r2.Vec
}

// at is the point u of the way along the chord.
func (c chord) at(u float64) r2.Vec { return r2.Add(r2.Scale(1-u, c.from), r2.Scale(u, c.to)) }

// miss is the point of the foot that is the furthest from the chord, in plan or in height.
func (c chord) miss() (r2.Vec, bool) {
	length := r2.Norm(r2.Sub(c.to, c.from))
	if length < 4*c.opt.Tolerance {
		return r2.Vec{}, false
	}
	worst, at := c.allowed(), r2.Vec{}
	low, high := c.line(2*c.span), c.line(2*c.span+1)
	for _, u := range c.stops(c.from, c.to, c.zone.marks(c.span)) {
		foot, ok := c.foot(u, length)
		if !ok {
			return c.at(u), true // bends by more than its quarter: halve it
		}
		far := max(c.off(u, low, high, worst), r2.Norm(r2.Sub(foot, c.at(u))))
		if far > worst {
			worst, at = far, foot
		}
	}
	return at, worst > c.allowed()
}

// line is the height of an end over the two ends of the chord.
func (c chord) line(end int) [2]float64 {
	return [2]float64{c.work.at(c.zone, end, c.from), c.work.at(c.zone, end, c.to)}
}

// off is how far from a straight line the height is on the chord: that of the flatter end, as the
// height of the steeper one says little about how far the foot is. Where neither is further off than
// least it does not matter which.
func (c chord) off(u float64, low, high [2]float64, least float64) float64 {
	p := c.at(u)
	end := 2 * c.span
	far := math.Abs(c.work.at(c.zone, end, p) - (1-u)*low[0] - u*low[1])
	other := math.Abs(c.work.at(c.zone, end+1, p) - (1-u)*high[0] - u*high[1])
	if max(far, other) > least && c.steepness(c.zone, end, p) > c.steepness(c.zone, end+1, p) {
		return other
	}
	return far
}

// foot is the foot square to the chord from a point on it, that point itself if the foot is as near
// as is allowed.
func (c chord) foot(u, length float64) (r2.Vec, bool) {
	along := r2.Scale(1/length, r2.Sub(c.to, c.from))
	for _, far := range []float64{c.allowed(), length / 4} {
		across := r2.Scale(far, r2.Vec{X: -along.Y, Y: along.X})
		a, b := r2.Add(c.at(u), across), r2.Sub(c.at(u), across)
		ta, tb := c.thicknessAt(c.zone, c.span, a), c.thicknessAt(c.zone, c.span, b)
		if (ta > 0) == (tb > 0) {
			continue
		}
		if far == c.allowed() {
			return c.at(u), true
		}
		return c.root(c.zone, c.span, a, b, ta, tb), true
	}
	return r2.Vec{}, false
}
