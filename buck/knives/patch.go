package knives

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Patch is a polygon of the plan that answers quickly whether a point lies in it. Its sides are
// kept in bands of equal height, so that a query looks at the sides of one band only. The zero value
// holds no point.
type Patch struct {
	low, step float64
	bands     [][]side
	Sides     []side
}

type side struct{ A, B r2.Vec }

// NewPatch is the polygon through the points, closed from the last to the first; the rule is even-odd.
func NewPatch(points []r2.Vec) Patch {
	if len(points) < 3 {
		return Patch{}
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, q := range points {
		low, high = min(low, q.Y), max(high, q.Y)
	}
	n := max(1, len(points)/4)
	p := Patch{low: low, step: (high - low) / float64(n), bands: make([][]side, n)}
	if p.step == 0 {
		return Patch{}
	}
	for i, a := range points {
		b := points[(i+1)%len(points)]
		p.Sides = append(p.Sides, side{a, b})
		for j := p.band(min(a.Y, b.Y)); j <= p.band(max(a.Y, b.Y)); j++ {
			p.bands[j] = append(p.bands[j], side{a, b})
		}
	}
	return p
}

func (p *Patch) band(y float64) int {
	return min(max(int((y-p.low)/p.step), 0), len(p.bands)-1)
}

// Holds tells whether q lies in the polygon.
func (p *Patch) Holds(q r2.Vec) bool {
	if len(p.bands) == 0 {
		return false
	}
	if y := (q.Y - p.low) / p.step; y < 0 || y > float64(len(p.bands)) {
		return false
	}
	in := false
	for _, s := range p.bands[p.band(q.Y)] {
		if (s.A.Y > q.Y) != (s.B.Y > q.Y) && q.X < s.A.X+(q.Y-s.A.Y)/(s.B.Y-s.A.Y)*(s.B.X-s.A.X) {
			in = !in
		}
	}
	return in
}

// Crossings are the x at which the sides cross the row at y, in ascending order.
func (p *Patch) Crossings(y float64) []float64 {
	if len(p.bands) == 0 {
		return nil
	}
	var at []float64
	for _, s := range p.bands[p.band(y)] {
		if (s.A.Y > y) != (s.B.Y > y) {
			at = append(at, s.A.X+(y-s.A.Y)/(s.B.Y-s.A.Y)*(s.B.X-s.A.X))
		}
	}
	slices.Sort(at)
	return at
}
