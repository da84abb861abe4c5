package profile

import (
	"gonum.org/v1/gonum/spatial/r2"
)

// nurbs is a rational B-spline curve (Piegl and Tiller, The NURBS Book, 2nd ed., ch. 4).
type nurbs struct {
	degree  int
	knots   []float64
	points  []homogeneous
	scratch []homogeneous
}

// homogeneous is a control point times its weight, and the weight.
type homogeneous struct{ x, y, w float64 }

func (a homogeneous) mix(b homogeneous, t float64) homogeneous {
	return homogeneous{a.x + t*(b.x-a.x), a.y + t*(b.y-a.y), a.w + t*(b.w-a.w)}
}

// newNurbs is a curve from control points with weights (nil: all 1).
func newNurbs(degree int, knots []float64, controls []r2.Vec, weights []float64) *nurbs {
	n := &nurbs{degree: degree, knots: knots, points: make([]homogeneous, len(controls)), scratch: make([]homogeneous, degree+1)}
	for i, p := range controls {
		w := 1.0
		if len(weights) > 0 {
			w = weights[i]
		}
		n.points[i] = homogeneous{p.X * w, p.Y * w, w}
	}
	return n
}

// spans are the parameters between which the curve is smooth, in order.
func (n *nurbs) spans() []float64 {
	last := len(n.points)
	out := []float64{n.knots[n.degree]}
	for _, k := range n.knots[n.degree+1 : last+1] {
		if k > out[len(out)-1] {
			out = append(out, k)
		}
	}
	return out
}

// span is the index of the knot span that t lies in; at the end of the curve the last one.
func (n *nurbs) span(t float64) int {
	lo, hi := n.degree, len(n.points)
	if t >= n.knots[hi] {
		for n.knots[hi-1] >= n.knots[hi] && hi > lo+1 {
			hi--
		}
		return hi - 1
	}
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; t < n.knots[mid] {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// boor runs de Boor's algorithm: the point and its derivative in homogeneous coordinates.
func (n *nurbs) boor(t float64) (p, dp homogeneous) {
	k, deg := n.span(t), n.degree
	d := n.scratch
	copy(d, n.points[k-deg:k+1])
	for r := 1; r <= deg; r++ {
		if r == deg {
			width := n.knots[k+1] - n.knots[k]
			s := float64(deg) / width
			dp = homogeneous{(d[deg].x - d[deg-1].x) * s, (d[deg].y - d[deg-1].y) * s, (d[deg].w - d[deg-1].w) * s}
		}
		for j := deg; j >= r; j-- {
			i := k - deg + j
			a := (t - n.knots[i]) / (n.knots[i+deg-r+1] - n.knots[i])
			d[j] = d[j-1].mix(d[j], a)
		}
	}
	return d[deg], dp
}

// At is the point at t.
func (n *nurbs) At(t float64) r2.Vec {
	p, _ := n.boor(t)
	return r2.Vec{X: p.x / p.w, Y: p.y / p.w}
}

// Derivative is the rate of change of At; at a knot, that of the span after it.
func (n *nurbs) Derivative(t float64) r2.Vec {
	p, d := n.boor(t)
	return r2.Vec{X: (d.x - d.w*p.x/p.w) / p.w, Y: (d.y - d.w*p.y/p.w) / p.w}
}

// piece is a curve over one span only, so that the derivative at its end is taken from within.
type piece struct {
	*nurbs
	t1 float64
}

// Derivative is that of the curve within the span.
func (p piece) Derivative(t float64) r2.Vec {
	if t < p.t1 {
		return p.nurbs.Derivative(t)
	}
	return p.nurbs.Derivative(t - 1e-9*(p.t1-p.knots[p.degree]))
}
