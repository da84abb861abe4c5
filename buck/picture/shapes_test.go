package picture_test

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
)

// loft joins closed rings of equal length, lowest first, each counter-clockwise seen from above,
// and caps both ends with a fan about their middle.
func loft(rings ...[]r3.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	n := int32(len(rings[0]))
	for _, r := range rings {
		m.Vertices = append(m.Vertices, r...)
	}
	for k := range int32(len(rings) - 1) {
		for i := range n {
			a, b := k*n+i, k*n+(i+1)%n
			m.Triangles = append(m.Triangles, [3]int32{a, b, b + n}, [3]int32{a, b + n, a + n})
		}
	}
	last := int32(len(rings)-1) * n
	for _, end := range []struct {
		from int32
		up   bool
	}{{0, false}, {last, true}} {
		c := r3.Vec{}
		for i := range n {
			c = r3.Add(c, r3.Scale(1/float64(n), m.Vertices[end.from+i]))
		}
		at := int32(len(m.Vertices))
		m.Vertices = append(m.Vertices, c)
		for i := range n {
			a, b := end.from+i, end.from+(i+1)%n
			if end.up {
				m.Triangles = append(m.Triangles, [3]int32{a, b, at})
			} else {
				m.Triangles = append(m.Triangles, [3]int32{b, a, at})
			}
		}
	}
	return m
}

// rectangle is a ring of four points at a height.
func rectangle(x0, y0, x1, y1, z float64) []r3.Vec {
	return []r3.Vec{{X: x0, Y: y0, Z: z}, {X: x1, Y: y0, Z: z}, {X: x1, Y: y1, Z: z}, {X: x0, Y: y1, Z: z}}
}

// cube is a block from the origin.
func cube(x, y, z float64) *mesh.Mesh {
	return loft(rectangle(0, 0, x, y, 0), rectangle(0, 0, x, y, z))
}

// chamferedCube has its upper edges broken by c at 45 deg.
func chamferedCube(x, y, z, c float64) *mesh.Mesh {
	return loft(rectangle(0, 0, x, y, 0), rectangle(0, 0, x, y, z-c), rectangle(c, c, x-c, y-c, z))
}

// stadium is a ring of half length l between the centres of its round ends and radius r; each
// round end has n steps.
func stadium(cx, cy, l, r, z float64, n int) []r3.Vec {
	var ring []r3.Vec
	for i := range 2*n + 2 {
		a, x := -math.Pi/2+math.Pi*float64(i)/float64(n), cx+l
		if i > n {
			a, x = math.Pi/2+math.Pi*float64(i-n-1)/float64(n), cx-l
		}
		ring = append(ring, r3.Vec{X: x + r*math.Cos(a), Y: cy + r*math.Sin(a), Z: z})
	}
	return ring
}

// boss is a drafted stadium 38 x 14 x 9 with an upper edge of radius e (0: sharp).
func boss(e, z0 float64, n int) *mesh.Mesh {
	const l, r, h = 12.0, 7.0, 9.0
	d := math.Tan(5 * math.Pi / 180)
	rings := [][]r3.Vec{stadium(0, 0, l, r, z0, n)}
	if e == 0 {
		return loft(append(rings, stadium(0, 0, l, r-h*d, z0+h, n))...)
	}
	steps := max(n/2, 2)
	from := 5 * math.Pi / 180
	inset := (h-e)*d + e*math.Cos(from) - e*math.Sin(from)*d
	for i := range steps + 1 {
		a := from + (math.Pi/2-from)*float64(i)/float64(steps)
		rings = append(rings, stadium(0, 0, l, r-inset+e*math.Cos(a)-0, z0+h-e+e*math.Sin(a), n))
	}
	return loft(rings...)
}

// cone stands on z with its base about (x, y).
func cone(x, y, z, base, h float64, n int) *mesh.Mesh {
	return loft(stadium(x, y, 0, base/2, z-0.01, n), stadium(x, y, 0, base/2, z, n), stadium(x, y, 0, 1e-4, z+h, n))
}

// feather is a wedge that runs out to a toe of 0.05 mm.
func feather() *mesh.Mesh {
	m := cube(30, 12, 4)
	for i, v := range m.Vertices {
		if v.Z > 1 && v.X > 15 {
			m.Vertices[i].Z = 0.05
		}
		if v.Z > 1 && v.X > 10 && v.X < 20 {
			m.Vertices[i].Z = 2.025
		}
	}
	return m
}

// knife is a blade with a flat grind of a few degrees and a curved belly, and a rounded handle.
func knife(n int) (blade, handle *mesh.Mesh) {
	var edge, grindR, spineR, spineL, grindL []r3.Vec
	for i := range n + 1 {
		t := float64(i) / float64(n)
		x := 112 * t
		spine := 12 - 7*math.Pow(t, 3)
		belly := -13 + 17*math.Pow(t, 4)
		line := -1 + 5*math.Pow(t, 3)
		half := 1.6 - 0.7*t
		edge = append(edge, r3.Vec{X: x, Y: belly})
		grindR = append(grindR, r3.Vec{X: x, Y: line, Z: half})
		spineR = append(spineR, r3.Vec{X: x, Y: spine, Z: half})
		spineL = append(spineL, r3.Vec{X: x, Y: spine, Z: -half})
		grindL = append(grindL, r3.Vec{X: x, Y: line, Z: -half})
	}
	var rings [][]r3.Vec
	for i := range n + 1 {
		rings = append(rings, []r3.Vec{edge[i], grindR[i], spineR[i], spineL[i], grindL[i]})
	}
	blade = loft(rings...)
	flip(blade)
	var hs [][]r3.Vec
	for i := range n + 1 {
		t := float64(i) / float64(n)
		x := -108 + 108*t
		w := 13 + 1.5*math.Cos(4*math.Pi*t)
		sh := min(1, 0.55+0.45*math.Sqrt(min(1, min(t, 1-t)*14)))
		var ring []r3.Vec
		for k := range 48 {
			a := 2 * math.Pi * float64(k) / 48
			c, s := math.Cos(a), math.Sin(a)
			p := math.Pow(math.Pow(math.Abs(c), 3.2)+math.Pow(math.Abs(s), 3.2), -1/3.2)
			ring = append(ring, r3.Vec{X: x, Y: -1 + w*sh*p*c, Z: 10 * sh * p * s})
		}
		hs = append(hs, ring)
	}
	handle = loft(hs...)
	return blade, handle
}

func flip(m *mesh.Mesh) {
	for i, t := range m.Triangles {
		m.Triangles[i] = [3]int32{t[0], t[2], t[1]}
	}
}

// torus has 2 k k triangles.
func torus(k int, big, small float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range k {
		for j := range k {
			u, v := 2*math.Pi*float64(i)/float64(k), 2*math.Pi*float64(j)/float64(k)
			r := big + small*math.Cos(v)
			m.Vertices = append(m.Vertices, r3.Vec{X: r * math.Cos(u), Y: r * math.Sin(u), Z: small * math.Sin(v)})
		}
	}
	at := func(i, j int) int32 { return int32((i%k)*k + j%k) }
	for i := range k {
		for j := range k {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.Triangles = append(m.Triangles, [3]int32{a, b, c}, [3]int32{a, c, d})
		}
	}
	return m
}
