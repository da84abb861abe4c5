package twin

import (
	"math"

	"github.com/deadsy/sdfx/sdf"
	"github.com/deadsy/sdfx/vec/v3"
	"gonum.org/v1/gonum/spatial/r3"
)

// onSurface is how close, in mm, a point counted as the surface's comes to it: a hundredth of what is
// measured.
const onSurface = 1e-5

// closest is a point of the twin's surface near p, p being f from it by the twin's own account. It
// goes down the gradient to where the sign changes, so the point is of the surface whatever the
// distance is worth. Where that leads further than the first step says, as beside a sharp edge or a
// step of the heights, all directions of a fan are tried too and the shortest taken: also where it leads further than
// sure, in mm, as beside a step the distance itself may be too great.
func closest(s sdf.SDF3, p r3.Vec, f, sure float64) (q r3.Vec, ok bool) {
	if math.Abs(f) < onSurface {
		return p, true
	}
	g := gradient(s, p, f)
	q, ok = descend(s, p, f, g)
	if far := r3.Norm(r3.Sub(q, p)); ok && far < sure && far < 1.05*math.Abs(f)/r3.Norm(g)+onSurface {
		return q, true
	}
	best := math.Inf(1)
	if ok {
		best = r3.Norm(r3.Sub(q, p))
	}
	for _, reach := range [...]float64{0.05, 0.5, 5} { // mm: most of the time a short one is enough
		for _, d := range fan {
			if r, hit := along(s, p, d, f, min(best, reach)); hit {
				if far := r3.Norm(r3.Sub(r, p)); far < best {
					q, best, ok = r, far, true
				}
			}
		}
		if best <= reach {
			break
		}
	}
	return q, ok
}

// descend follows the gradient by Newton's steps to where the sign changes. Outside a sharp edge the
// steps go from one face to the other and shorten by the cosine of the edge's angle: of an edge of 15
// degrees 200 steps leave a thousandth of the way.
func descend(s sdf.SDF3, p r3.Vec, f float64, g r3.Vec) (r3.Vec, bool) {
	q, v := p, f
	for range 200 {
		n := r3.Norm(g)
		if n < 1e-3 || math.IsInf(n, 0) || math.IsNaN(n) {
			return q, false
		}
		to := r3.Sub(q, r3.Scale(math.Copysign(min(math.Abs(v)/n, 0.5), v)/n, g))
		w := s.Evaluate(v3.Vec(to))
		if math.Abs(w) < onSurface {
			return to, true
		}
		if (w > 0) != (v > 0) {
			return bisect(s, q, to, v), true
		}
		q, v = to, w
		g = gradient(s, q, v)
	}
	return q, false
}

// gradient by differences over a nanometre, so that it tells the faces beside an edge apart up to
// there; the rounding of lengths of 1e2 mm is 1e-8 of it.
func gradient(s sdf.SDF3, p r3.Vec, f float64) r3.Vec {
	const feel = 1e-6
	return r3.Scale(1/feel, r3.Vec{
		X: s.Evaluate(v3.Vec{X: p.X + feel, Y: p.Y, Z: p.Z}) - f,
		Y: s.Evaluate(v3.Vec{X: p.X, Y: p.Y + feel, Z: p.Z}) - f,
		Z: s.Evaluate(v3.Vec{X: p.X, Y: p.Y, Z: p.Z + feel}) - f,
	})
}

// bisect finds the surface between a, at which the distance is f, and b on the other side of it.
func bisect(s sdf.SDF3, a, b r3.Vec, f float64) r3.Vec {
	for r3.Norm(r3.Sub(b, a)) > onSurface/2 {
		m := r3.Scale(0.5, r3.Add(a, b))
		if past(f, s.Evaluate(v3.Vec(m))) {
			b = m
		} else {
			a = m
		}
	}
	return r3.Scale(0.5, r3.Add(a, b))
}

// past tells whether the distance w is that of a point on the surface or beyond it, seen from where it is f.
func past(f, w float64) bool { return math.Abs(w) < onSurface || (w > 0) != (f > 0) }

// leastStep is the shortest stride, in mm, along a line: a body thinner than that may be stepped over.
const leastStep = 0.01

// along is the first point of the surface from p in direction d, no further than far. A stride is as
// long as the distance allows.
func along(s sdf.SDF3, p, d r3.Vec, f, far float64) (r3.Vec, bool) {
	q, v := p, f
	for gone := 0.0; gone < far; {
		stride := min(max(math.Abs(v), leastStep), far-gone+leastStep)
		gone += stride
		to := r3.Add(p, r3.Scale(gone, d))
		w := s.Evaluate(v3.Vec(to))
		if past(f, w) {
			return bisect(s, q, to, v), true
		}
		q, v = to, w
	}
	return q, false
}

// fan is the 26 directions from the middle of a cube to its faces, edges and corners.
var fan = func() []r3.Vec {
	var all []r3.Vec
	for _, x := range []float64{0, 1, -1} {
		for _, y := range []float64{0, 1, -1} {
			for _, z := range []float64{0, 1, -1} {
				if d := (r3.Vec{X: x, Y: y, Z: z}); d != (r3.Vec{}) {
					all = append(all, r3.Unit(d))
				}
			}
		}
	}
	return all
}()
