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
	for _, u := range c.grid.stops(c.from, c.to, c.zone.spans[c.span].marks()) {
		foot, ok := c.foot(u, length)
		if !ok {
			return c.at(u), true // bends by more than its quarter: halve it
		}
		far := math.Max(c.off(u), r2.Norm(r2.Sub(foot, c.at(u))))
		if far > worst {
			worst, at = far, foot
		}
	}
	return at, worst > c.allowed()
}

// off is how far from a straight line the height is on the chord: that of the flatter end, as the
// height of the steeper one says little about how far the foot is.
func (c chord) off(u float64) float64 {
	p := c.at(u)
	end := 2 * c.span
	if c.steepness(c.zone, end, p) > c.steepness(c.zone, end+1, p) {
		end++
	}
	height := func(p r2.Vec) float64 { return c.work.at(c.zone, end, p) }
	return math.Abs(height(p) - (1-u)*height(c.from) - u*height(c.to))
}

// foot is the foot square to the chord from a point on it, that point itself if the foot is as near
// as is allowed.
func (c chord) foot(u, length float64) (r2.Vec, bool) {
	along := r2.Scale(1/length, r2.Sub(c.to, c.from))
	for _, far := range []float64{c.allowed(), length / 4} {
		across := r2.Scale(far, r2.Vec{X: -along.Y, Y: along.X})
		a, b := r2.Add(c.at(u), across), r2.Sub(c.at(u), across)
		if (c.thicknessAt(c.zone, c.span, a) > 0) == (c.thicknessAt(c.zone, c.span, b) > 0) {
			continue
		}
		if far == c.allowed() {
			return c.at(u), true
		}
		return c.root(c.zone, c.span, a, b), true
	}
	return r2.Vec{}, false
}
