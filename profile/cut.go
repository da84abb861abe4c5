package profile

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// place is a point on a path: a segment and the share of its length.
type place struct {
	seg int
	t   float64
	at  r2.Vec
}

// placeOf is the place on the path that is nearest to q.
func (p Path) placeOf(q r2.Vec) place {
	best, bestD := place{}, math.Inf(1)
	for i, s := range p {
		n := s.Nearest(q)
		if d := r2.Norm2(r2.Sub(n, q)); d < bestD {
			best, bestD = place{seg: i, at: n}, d
		}
	}
	if len(p) > 0 {
		best.t = p[best.seg].share(best.at)
	}
	return best
}

// share is the share of the segment's length at which one of its points lies.
func (s Segment) share(p r2.Vec) float64 {
	switch p {
	case s.A:
		return 0
	case s.B:
		return 1
	}
	chord := r2.Sub(s.B, s.A)
	n := r2.Norm2(chord)
	if n == 0 {
		return 0
	}
	if s.Straight() {
		return min(1, max(0, r2.Dot(r2.Sub(p, s.A), chord)/n))
	}
	c, _, _, sweep := s.Arc()
	a := angle(r2.Sub(s.A, c), r2.Sub(p, c))
	if a*sweep < 0 {
		a += math.Copysign(2*math.Pi, sweep)
	}
	return min(1, max(0, a/sweep))
}

// lineCrossings are the places where the path crosses the straight line through o in direction d,
// in order along that direction. A line that only touches a corner counts once or twice.
func (p Path) lineCrossings(o, d r2.Vec) []place {
	n := r2.Norm(d)
	if n == 0 || len(p) == 0 {
		return nil
	}
	b := p.Bounds()
	reach := r2.Norm(r2.Sub(b.Max, b.Min)) + r2.Norm(r2.Sub(r2.Scale(0.5, r2.Add(b.Min, b.Max)), o)) + 1
	d = r2.Scale(1/n, d)
	line := Segment{A: r2.Sub(o, r2.Scale(reach, d)), B: r2.Add(o, r2.Scale(reach, d))}
	var out []place
	for i, s := range p {
		m := meetingOf(line, s)
		for _, at := range m.at[:m.n] {
			out = append(out, place{seg: i, t: s.share(at), at: at})
		}
	}
	slices.SortStableFunc(out, func(a, b place) int {
		return compare(r2.Dot(a.at, d), r2.Dot(b.at, d))
	})
	return out
}

// extreme is the place on the path that is furthest in direction d; of several the first.
func (p Path) extreme(d r2.Vec) place {
	best, most := place{}, math.Inf(-1)
	take := func(i int, q r2.Vec) {
		if v := r2.Dot(q, d); v > most+1e-12*math.Abs(v) {
			best, most = place{seg: i, t: p[i].share(q), at: q}, v
		}
	}
	n := r2.Norm(d)
	for i, s := range p {
		take(i, s.A)
		take(i, s.B)
		if s.Straight() || n == 0 {
			continue
		}
		c, r := s.circle()
		if top := r2.Add(c, r2.Scale(r/n, d)); s.onArcSide(top) {
			take(i, top)
		}
	}
	return best
}

// Between is the part of the loop, in its direction of travel, from its nearest point to one place to its nearest point to
// another.
func (l Loop) Between(from, to r2.Vec) Path {
	return l.between(Path(l).placeOf(from), Path(l).placeOf(to))
}

// between is the part of the loop from one place on in its direction of travel to another. Where
// both are the same place it is the whole loop.
func (l Loop) between(from, to place) Path {
	var out Path
	add := func(s Segment, t0, t1 float64) {
		if part := s.Part(t0, t1); r2.Norm(r2.Sub(part.B, part.A)) > closedGap {
			out = append(out, part)
		}
	}
	n := len(l)
	if from.seg == to.seg && from.t < to.t {
		add(l[from.seg], from.t, to.t)
	} else {
		add(l[from.seg], from.t, 1)
		for i := (from.seg + 1) % n; i != to.seg; i = (i + 1) % n {
			out = append(out, l[i])
		}
		add(l[to.seg], 0, to.t)
	}
	if len(out) > 0 {
		out[0].A, out[len(out)-1].B = from.at, to.at
		for i := 1; i < len(out); i++ {
			out[i].A = out[i-1].B
		}
	}
	return out
}
