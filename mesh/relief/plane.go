package relief

import (
	"math"

	"formbuck/mesh/plan"

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

// inPlane is how far, in mm, a height may be off a plane that it is taken for: it is the same on the plan's grid.
const inPlane = plan.Grid / 4

// gentle is the steepness of a plane below which the other end of a span gives way to it on a foot.
const gentle = 1.1

// findPlanes finds the ends of spans that are planes, and no steep ones, over zones with a foot, as far as the corners show and,
// where a triangle is larger than what is looked at, its middle.
func (w *work) findPlanes() {
	for i, z := range w.zone {
		for _, v := range w.plan.Triangle(i) {
			z.footed = z.footed || w.foot[v]
		}
	}
	for i, z := range w.zone {
		if !z.footed {
			continue
		}
		if a := area(w.plan, i); a > z.largest {
			z.largest, z.base = a, i
		}
	}
	for _, z := range w.zones {
		if z.largest == 0 {
			continue
		}
		q, t := w.corners(z.base), w.plan.Triangle(z.base)
		for n := range z.ends {
			e := &z.ends[n]
			e.plane, _ = through(q, [3]float64{w.over(z, n, t[0]), w.over(z, n, t[1]), w.over(z, n, t[2])})
			e.flat = e.plane.steep() < gentle
		}
	}
	for i, z := range w.zone {
		for n := range z.ends {
			z.ends[n].flat = z.ends[n].flat && w.lies(i, z, n)
		}
	}
}

// lies tells whether an end of a span over triangle i lies in the plane that it is taken for.
func (w *work) lies(i int, z *zone, n int) bool {
	p := &z.ends[n].plane
	for _, v := range w.plan.Triangle(i) {
		if math.Abs(w.over(z, n, v)-p.over(w.points[v])) > inPlane {
			return false
		}
	}
	if w.longest(i) < grain {
		return true
	}
	m := w.middle(i)
	return math.Abs(w.at(z, n, m)-p.over(m)) <= inPlane
}
