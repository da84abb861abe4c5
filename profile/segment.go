package profile

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Segment is a straight line or a circular arc from A to B, in mm.
//
// Bulge is tan(sweep/4), positive counter-clockwise, 0 for a straight line (DXF Reference,
// LWPOLYLINE group 42). A full circle does not fit in one segment: it takes two of bulge 1.
// The zero value is a point at the origin.
type Segment struct {
	A, B  r2.Vec
	Bulge float64
}

// straightSagitta is the height of an arc over its chord, in mm, below which the arc is measured
// as its chord: the centre of so flat an arc is further away than a float64 resolves usefully.
const straightSagitta = 1e-9

// Straight reports whether the segment is a line, or an arc too flat to tell from one.
func (s Segment) Straight() bool {
	return s.Bulge == 0 || s.Bulge*s.Bulge*r2.Norm2(r2.Sub(s.B, s.A)) < 4*straightSagitta*straightSagitta
}

// Sweep is the angle the segment turns through, in radians, positive counter-clockwise.
func (s Segment) Sweep() float64 { return 4 * math.Atan(s.Bulge) }

// Arc is the segment's circle: centre, radius, the direction from the centre to A and the signed
// sweep to B, in radians. For a straight segment the centre is the chord's middle, the radius
// infinite and the sweep 0.
func (s Segment) Arc() (centre r2.Vec, radius, startRad, sweepRad float64) {
	if s.Straight() {
		return r2.Scale(0.5, r2.Add(s.A, s.B)), math.Inf(1), math.Atan2(s.A.Y-s.B.Y, s.A.X-s.B.X), 0
	}
	centre, radius = s.circle()
	return centre, radius, math.Atan2(s.A.Y-centre.Y, s.A.X-centre.X), s.Sweep()
}

// circle is the circle of a segment that is not straight: R = c (1+b^2) / (4 |b|), its centre
// c (1-b^2) / (4 b) left of the chord's middle (DXF Reference, bulge).
func (s Segment) circle() (centre r2.Vec, radius float64) {
	b := s.Bulge
	chord := r2.Sub(s.B, s.A)
	mid := r2.Scale(0.5, r2.Add(s.A, s.B))
	centre = r2.Add(mid, r2.Scale((1-b*b)/(4*b), r2.Vec{X: -chord.Y, Y: chord.X}))
	return centre, math.Sqrt(r2.Norm2(chord)) * (1 + b*b) / (4 * math.Abs(b))
}

// Length is the length along the segment, in mm.
func (s Segment) Length() float64 {
	chord := r2.Norm(r2.Sub(s.B, s.A))
	if s.Bulge == 0 {
		return chord
	}
	half := math.Abs(s.Sweep()) / 2
	if half < 1e-6 {
		return chord * (1 + half*half/6)
	}
	return chord * half / math.Sin(half)
}

// At is the point at the share t of the length, 0 at A and 1 at B. Beyond that range the line or
// circle goes on.
func (s Segment) At(t float64) r2.Vec {
	switch t {
	case 0:
		return s.A
	case 1:
		return s.B
	}
	chord := r2.Sub(s.B, s.A)
	theta := s.Sweep()
	if math.Abs(theta) < 1e-9 {
		return r2.Add(s.A, r2.Scale(t, chord))
	}
	// The chord from A to the point is 2R sin(t theta/2) long and turned by half of what is left of the sweep.
	k := math.Sin(t*theta/2) / math.Sin(theta/2)
	return r2.Add(s.A, r2.Scale(k, turn(chord, (t-1)*theta/2)))
}

// Tangent is the unit direction of travel at the share t of the length; the zero vector for a
// segment without length.
func (s Segment) Tangent(t float64) r2.Vec {
	chord := r2.Sub(s.B, s.A)
	n := r2.Norm(chord)
	if n == 0 {
		return r2.Vec{}
	}
	return turn(r2.Scale(1/n, chord), (t-0.5)*s.Sweep())
}

// Reversed is the same curve travelled from B to A.
func (s Segment) Reversed() Segment { return Segment{A: s.B, B: s.A, Bulge: -s.Bulge} }

// Part is the piece of the segment between the shares t0 and t1 of its length; reversed where t1 < t0.
func (s Segment) Part(t0, t1 float64) Segment {
	return Segment{A: s.At(t0), B: s.At(t1), Bulge: math.Tan(s.Sweep() * (t1 - t0) / 4)}
}

// Bounds is the smallest box, with sides along the axes, that holds the segment.
func (s Segment) Bounds() r2.Box {
	box := r2.Box{
		Min: r2.Vec{X: min(s.A.X, s.B.X), Y: min(s.A.Y, s.B.Y)},
		Max: r2.Vec{X: max(s.A.X, s.B.X), Y: max(s.A.Y, s.B.Y)},
	}
	if s.Straight() {
		return box
	}
	c, r := s.circle()
	for _, p := range [4]r2.Vec{{X: c.X + r, Y: c.Y}, {X: c.X, Y: c.Y + r}, {X: c.X - r, Y: c.Y}, {X: c.X, Y: c.Y - r}} {
		if s.onArcSide(p) {
			box = grow(box, p)
		}
	}
	return box
}

// Distance is the exact distance from q to the segment, in mm.
func (s Segment) Distance(q r2.Vec) float64 { return r2.Norm(r2.Sub(q, s.Nearest(q))) }

// Nearest is the point of the segment that is closest to q. Where several are (q at the centre of
// the arc) it is A.
func (s Segment) Nearest(q r2.Vec) r2.Vec {
	if s.Straight() {
		return nearestOnLine(s.A, s.B, q)
	}
	c, r := s.circle()
	return s.nearestOnArc(c, r, q)
}

// nearestOnArc is Nearest for an arc whose circle is known.
func (s Segment) nearestOnArc(c r2.Vec, r float64, q r2.Vec) r2.Vec {
	d := r2.Sub(q, c)
	n := r2.Norm(d)
	if n == 0 {
		return s.A
	}
	p := r2.Add(c, r2.Scale(r/n, d))
	if s.onArcSide(p) {
		return p
	}
	if r2.Norm2(r2.Sub(q, s.A)) <= r2.Norm2(r2.Sub(q, s.B)) {
		return s.A
	}
	return s.B
}

// onArcSide reports whether a point of the arc's circle lies on the arc itself: the arc is what the
// chord cuts off on its right when it turns counter-clockwise, on its left otherwise.
func (s Segment) onArcSide(p r2.Vec) bool {
	return r2.Cross(r2.Sub(s.B, s.A), r2.Sub(p, s.A))*s.Bulge <= 0
}

// nearestOnLine is the point of the straight segment ab that is closest to q.
func nearestOnLine(a, b, q r2.Vec) r2.Vec {
	d := r2.Sub(b, a)
	n := r2.Norm2(d)
	if n == 0 {
		return a
	}
	t := r2.Dot(r2.Sub(q, a), d) / n
	switch {
	case t <= 0:
		return a
	case t >= 1:
		return b
	}
	return r2.Add(a, r2.Scale(t, d))
}

// grow is the box enlarged to hold p.
func grow(b r2.Box, p r2.Vec) r2.Box {
	b.Min.X, b.Min.Y = min(b.Min.X, p.X), min(b.Min.Y, p.Y)
	b.Max.X, b.Max.Y = max(b.Max.X, p.X), max(b.Max.Y, p.Y)
	return b
}
