package mesh

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Axis is one of the frame's axes.
type Axis uint8

// The axes.
const (
	X Axis = iota
	Y
	Z
)

// Mirrored is the mesh mirrored in the plane z = 0, with the winding flipped so that it stays
// outward. It is exact: volume and area are the original's to the last bit, and mirroring twice
// gives the original (-0 becomes 0).
func (m *Mesh) Mirrored() *Mesh {
	out := m.mapped(func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: v.Y, Z: 0 - v.Z} })
	for i, t := range out.Triangles {
		out.Triangles[i] = [3]int32{t[0], t[2], t[1]}
	}
	return out
}

// Moved is the mesh shifted by d (mm).
func (m *Mesh) Moved(d r3.Vec) *Mesh {
	return m.mapped(func(v r3.Vec) r3.Vec { return r3.Add(v, d) })
}

// Scaled is the mesh scaled about the origin by a factor over 0; 1 gives it as it is, to the last bit.
func (m *Mesh) Scaled(factor float64) *Mesh {
	return m.mapped(func(v r3.Vec) r3.Vec { return r3.Scale(factor, v) })
}

// Turned is the mesh turned about an axis through the origin by an angle in degrees,
// counter-clockwise for one who looks against the axis. Multiples of 90 degrees are exact. An angle
// that is not finite gives vertices that are not finite, which Check reports; an axis that is none
// of the three counts as Z.
func (m *Mesh) Turned(axis Axis, deg float64) *Mesh {
	sin, cos := sincosDeg(deg)
	turn := func(a, b float64) (float64, float64) { return a*cos - b*sin, a*sin + b*cos }
	return m.mapped(func(v r3.Vec) r3.Vec {
		switch axis {
		case X:
			v.Y, v.Z = turn(v.Y, v.Z)
		case Y:
			v.Z, v.X = turn(v.Z, v.X)
		default:
			v.X, v.Y = turn(v.X, v.Y)
		}
		return v
	})
}

// sincosDeg is the sine and cosine of an angle in degrees, exact at multiples of 90.
func sincosDeg(deg float64) (sin, cos float64) {
	r := math.Mod(deg, 360)
	if r < 0 {
		r += 360
	}
	switch r {
	case 0:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	default:
		return math.Sincos(r * math.Pi / 180)
	}
}

// Joined is all meshes in one, in the order given. Vertices are not welded and solids not united.
func Joined(meshes ...*Mesh) *Mesh {
	out := &Mesh{}
	for _, m := range meshes {
		first := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, m.Vertices...)
		for _, t := range m.Triangles {
			out.Triangles = append(out.Triangles, [3]int32{t[0] + first, t[1] + first, t[2] + first})
		}
	}
	return out
}

// mapped is a copy with every vertex put through f.
func (m *Mesh) mapped(f func(r3.Vec) r3.Vec) *Mesh {
	out := &Mesh{
		Vertices:  make([]r3.Vec, len(m.Vertices)),
		Triangles: append([][3]int32(nil), m.Triangles...),
	}
	for i, v := range m.Vertices {
		out.Vertices[i] = f(v)
	}
	return out
}
