package layout

import (
	"math"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// cutter cuts a loop straight at the mouth and rounds the corners there, all of lines and arcs that meet in a
// tangent.
type cutter struct {
	at, out, along r2.Vec // a point of the mouth's line, the way out of the sheath, from the spine to the edge
	round          float64
	thumb          r2.Vec // middle of the relief
	relief         float64
}

// cutter is what cuts this sheath.
func (s *Sheath) cutter(round float64) cutter {
	_, out := s.Knife.MouthLine()
	c := cutter{at: s.Knife.Plan.ThroatSpine, out: out, along: r2.Vec{X: -out.Y, Y: out.X}, round: round, relief: s.Knife.Spec.Layout.Thumb}
	if r2.Dot(c.along, r2.Sub(s.Knife.Plan.ThroatEdge, s.Knife.Plan.ThroatSpine)) < 0 {
		c.along = r2.Scale(-1, c.along)
	}
	if c.relief > 0 {
		c.thumb = s.thumb()
	}
	return c
}

// cut is the part of a counter-clockwise loop within the mouth, closed along it. It is nil where the loop crosses
// the mouth's line otherwise than twice, or leaves no room for its corners or the relief.
func (c cutter) cut(whole profile.Loop) profile.Loop {
	path := c.inner(whole)
	if len(path) == 0 {
		return nil
	}
	round := path
	mouth := profile.Path{{A: path.End(), B: path.Start()}}
	if c.round > 0 {
		from, spine := c.corner(path, c.along)
		if len(from) == 0 {
			return nil
		}
		to, edge := c.corner(reversed(from), r2.Scale(-1, c.along))
		if len(to) == 0 || r2.Dot(r2.Sub(edge.B, spine.B), c.along) < 0 {
			return nil
		}
		round = append(reversed(to), spine)
		mouth = profile.Path{{A: spine.B, B: edge.B}, edge.Reversed()}
	}
	if c.relief > 0 {
		with := c.relieved(mouth[0])
		if with == nil {
			return nil
		}
		mouth = append(with, mouth[1:]...)
	}
	return profile.Loop(append(round, mouth...))
}

// inner is the part of the loop within the mouth, from where it comes in to where it goes out.
func (c cutter) inner(whole profile.Loop) profile.Path {
	side := func(p r2.Vec) bool { return r2.Dot(r2.Sub(p, c.at), c.out) < 0 }
	first, crossings := -1, 0
	for i, s := range whole {
		if side(s.A) != side(s.B) {
			crossings++
			if side(s.B) {
				first = i
			}
		}
	}
	if crossings != 2 {
		return nil
	}
	var path profile.Path
	for i := range whole {
		s := whole[(first+i)%len(whole)]
		switch in, stays := side(s.A), side(s.B); {
		case in && stays:
			path = append(path, s)
		case in:
			return append(path, s.Part(0, c.meets(s)))
		case stays:
			path = append(path, s.Part(c.meets(s), 1))
		}
	}
	return nil
}

// meets is the share of a segment at which it meets the mouth's line, once.
func (c cutter) meets(s profile.Segment) float64 {
	high := func(t float64) float64 { return r2.Dot(r2.Sub(s.At(t), c.at), c.out) }
	return root(0, 1, func(t float64) bool { return (high(t) < 0) == (high(0) < 0) })
}

// root is where holds, true at low, becomes false.
func root(low, high float64, holds func(float64) bool) float64 {
	for range 60 {
		if mid := (low + high) / 2; holds(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}

// corner rounds the corner at the end of a path on the mouth's line, which goes on the given way: the path as far as
// the arc, and the arc. Its middle is as far from the line as from the path.
func (c cutter) corner(path profile.Path, way r2.Vec) (profile.Path, profile.Segment) {
	r := c.round
	end := r2.Sub(path.End(), r2.Scale(r, c.out))
	middle := func(q float64) r2.Vec { return r2.Add(end, r2.Scale(q, way)) }
	near := func(q float64) bool { return path.Distance(middle(q)) < r }
	low, high := -r, r2.Norm(r2.Sub(path.End(), path.Start()))/2
	if !near(low) && !near(0) || near(high) {
		return nil, profile.Segment{}
	}
	if !near(low) {
		low = 0
	}
	m := middle(root(low, high, near))
	cut, foot := 0, r2.Vec{}
	for i, s := range path {
		if p := s.Nearest(m); i == 0 || r2.Norm(r2.Sub(p, m)) < r2.Norm(r2.Sub(foot, m)) {
			cut, foot = i, p
		}
	}
	arc := about(m, foot, r2.Add(m, r2.Scale(r, c.out)))
	return append(append(profile.Path{}, path[:cut]...), upTo(path[cut], foot)), arc
}

// upTo is a segment as far as a point on it.
func upTo(s profile.Segment, p r2.Vec) profile.Segment {
	n := s.Length()
	if n == 0 {
		return profile.Segment{A: s.A, B: p}
	}
	share := r2.Norm(r2.Sub(p, s.A)) / n
	if !s.Straight() {
		_, r, _, _ := s.Arc()
		share = 2 * math.Asin(min(r2.Norm(r2.Sub(p, s.A))/(2*r), 1)) / math.Abs(s.Sweep())
	}
	out := s.Part(0, min(share, 1))
	out.B = p
	return out
}

// relieved is the mouth's straight line with the relief for the thumb in it, whose corners are rounded.
func (c cutter) relieved(line profile.Segment) profile.Path {
	deep := r2.Dot(r2.Sub(c.at, c.thumb), c.out) // of the relief's middle inside the line; under 0: outside
	r := c.round
	wide2 := (c.relief+r)*(c.relief+r) - (r-deep)*(r-deep)
	foot := r2.Add(c.thumb, r2.Scale(deep, c.out))
	if wide2 <= 0 {
		return nil
	}
	side := func(sign float64) (line, arc r2.Vec) {
		line = r2.Add(foot, r2.Scale(sign*math.Sqrt(wide2), c.along))
		middle := r2.Sub(line, r2.Scale(r, c.out))
		return line, r2.Add(c.thumb, r2.Scale(c.relief, r2.Unit(r2.Sub(middle, c.thumb))))
	}
	a, b := side(-1)
	d, e := side(1)
	if r2.Dot(r2.Sub(a, line.A), c.along) < 0 || r2.Dot(r2.Sub(line.B, d), c.along) < 0 {
		return nil
	}
	out := profile.Path{{A: line.A, B: a}}
	if r > 0 {
		out = append(out, about(r2.Sub(a, r2.Scale(r, c.out)), a, b))
	}
	out = append(out, about(c.thumb, b, e))
	if r > 0 {
		out = append(out, about(r2.Sub(d, r2.Scale(r, c.out)), e, d))
	}
	return append(out, profile.Segment{A: d, B: line.B})
}

// about is the shorter arc about a middle.
func about(middle, a, b r2.Vec) profile.Segment {
	u, v := r2.Sub(a, middle), r2.Sub(b, middle)
	return profile.Segment{A: a, B: b, Bulge: math.Tan(math.Atan2(r2.Cross(u, v), r2.Dot(u, v)) / 4)}
}

func reversed(p profile.Path) profile.Path {
	out := make(profile.Path, len(p))
	for i, s := range p {
		out[len(p)-1-i] = s.Reversed()
	}
	return out
}
