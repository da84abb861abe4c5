package mesh

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Inertia is the inertia tensor of a solid of unit density (1 per mm3), in mm5, about its centroid
// and along the axes. The products carry the tensor's own sign: XY is minus the integral of x*y, so
// that the matrix [XX XY ZX; XY YY YZ; ZX YZ ZZ] times an angular velocity is an angular momentum.
// (Mirtich, journal of graphics tools 1(2), 1996, states the products as plus the integrals.)
type Inertia struct {
	XX, YY, ZZ float64
	XY, YZ, ZX float64
}

// Volume is the signed volume in mm3: positive if the triangles are counter-clockwise seen from
// outside. It sums the tetrahedra that the triangles span with the middle of the bounds (Zhang and
// Chen, "Efficient feature extraction for 2D/3D objects in mesh representation", ICIP 2001). A mesh
// that is not closed has no volume; the figure is then only unmoved by translation. Mirrored gives
// the same figure to the last bit. Empty: 0. Indices must be in range.
func (m *Mesh) Volume() float64 {
	return m.volumeAbout(m.Bounds().Center())
}

// volumeAbout is Volume with the tetrahedra's common point given.
func (m *Mesh) volumeAbout(o r3.Vec) float64 {
	sum := 0.0
	for _, t := range m.Triangles {
		sum += det(r3.Sub(m.Vertices[t[0]], o), r3.Sub(m.Vertices[t[1]], o), r3.Sub(m.Vertices[t[2]], o))
	}
	return sum / 6
}

// Area is the area of all triangles in mm2. Empty: 0. Indices must be in range.
func (m *Mesh) Area() float64 {
	sum := 0.0
	for _, t := range m.Triangles {
		sum += m.doubleArea(t)
	}
	return sum / 2
}

// doubleArea is twice the area of a triangle.
func (m *Mesh) doubleArea(t [3]int32) float64 {
	a := m.Vertices[t[0]]
	return norm(cross(r3.Sub(m.Vertices[t[1]], a), r3.Sub(m.Vertices[t[2]], a)))
}

// Centroid is the centre of the solid's volume. Where the volume is zero it is the centre of the
// surface, and where that is zero too the middle of the bounds. Indices must be in range.
func (m *Mesh) Centroid() r3.Vec {
	o := m.Bounds().Center()
	var solid, surface r3.Vec
	volume, area := 0.0, 0.0
	for _, t := range m.Triangles {
		a, b, c := r3.Sub(m.Vertices[t[0]], o), r3.Sub(m.Vertices[t[1]], o), r3.Sub(m.Vertices[t[2]], o)
		s := r3.Add(r3.Add(a, b), c)
		v := det(a, b, c)
		volume += v
		solid = r3.Add(solid, r3.Scale(v/4, s))
		d := norm(cross(r3.Sub(b, a), r3.Sub(c, a)))
		area += d
		surface = r3.Add(surface, r3.Scale(d/3, s))
	}
	switch {
	case volume != 0:
		return r3.Add(o, r3.Scale(1/volume, solid))
	case area != 0:
		return r3.Add(o, r3.Scale(1/area, surface))
	default:
		return o
	}
}

// Inertia is the inertia tensor about the centroid at unit density; see the type for its signs.
// The second moments of a tetrahedron with one corner at the origin and the others a, b, c are
// det(a,b,c)/120 (a aT + b bT + c cT + s sT), s = a + b + c (Tonon, "Explicit exact formulas for the
// 3-D tetrahedron inertia tensor", Journal of Mathematics and Statistics 1(1), 2004; from memory).
func (m *Mesh) Inertia() Inertia {
	o := m.Centroid()
	var xx, yy, zz, xy, yz, zx float64
	for _, t := range m.Triangles {
		a, b, c := r3.Sub(m.Vertices[t[0]], o), r3.Sub(m.Vertices[t[1]], o), r3.Sub(m.Vertices[t[2]], o)
		d := det(a, b, c) / 120
		for _, v := range [4]r3.Vec{a, b, c, r3.Add(r3.Add(a, b), c)} {
			xx += d * v.X * v.X
			yy += d * v.Y * v.Y
			zz += d * v.Z * v.Z
			xy += d * v.X * v.Y
			yz += d * v.Y * v.Z
			zx += d * v.Z * v.X
		}
	}
	return Inertia{XX: yy + zz, YY: zz + xx, ZZ: xx + yy, XY: -xy, YZ: -yz, ZX: -zx}
}

// Bounds is the smallest box along the axes that holds every vertex that a triangle uses. Empty:
// the zero box. Indices must be in range.
func (m *Mesh) Bounds() r3.Box {
	if len(m.Triangles) == 0 {
		return r3.Box{}
	}
	inf := math.Inf(1)
	lo, hi := r3.Vec{X: inf, Y: inf, Z: inf}, r3.Vec{X: -inf, Y: -inf, Z: -inf}
	for _, t := range m.Triangles {
		for _, i := range t {
			v := m.Vertices[i]
			lo = r3.Vec{X: min(lo.X, v.X), Y: min(lo.Y, v.Y), Z: min(lo.Z, v.Z)}
			hi = r3.Vec{X: max(hi.X, v.X), Y: max(hi.Y, v.Y), Z: max(hi.Z, v.Z)}
		}
	}
	return r3.Box{Min: lo, Max: hi}
}

// det is a . (b x c). The conversions forbid fused multiply-add, which would make the last bit
// depend on the machine and on the winding.
func det(a, b, c r3.Vec) float64 {
	n := cross(b, c)
	return float64(a.X*n.X) + float64(a.Y*n.Y) + float64(a.Z*n.Z)
}

// cross is b x c without fused multiply-add.
func cross(b, c r3.Vec) r3.Vec {
	return r3.Vec{
		X: float64(b.Y*c.Z) - float64(b.Z*c.Y),
		Y: float64(b.Z*c.X) - float64(b.X*c.Z),
		Z: float64(b.X*c.Y) - float64(b.Y*c.X),
	}
}

// norm is the length of a vector without fused multiply-add.
func norm(v r3.Vec) float64 {
	return math.Sqrt(float64(v.X*v.X) + float64(v.Y*v.Y) + float64(v.Z*v.Z))
}
