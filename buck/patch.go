package buck

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// patch is a polygon of the plan that answers quickly whether a point lies in it. Its sides are
// kept in bands of equal height, so that a query looks at the sides of one band only. The zero value
// holds no point.
type patch struct {
	low, step float64
	bands     [][]side
	sides     []side
}

type side struct{ a, b r2.Vec }

// newPatch is the polygon through the points, closed from the last to the first; the rule is even-odd.
func newPatch(points []r2.Vec) patch {
	if len(points) < 3 {
		return patch{}
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, q := range points {
		low, high = min(low, q.Y), max(high, q.Y)
	}
	n := max(1, len(points)/4)
	p := patch{low: low, step: (high - low) / float64(n), bands: make([][]side, n)}
	if p.step == 0 {
		return patch{}
	}
	for i, a := range points {
		b := points[(i+1)%len(points)]
		p.sides = append(p.sides, side{a, b})
		for j := p.band(min(a.Y, b.Y)); j <= p.band(max(a.Y, b.Y)); j++ {
			p.bands[j] = append(p.bands[j], side{a, b})
		}
	}
	return p
}

func (p *patch) band(y float64) int {
	return min(max(int((y-p.low)/p.step), 0), len(p.bands)-1)
}

// holds tells whether q lies in the polygon.
func (p *patch) holds(q r2.Vec) bool {
	if len(p.bands) == 0 {
		return false
	}
	if y := (q.Y - p.low) / p.step; y < 0 || y > float64(len(p.bands)) {
		return false
	}
	in := false
	for _, s := range p.bands[p.band(q.Y)] {
		if (s.a.Y > q.Y) != (s.b.Y > q.Y) && q.X < s.a.X+(q.Y-s.a.Y)/(s.b.Y-s.a.Y)*(s.b.X-s.a.X) {
			in = !in
		}
	}
	return in
}

// crossings are the x at which the sides cross the row at y, in ascending order.
func (p *patch) crossings(y float64) []float64 {
	if len(p.bands) == 0 {
		return nil
	}
	var at []float64
	for _, s := range p.bands[p.band(y)] {
		if (s.a.Y > y) != (s.b.Y > y) {
			at = append(at, s.a.X+(y-s.a.Y)/(s.b.Y-s.a.Y)*(s.b.X-s.a.X))
		}
	}
	slices.Sort(at)
	return at
}
