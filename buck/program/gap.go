package program

import (
	"math"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// gap is the least distance of two segments, lines or arcs, in mm.
//
// Where they do not cross, it is found at an end of one, or where both run the same way: at the foot of
// an arc's centre on a line, or on the line through both centres. Farther points of an arc count too: they
// are the nearest ones to an arc around it.
func gap(a, b profile.Segment) float64 {
	a, b = straightened(a), straightened(b)
	if cross(a, b) {
		return 0
	}
	best := min(b.Distance(a.A), b.Distance(a.B), a.Distance(b.A), a.Distance(b.B))
	for _, p := range facing(a, b) {
		best = min(best, b.Distance(p))
	}
	for _, p := range facing(b, a) {
		best = min(best, a.Distance(p))
	}
	return best
}

// flat is a bulge under which an arc is a line: it bows by half of that share of its chord, 0.001 mm in 2 m, and
// its centre is so far off that nothing can be told from there.
const flat = 1e-6

func straightened(s profile.Segment) profile.Segment {
	if math.Abs(s.Bulge) < flat {
		s.Bulge = 0
	}
	return s
}

// facing are points of a, not its ends, where it may be nearest to b.
func facing(a, b profile.Segment) []r2.Vec {
	if a.Straight() {
		if b.Straight() {
			return nil
		}
		centre, _, _, _ := b.Arc()
		return []r2.Vec{a.Nearest(centre)}
	}
	centre, radius, _, _ := a.Arc()
	var toward r2.Vec
	if b.Straight() {
		d := r2.Sub(b.B, b.A)
		toward = r2.Vec{X: -d.Y, Y: d.X}
	} else {
		other, _, _, _ := b.Arc()
		toward = r2.Sub(other, centre)
	}
	if r2.Norm(toward) < 1e-12 {
		return nil
	}
	out := r2.Scale(radius/r2.Norm(toward), toward)
	var on []r2.Vec
	for _, p := range [2]r2.Vec{r2.Add(centre, out), r2.Sub(centre, out)} {
		if a.Distance(p) < 1e-9*(1+radius) {
			on = append(on, p)
		}
	}
	return on
}

// cross tells whether two segments have a point in common.
func cross(a, b profile.Segment) bool {
	switch {
	case a.Straight() && b.Straight():
		side := func(s profile.Segment, p r2.Vec) float64 { return r2.Cross(r2.Sub(s.B, s.A), r2.Sub(p, s.A)) }
		return side(a, b.A)*side(a, b.B) < 0 && side(b, a.A)*side(b, a.B) < 0
	case a.Straight():
		return crossArc(b, a)
	default:
		return crossArc(a, b)
	}
}

// crossArc is cross for an arc and any segment: where the circle meets the other's line or circle, both have
// to be.
func crossArc(arc, s profile.Segment) bool {
	c, r, _, _ := arc.Arc()
	var mid, along r2.Vec // the chord of the two points
	var half2 float64     // half of it, squared
	if s.Straight() {
		d := r2.Sub(s.B, s.A)
		if r2.Norm(d) == 0 {
			return false
		}
		along = r2.Unit(d)
		mid = r2.Add(s.A, r2.Scale(r2.Dot(r2.Sub(c, s.A), along), along))
		half2 = r*r - r2.Norm2(r2.Sub(mid, c))
	} else {
		c2, r2nd, _, _ := s.Arc()
		d := r2.Sub(c2, c)
		n := r2.Norm(d)
		if n < 1e-12 {
			return false
		}
		x := (n*n + r*r - r2nd*r2nd) / (2 * n)
		mid = r2.Add(c, r2.Scale(x/n, d))
		along = r2.Vec{X: -d.Y / n, Y: d.X / n}
		half2 = r*r - x*x
	}
	if half2 < 0 {
		return false
	}
	for _, side := range [2]float64{1, -1} {
		p := r2.Add(mid, r2.Scale(side*math.Sqrt(half2), along))
		if slack := 1e-9 * (1 + r); arc.Distance(p) < slack && s.Distance(p) < slack {
			return true
		}
	}
	return false
}

// gapTo is the least distance of a path from a loop's line, in mm; infinite where one is empty.
func gapTo(path profile.Path, line profile.Path) float64 {
	best := math.Inf(1)
	for _, a := range path {
		for _, b := range line {
			best = min(best, gap(a, b))
		}
	}
	return best
}

// edge is a segment with its bounds.
type edge struct {
	profile.Segment
	box r2.Box
}

func edges(path profile.Path) []edge {
	all := make([]edge, len(path))
	for i, s := range path {
		all[i] = edge{s, s.Bounds()}
	}
	return all
}

// nearer is the least distance of a segment from edges, or the limit where that is less.
func nearer(s profile.Segment, line []edge, limit float64) float64 {
	box := s.Bounds()
	for _, e := range line {
		dx := max(e.box.Min.X-box.Max.X, box.Min.X-e.box.Max.X, 0)
		dy := max(e.box.Min.Y-box.Max.Y, box.Min.Y-e.box.Max.Y, 0)
		if dx < limit && dy < limit {
			limit = min(limit, gap(s, e.Segment))
		}
	}
	return limit
}
