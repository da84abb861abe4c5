package mesh

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Fit is how a mesh is to be turned so that it fits: the axis of its own that points up, and then by
// how many degrees it is turned about the upright.
type Fit struct {
	Up      Axis
	TurnDeg float64
}

// Fit finds a turn in which the mesh fits within a bed of the given size (mm): as it stands before
// turned, upright before laid on a side. Turns about the upright are looked for at 0 and 90 degrees,
// along the edges of the shadow's hull and by tenths of a degree; a gap narrower than that is missed.
// Empty: fits. Indices must be in range.
func (m *Mesh) Fit(bed r3.Vec) (Fit, bool) {
	const more = 1e-6 // mm; what sums may be off by
	size := m.Bounds().Size()
	for _, up := range [3]Axis{Z, X, Y} {
		tall := [3]float64{size.X, size.Y, size.Z}[up]
		if tall > bed.Z+more {
			continue
		}
		hull := m.shadow(up)
		for _, deg := range turns(hull) {
			sin, cos := sincosDeg(deg)
			if extent(hull, cos, sin) <= bed.X+more && extent(hull, -sin, cos) <= bed.Y+more {
				return Fit{Up: up, TurnDeg: deg}, true
			}
		}
	}
	return Fit{}, false
}

// extent is how far points reach along a direction: x' = x cos - y sin, of a turn by the angle, is
// the direction (cos, -sin), so that the sine is taken with its sign turned.
func extent(points []r2.Vec, x, y float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range points {
		d := p.X*x - p.Y*y
		lo, hi = min(lo, d), max(hi, d)
	}
	if lo > hi {
		return 0
	}
	return hi - lo
}

// turns are the angles to try, in degrees from 0 to under 180.
func turns(hull []r2.Vec) []float64 {
	list := []float64{0, 90}
	for i, p := range hull {
		d := r2.Sub(hull[(i+1)%len(hull)], p)
		a := math.Mod(360-math.Atan2(d.Y, d.X)*180/math.Pi, 90)
		list = append(list, a, a+90)
	}
	for i := range 1800 {
		list = append(list, float64(i)/10)
	}
	return list
}

// shadow is the convex hull of the mesh seen along an axis, counter-clockwise.
func (m *Mesh) shadow(up Axis) []r2.Vec {
	var points []r2.Vec
	seen := make([]bool, len(m.Vertices))
	for _, t := range m.Triangles {
		for _, i := range t {
			if seen[i] {
				continue
			}
			seen[i] = true
			v := m.Vertices[i]
			switch up {
			case X:
				points = append(points, r2.Vec{X: v.Y, Y: v.Z})
			case Y:
				points = append(points, r2.Vec{X: v.Z, Y: v.X})
			default:
				points = append(points, r2.Vec{X: v.X, Y: v.Y})
			}
		}
	}
	return hullOf(points)
}

// hullOf is the convex hull of points, counter-clockwise (Andrew, Information Processing Letters
// 9(5), 1979). It sorts the points.
func hullOf(points []r2.Vec) []r2.Vec {
	slices.SortFunc(points, func(p, q r2.Vec) int { return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y)) })
	points = slices.Compact(points)
	half := func(points []r2.Vec) []r2.Vec {
		var hull []r2.Vec
		for _, p := range points {
			for len(hull) > 1 && r2.Cross(r2.Sub(hull[len(hull)-1], hull[len(hull)-2]), r2.Sub(p, hull[len(hull)-1])) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, p)
		}
		return hull
	}
	if len(points) < 3 {
		return points
	}
	lower := half(points)
	slices.Reverse(points)
	upper := half(points)
	return append(lower[:len(lower)-1], upper[:len(upper)-1]...)
}
