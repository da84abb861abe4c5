package relief

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// refine adds points to the plan until a plane over each triangle that carries material misses no
// height by more than is allowed, and the chord of every foot is as close.
func (w *work) refine() error {
	for {
		want := w.misses()
		if w.bad != nil {
			return w.bad
		}
		if len(want) == 0 {
			return nil
		}
		before := len(w.points)
		for _, p := range want {
			if _, err := w.plan.SplitBetween(p.a, p.b, p.at); err != nil {
				return fmt.Errorf("plan: %w", err)
			}
		}
		w.survey()
		if len(w.points) == before {
			return nil
		}
		if len(w.points) > w.opt.MaxPoints {
			return fmt.Errorf("%w: %d", ErrTooFine, w.opt.MaxPoints)
		}
	}
}

// allowed is the miss that is let pass where it is looked for; the rest of the tolerance is for what
// lies between.
func (w *work) allowed() float64 { return 0.8 * w.opt.Tolerance }

// addition is a point to add to the plan: on the edge between two points of it, or, where these are
// equal, within a triangle.
type addition struct {
	at   r2.Vec
	a, b int
}

// misses are the points to add: at most one for each triangle.
func (w *work) misses() []addition {
	var want []addition
	for i, r := range w.region {
		if len(w.spans[r]) == 0 || w.longest(i) < 2*w.opt.Tolerance {
			continue
		}
		if p, ok := w.miss(i, r); ok {
			want = append(want, p)
		}
	}
	return want
}

func (w *work) longest(i int) float64 {
	a, b, c := w.corners(i)
	return math.Max(r2.Norm(r2.Sub(a, b)), math.Max(r2.Norm(r2.Sub(b, c)), r2.Norm(r2.Sub(c, a))))
}

func (w *work) corners(i int) (a, b, c r2.Vec) {
	t := w.triangles[i]
	return w.points[t[0]], w.points[t[1]], w.points[t[2]]
}

// miss is the point of triangle i, of region r, where its heights are missed the most.
func (w *work) miss(i, r int) (addition, bool) {
	t := w.triangles[i]
	a, b, c := w.corners(i)
	q := [3]r2.Vec{a, b, c}
	worst, at := w.allowed(), addition{}
	for k := range w.spans[r] {
		ta, tb, tc := w.thickness(r, k, a), w.thickness(r, k, b), w.thickness(r, k, c)
		if ta <= 0 && tb <= 0 && tc <= 0 {
			continue
		}
		if p, far := w.footMiss(r, k, q, [3]float64{ta, tb, tc}); far > worst {
			worst, at = far, addition{at: p}
		}
		for end := 2 * k; end <= 2*k+1; end++ {
			side, far := w.planeMiss(r, end, q)
			if far <= worst {
				continue
			}
			worst = far
			if side == 3 {
				at = addition{at: w.middle(i)}
				continue
			}
			n := (side + 1) % 3
			at = addition{at: r2.Scale(0.5, r2.Add(q[side], q[n])), a: t[side], b: t[n]}
		}
	}
	return at, worst > w.allowed()
}

// planeMiss is how far, square to the surface, the plane through the heights at the corners is from
// the height at the middles of the sides and of the triangle, and where that is most: the number of
// the side, 3 for the middle of the triangle.
func (w *work) planeMiss(r, end int, q [3]r2.Vec) (side int, worst float64) {
	var z [3]float64
	for j := range q {
		z[j] = w.height(r, end, q[j])
	}
	normal := steep(q, z)
	try := func(n int, p r2.Vec, flat float64) {
		if far := math.Abs(w.height(r, end, p)-flat) / normal; far > worst {
			worst, side = far, n
		}
	}
	for j := range q {
		k := (j + 1) % 3
		try(j, r2.Scale(0.5, r2.Add(q[j], q[k])), (z[j]+z[k])/2)
	}
	if worst <= w.allowed() {
		try(3, r2.Scale(1./3, r2.Add(q[0], r2.Add(q[1], q[2]))), (z[0]+z[1]+z[2])/3)
	}
	return side, worst
}

// steep is the length of the normal (-slope, 1) of the plane through three heights.
func steep(q [3]r2.Vec, z [3]float64) float64 {
	u, v := r2.Sub(q[1], q[0]), r2.Sub(q[2], q[0])
	det := r2.Cross(u, v)
	if det == 0 {
		return 1
	}
	du, dv := z[1]-z[0], z[2]-z[0]
	gx := (du*v.Y - dv*u.Y) / det
	gy := (dv*u.X - du*v.X) / det
	return math.Hypot(1, math.Hypot(gx, gy))
}

// footMiss is how far the chord of the foot across a triangle is from the foot at its middle, in
// plan, and the true foot there.
func (w *work) footMiss(r, k int, q [3]r2.Vec, t [3]float64) (r2.Vec, float64) {
	var ends []r2.Vec
	for j := range q {
		if n := (j + 1) % 3; t[j]*t[n] < 0 {
			ends = append(ends, w.root(r, k, q[j], q[n]))
		}
	}
	if len(ends) != 2 {
		return r2.Vec{}, 0
	}
	middle := r2.Scale(0.5, r2.Add(ends[0], ends[1]))
	along := r2.Sub(ends[1], ends[0])
	length := r2.Norm(along)
	if length < 4*w.opt.Tolerance {
		return r2.Vec{}, 0
	}
	across := r2.Scale(0.25, r2.Vec{X: -along.Y, Y: along.X})
	p, s := r2.Add(middle, across), r2.Sub(middle, across)
	if (w.thickness(r, k, p) > 0) == (w.thickness(r, k, s) > 0) {
		return middle, length // bends by more than its quarter: halve it
	}
	foot := w.root(r, k, p, s)
	return foot, r2.Norm(r2.Sub(foot, middle))
}

// root is the point between p and q where span k of region r has no thickness; the thicknesses at p
// and q differ in sign. By the Illinois variant of regula falsi, to a twentieth of the plan's grid.
func (w *work) root(r, k int, p, q r2.Vec) r2.Vec {
	if q.X < p.X || q.X == p.X && q.Y < p.Y {
		p, q = q, p // the same root from either side
	}
	at := func(t float64) r2.Vec { return r2.Add(r2.Scale(1-t, p), r2.Scale(t, q)) }
	f := func(t float64) float64 {
		s := w.spans[r][k]
		return s.High(at(t)) - s.Low(at(t))
	}
	lo, hi := 0.0, 1.0
	fl, fh := f(lo), f(hi)
	side := 0
	width := r2.Norm(r2.Sub(q, p))
	for range 60 {
		if (hi-lo)*width < 5e-6 || fl == fh {
			break
		}
		t := (lo*fh - hi*fl) / (fh - fl)
		if t <= lo || t >= hi {
			t = (lo + hi) / 2
		}
		ft := f(t)
		switch {
		case ft == 0:
			return at(t)
		case (ft > 0) == (fh > 0):
			hi, fh = t, ft
			if side == 1 {
				fl /= 2
			}
			side = 1
		default:
			lo, fl = t, ft
			if side == -1 {
				fh /= 2
			}
			side = -1
		}
	}
	return at((lo*fh - hi*fl) / (fh - fl))
}
