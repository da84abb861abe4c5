package relief

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// sampler lays points over a triangle at which heights are looked at: in rows along its longest
// side, a grain apart, and never fewer than the middles of the sides and of the triangle.
type sampler struct {
	longest int // side
	length  float64
	height  float64 // over the longest side
}

func newSampler(q [3]r2.Vec) sampler {
	var s sampler
	for k := range 3 {
		if l := math.Sqrt(r2.Norm2(r2.Sub(q[(k+1)%3], q[k]))); l > s.length {
			s.longest, s.length = k, l
		}
	}
	s.height = r2.Cross(r2.Sub(q[1], q[0]), r2.Sub(q[2], q[0])) / s.length
	return s
}

// each calls yield with the weights of the corners at every point.
func (s sampler) each(yield func(b [3]float64)) {
	k := s.longest
	rows := pieces(s.height)
	for row := range rows {
		t := float64(row) / float64(rows)
		n := pieces((1 - t) * s.length)
		for j := range n + 1 {
			if row == 0 && (j == 0 || j == n) {
				continue
			}
			u := float64(j) / float64(n)
			var b [3]float64
			b[k], b[(k+1)%3], b[(k+2)%3] = (1-t)*(1-u), (1-t)*u, t
			yield(b)
		}
	}
	yield([3]float64{1. / 3, 1. / 3, 1. / 3})
}

// blend is the point with the given weights of the corners.
func blend(q [3]r2.Vec, b [3]float64) r2.Vec {
	return r2.Vec{
		X: b[0]*q[0].X + b[1]*q[1].X + b[2]*q[2].X,
		Y: b[0]*q[0].Y + b[1]*q[1].Y + b[2]*q[2].Y,
	}
}

// sideOf is the side that a point with the given weights is on, from its corner to the next; -1
// within.
func sideOf(b [3]float64) int {
	switch {
	case b[2] == 0:
		return 0
	case b[0] == 0:
		return 1
	case b[1] == 0:
		return 2
	}
	return -1
}
