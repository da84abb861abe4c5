package meshtest

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
)

// Box is a box in 12 triangles.
func Box(b r3.Box) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range 8 {
		v := b.Min
		if i&1 != 0 {
			v.X = b.Max.X
		}
		if i&2 != 0 {
			v.Y = b.Max.Y
		}
		if i&4 != 0 {
			v.Z = b.Max.Z
		}
		m.Vertices = append(m.Vertices, v)
	}
	for _, q := range [][4]int32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]int32{q[0], q[1], q[2]}, [3]int32{q[0], q[2], q[3]})
	}
	return m
}

// Tetrahedron is the solid between the origin and a point on each axis.
func Tetrahedron(x, y, z float64) *mesh.Mesh {
	return &mesh.Mesh{
		Vertices:  []r3.Vec{{}, {X: x}, {Y: y}, {Z: z}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
	}
}

// Icosahedron is the regular one with its corners on a sphere of the given radius.
func Icosahedron(radius float64) *mesh.Mesh {
	g := (1 + math.Sqrt(5)) / 2
	s := radius / math.Hypot(1, g)
	m := &mesh.Mesh{Triangles: [][3]int32{
		{0, 11, 5},
		{0, 5, 1},
		{0, 1, 7},
		{0, 7, 10},
		{0, 10, 11},
		{1, 5, 9},
		{5, 11, 4},
		{11, 10, 2},
		{10, 7, 6},
		{7, 1, 8},
		{3, 9, 4},
		{3, 4, 2},
		{3, 2, 6},
		{3, 6, 8},
		{3, 8, 9},
		{4, 9, 5},
		{2, 4, 11},
		{6, 2, 10},
		{8, 6, 7},
		{9, 8, 1},
	}}
	for _, v := range []r3.Vec{
		{X: -1, Y: g},
		{X: 1, Y: g},
		{X: -1, Y: -g},
		{X: 1, Y: -g},
		{Y: -1, Z: g},
		{Y: 1, Z: g},
		{Y: -1, Z: -g},
		{Y: 1, Z: -g},
		{X: g, Z: -1},
		{X: g, Z: 1},
		{X: -g, Z: -1},
		{X: -g, Z: 1},
	} {
		m.Vertices = append(m.Vertices, r3.Scale(s, v))
	}
	return m
}

// Loft is the solid between two counter-clockwise rings of as many points, seen from +z: the first
// at z = 0, the second at z = height. Both ends are fans about the ring's middle.
func Loft(foot, head []r2.Vec, height float64) *mesh.Mesh {
	n := int32(len(foot))
	m := &mesh.Mesh{}
	var low, high r2.Vec
	for _, p := range foot {
		m.Vertices = append(m.Vertices, r3.Vec{X: p.X, Y: p.Y})
		low = r2.Add(low, r2.Scale(1/float64(n), p))
	}
	for _, p := range head {
		m.Vertices = append(m.Vertices, r3.Vec{X: p.X, Y: p.Y, Z: height})
		high = r2.Add(high, r2.Scale(1/float64(n), p))
	}
	m.Vertices = append(m.Vertices, r3.Vec{X: low.X, Y: low.Y}, r3.Vec{X: high.X, Y: high.Y, Z: height})
	for i := range n {
		j := (i + 1) % n
		m.Triangles = append(m.Triangles, [3]int32{i, j, n + j}, [3]int32{i, n + j, n + i},
			[3]int32{2 * n, j, i}, [3]int32{2*n + 1, n + i, n + j})
	}
	return m
}

// Frustum is a cone between two circles of n corners, inscribed; top may be 0 for a whole cone.
func Frustum(bottom, top, height float64, n int) *mesh.Mesh {
	m := Loft(Circle(bottom, n), Circle(top, n), height).Welded()
	kept := m.Triangles[:0]
	for _, t := range m.Triangles {
		if t[0] != t[1] && t[1] != t[2] && t[2] != t[0] {
			kept = append(kept, t)
		}
	}
	m.Triangles = kept
	return m
}

// Circle is a ring of n points about the origin.
func Circle(radius float64, n int) []r2.Vec {
	ring := make([]r2.Vec, n)
	for i := range ring {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		ring[i] = r2.Vec{X: radius * cos, Y: radius * sin}
	}
	return ring
}

// Stadium is a ring along a rectangle of the given length and width, overall, whose ends are half
// circles of n sides each.
func Stadium(length, width float64, n int) []r2.Vec {
	var ring []r2.Vec
	r, half := width/2, (length-width)/2
	for end := range 2 {
		side := float64(1 - 2*end)
		for i := range n + 1 {
			sin, cos := math.Sincos(math.Pi * (float64(i)/float64(n) - 0.5))
			ring = append(ring, r2.Vec{X: side * (half + r*cos), Y: side * r * sin})
		}
	}
	return ring
}

// Torus is a ring about the z axis: n corners around the axis, k around the tube.
func Torus(major, minor float64, n, k int) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range n {
		sa, ca := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		for j := range k {
			sb, cb := math.Sincos(2 * math.Pi * float64(j) / float64(k))
			r := major + minor*cb
			m.Vertices = append(m.Vertices, r3.Vec{X: r * ca, Y: r * sa, Z: minor * sb})
			a, b := int32(i*k+j), int32((i+1)%n*k+j)
			c, d := int32((i+1)%n*k+(j+1)%k), int32(i*k+(j+1)%k)
			m.Triangles = append(m.Triangles, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
	}
	return m
}
