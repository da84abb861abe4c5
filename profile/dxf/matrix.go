package dxf

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// matrix is an affine map: the images of the three axes and of the origin.
type matrix struct{ x, y, z, o r3.Vec }

var identity = matrix{x: r3.Vec{X: 1}, y: r3.Vec{Y: 1}, z: r3.Vec{Z: 1}}

// vec is the image of a direction.
func (m *matrix) vec(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: m.x.X*v.X + m.y.X*v.Y + m.z.X*v.Z,
		Y: m.x.Y*v.X + m.y.Y*v.Y + m.z.Y*v.Z,
		Z: m.x.Z*v.X + m.y.Z*v.Y + m.z.Z*v.Z,
	}
}

// point is the image of a point.
func (m *matrix) point(p r3.Vec) r3.Vec { return r3.Add(m.vec(p), m.o) }

// plan is the image of a point, seen from above.
func (m *matrix) plan(p r3.Vec) r2.Vec {
	q := m.point(p)
	return r2.Vec{X: q.X, Y: q.Y}
}

// planVec is the image of a direction, seen from above.
func (m *matrix) planVec(v r3.Vec) r2.Vec {
	q := m.vec(v)
	return r2.Vec{X: q.X, Y: q.Y}
}

// after is the map that does n first and m then.
func (m *matrix) after(n matrix) matrix {
	return matrix{x: m.vec(n.x), y: m.vec(n.y), z: m.vec(n.z), o: m.point(n.o)}
}

// round reports whether the map keeps circles of its x,y plane round when seen from above, and
// whether it mirrors them.
func (m *matrix) round() (round, mirrored bool) {
	u, v := r2.Vec{X: m.x.X, Y: m.x.Y}, r2.Vec{X: m.y.X, Y: m.y.Y}
	return sameCircle(u, v), r2.Cross(u, v) < 0
}

// sameCircle reports whether u and v are perpendicular and equally long, to rounding.
func sameCircle(u, v r2.Vec) bool {
	const slack = 1e-9
	uu, vv := r2.Norm2(u), r2.Norm2(v)
	most := max(uu, vv)
	return most > 0 && math.Abs(uu-vv) <= slack*most && math.Abs(r2.Dot(u, v)) <= slack*most
}

// ocs is the map from an entity's own coordinate system to the world's (DXF Reference, arbitrary
// axis algorithm); false where the extrusion has no direction.
func ocs(extrusion r3.Vec) (matrix, bool) {
	n := r3.Norm(extrusion)
	if n == 0 || math.IsInf(n, 0) {
		return identity, extrusion == r3.Vec{}
	}
	z := r3.Scale(1/n, extrusion)
	x := r3.Cross(r3.Vec{Z: 1}, z)
	if math.Abs(z.X) < 1.0/64 && math.Abs(z.Y) < 1.0/64 {
		x = r3.Cross(r3.Vec{Y: 1}, z)
	}
	x = r3.Unit(x)
	return matrix{x: x, y: r3.Cross(z, x), z: z}, true
}

// placed is the map of an insertion: the block's base point is taken to the insertion's point,
// scaled, turned and, for a grid, shifted along its turned axes.
func (in *Insert) placed(base r3.Vec, column, row int) matrix {
	sin, cos := math.Sincos(in.TurnDeg * math.Pi / 180)
	switch in.TurnDeg {
	case 90, -270:
		sin, cos = 1, 0
	case 180, -180:
		sin, cos = 0, -1
	case 270, -90:
		sin, cos = -1, 0
	}
	dx, dy := float64(column)*in.ColumnStep, float64(row)*in.RowStep
	m := matrix{
		x: r3.Vec{X: cos * in.Scale.X, Y: sin * in.Scale.X},
		y: r3.Vec{X: -sin * in.Scale.Y, Y: cos * in.Scale.Y},
		z: r3.Vec{Z: in.Scale.Z},
		o: r3.Add(in.At, r3.Vec{X: cos*dx - sin*dy, Y: sin*dx + cos*dy}),
	}
	m.o = r3.Sub(m.o, m.vec(base))
	return m
}
