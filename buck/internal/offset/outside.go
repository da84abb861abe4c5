package offset

import (
	"math"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// bands is how many stripes the inside of a loop is looked up in, for each of its segments; no more than
// mostBands.
const (
	bandsEach = 1
	mostBands = 4096
)

// inside tells quickly what is within a loop: for a point only the segments at its height count.
type inside struct {
	low, step float64
	stripes   []profile.Loop
}

func newInside(loop profile.Loop) *inside {
	b := loop.Bounds()
	n := min(max(bandsEach*len(loop), 1), mostBands)
	in := &inside{low: b.Min.Y, step: (b.Max.Y - b.Min.Y) / float64(n), stripes: make([]profile.Loop, n)}
	if !(in.step > 0) {
		return &inside{}
	}
	for _, s := range loop {
		sb := s.Bounds()
		for i := in.stripe(sb.Min.Y); i <= in.stripe(sb.Max.Y); i++ {
			in.stripes[i] = append(in.stripes[i], s)
		}
	}
	return in
}

// stripe is the stripe at a height, clamped to those there are.
func (in *inside) stripe(y float64) int {
	return min(max(int((y-in.low)/in.step), 0), len(in.stripes)-1)
}

// holds tells whether p is within. Loop.Contains counts crossings, so that segments at other heights do
// not matter to it.
func (in *inside) holds(p r2.Vec) bool {
	if len(in.stripes) == 0 {
		return false
	}
	return in.stripes[in.stripe(p.Y)].Contains(p)
}

// Outside is the exact signed distance from a loop, arcs and all: below 0 within it.
func Outside(loop profile.Loop) Surface {
	near, in := profile.NewNear(loop.Path()), newInside(loop)
	return func(p r2.Vec) (float64, r2.Vec) {
		foot, far := near.Nearest(p)
		up := r2.Vec{}
		if far > 0 {
			up = r2.Scale(1/far, r2.Sub(p, foot))
		}
		if in.holds(p) {
			return -far, r2.Scale(-1, up)
		}
		return far, up
	}
}

// Sweep is what a disc covers on its way from A to B while its radius goes evenly from RA to RB. Radii
// may be negative: the point then has to come that near before it counts as inside. The zero value is
// the point at the origin.
type Sweep struct {
	A, B   r2.Vec
	RA, RB float64
	Tag    int // of the caller's
}

// At is the signed distance of p from the sweep, and the middle of the disc that comes nearest to it.
//
// With u along the axis and v across it the distance to the disc at s is sqrt((u-s)^2 + v^2) - ra - k s,
// which is least where s = u + k v / sqrt(1 - k^2). Where the radius grows faster than the disc moves
// (k >= 1) one end's disc holds all of it.
func (w Sweep) At(p r2.Vec) (value float64, middle r2.Vec) {
	axis := r2.Sub(w.B, w.A)
	length := r2.Norm(axis)
	fromA, fromB := r2.Norm(r2.Sub(p, w.A))-w.RA, r2.Norm(r2.Sub(p, w.B))-w.RB
	value, middle = fromA, w.A
	if fromB < fromA {
		value, middle = fromB, w.B
	}
	k := 0.0
	if length > 0 {
		k = (w.RB - w.RA) / length
	}
	if length == 0 || math.Abs(k) >= 1 {
		return value, middle
	}
	axis = r2.Scale(1/length, axis)
	rel := r2.Sub(p, w.A)
	u, v := r2.Dot(axis, rel), math.Abs(r2.Cross(axis, rel))
	s := u + k*v/math.Sqrt(1-k*k)
	if s <= 0 || s >= length {
		return value, middle
	}
	return math.Hypot(u-s, v) - w.RA - k*s, r2.Add(w.A, r2.Scale(s, axis))
}

func (w Sweep) surface(p r2.Vec) (float64, r2.Vec) {
	v, m := w.At(p)
	return v, toward(m, p)
}

// toward is the unit vector from a to b; the zero vector where they are one.
func toward(a, b r2.Vec) r2.Vec {
	d := r2.Sub(b, a)
	if n := r2.Norm(d); n > 0 {
		return r2.Scale(1/n, d)
	}
	return r2.Vec{}
}
