package profile

import (
	"gonum.org/v1/gonum/spatial/r2"
)

// cubic is the twice continuously differentiable cubic through points, with the chord lengths
// between them as parameter (Piegl and Tiller, The NURBS Book, 2nd ed., 9.2.1 and 9.2.2).
type cubic struct {
	knots  []float64
	points []r2.Vec
	slopes []r2.Vec
}

// interpolate goes through the points. Directions give the slopes at the ends; where one is zero it
// is estimated from the nearest chords. A closed curve goes back to its first point and is smooth
// there. It is nil for less than two distinct points.
func interpolate(points []r2.Vec, start, end r2.Vec, closed bool) *cubic {
	c := &cubic{}
	for _, p := range points {
		c.add(p)
	}
	if closed && len(c.points) > 2 {
		c.add(c.points[0])
	}
	n := len(c.points)
	if n < 2 {
		return nil
	}
	c.slopes = make([]r2.Vec, n)
	if closed && n > 3 && c.points[n-1] == c.points[0] && start == (r2.Vec{}) && end == (r2.Vec{}) {
		c.solveClosed()
		return c
	}
	c.slopes[0], c.slopes[n-1] = c.endSlope(start, 0, 1, 2), c.endSlope(end, n-1, n-2, n-3)
	c.solve()
	return c
}

// add appends a point that is not the last one again.
func (c *cubic) add(p r2.Vec) {
	t := 0.0
	if n := len(c.points); n > 0 {
		d := r2.Norm(r2.Sub(p, c.points[n-1]))
		if d < fitLength {
			return
		}
		t = c.knots[n-1] + d
	}
	c.points, c.knots = append(c.points, p), append(c.knots, t)
}

// endSlope is the unit direction at point i: as stated, else from the chords q1 to point j and q2
// from j to k as 3 q1 - q2 (The NURBS Book 9.3.1, the five-point rule at an end).
func (c *cubic) endSlope(stated r2.Vec, i, j, k int) r2.Vec {
	sign := float64(j - i)
	d := stated
	if d == (r2.Vec{}) {
		q1 := r2.Scale(sign, r2.Sub(c.points[j], c.points[i]))
		d = q1
		if k >= 0 && k < len(c.points) {
			d = r2.Sub(r2.Scale(3, q1), r2.Scale(sign, r2.Sub(c.points[k], c.points[j])))
		}
	}
	if n := r2.Norm(d); n > 0 {
		return r2.Scale(1/n, d)
	}
	return r2.Vec{}
}

// row is h1 m[i-1] + 2 (h0+h1) m[i] + h0 m[i+1] = 3 (h1 d0 + h0 d1), the condition of equal second
// derivatives at a point between the chords h0 and h1 with difference quotients d0 and d1.
func (c *cubic) row(prev, i, next int, h0, h1 float64) (low, mid, high float64, rhs r2.Vec) {
	d0 := r2.Scale(1/h0, r2.Sub(c.points[i], c.points[prev]))
	d1 := r2.Scale(1/h1, r2.Sub(c.points[next], c.points[i]))
	return h1, 2 * (h0 + h1), h0, r2.Scale(3, r2.Add(r2.Scale(h1, d0), r2.Scale(h0, d1)))
}

// solve finds the inner slopes between two known ones (tridiagonal, Thomas algorithm).
func (c *cubic) solve() {
	n := len(c.points)
	factor := make([]float64, n)
	for i := 1; i < n-1; i++ {
		low, mid, high, rhs := c.row(i-1, i, i+1, c.knots[i]-c.knots[i-1], c.knots[i+1]-c.knots[i])
		pivot := mid - low*factor[i-1]
		factor[i] = high / pivot
		c.slopes[i] = r2.Scale(1/pivot, r2.Sub(rhs, r2.Scale(low, c.slopes[i-1])))
	}
	for i := n - 2; i >= 1; i-- {
		c.slopes[i] = r2.Sub(c.slopes[i], r2.Scale(factor[i], c.slopes[i+1]))
	}
}

// solveClosed finds all slopes of a closed curve: the slope at the seam is the one for which the
// condition of row holds there too; everything is linear in it.
func (c *cubic) solveClosed() {
	n := len(c.points)
	low, mid, high, rhs := c.row(n-2, 0, 1, c.knots[n-1]-c.knots[n-2], c.knots[1]-c.knots[0])
	residual := func(m r2.Vec) r2.Vec {
		c.slopes[0], c.slopes[n-1] = m, m
		c.solve()
		return r2.Sub(r2.Add(r2.Add(r2.Scale(low, c.slopes[n-2]), r2.Scale(mid, m)), r2.Scale(high, c.slopes[1])), rhs)
	}
	r0 := residual(r2.Vec{})
	r1 := residual(r2.Vec{X: 1, Y: 1})
	m := r2.Vec{X: -r0.X / (r1.X - r0.X), Y: -r0.Y / (r1.Y - r0.Y)}
	residual(m)
}

// hermite is the piece that t lies in, its length, and where in it t is.
func (c *cubic) hermite(t float64) (i int, h, s float64) {
	lo, hi := 0, len(c.knots)-1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; t < c.knots[mid] {
			hi = mid
		} else {
			lo = mid
		}
	}
	h = c.knots[lo+1] - c.knots[lo]
	return lo, h, (t - c.knots[lo]) / h
}

// At is the point at t.
func (c *cubic) At(t float64) r2.Vec {
	i, h, s := c.hermite(t)
	p := r2.Add(r2.Scale((1+2*s)*(1-s)*(1-s), c.points[i]), r2.Scale(s*s*(3-2*s), c.points[i+1]))
	return r2.Add(p, r2.Add(r2.Scale(h*s*(1-s)*(1-s), c.slopes[i]), r2.Scale(h*s*s*(s-1), c.slopes[i+1])))
}

// Derivative is the rate of change of At.
func (c *cubic) Derivative(t float64) r2.Vec {
	i, h, s := c.hermite(t)
	p := r2.Scale(6*s*(1-s)/h, r2.Sub(c.points[i+1], c.points[i]))
	return r2.Add(p, r2.Add(r2.Scale((1-s)*(1-3*s), c.slopes[i]), r2.Scale(s*(3*s-2), c.slopes[i+1])))
}
