package relief

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// plane is a plane over the plan: its height at a point, and how much it rises for each mm along x and y.
type plane struct {
	from  r2.Vec
	z     float64
	slope r2.Vec
}

// through is the plane through three heights; false where the points are in line.
func through(q [3]r2.Vec, z [3]float64) (plane, bool) {
	u, v := r2.Sub(q[1], q[0]), r2.Sub(q[2], q[0])
	det := r2.Cross(u, v)
	if det == 0 {
		return plane{from: q[0], z: z[0]}, false
	}
	du, dv := z[1]-z[0], z[2]-z[0]
	return plane{q[0], z[0], r2.Vec{X: (du*v.Y - dv*u.Y) / det, Y: (dv*u.X - du*v.X) / det}}, true
}

// over is the plane's height at p.
func (p *plane) over(at r2.Vec) float64 { return p.z + r2.Dot(p.slope, r2.Sub(at, p.from)) }

// steep is the length of the plane's normal (-slope, 1).
func (p *plane) steep() float64 { return math.Sqrt(1 + p.slope.X*p.slope.X + p.slope.Y*p.slope.Y) }
