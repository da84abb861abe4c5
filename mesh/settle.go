package mesh

import (
	"math"

	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r3"
)

// settling finds vertices at which no two triangles can meet beyond the vertex, or the edge from there,
// that they share: where the triangles make one whole fan that, seen from some direction, lies flat around
// the vertex once. Seen from there each triangle keeps to its own angle, and two of them have in common a leg at
// most, on which each has the points of its edge alone. That settles nearly all vertices, each in the
// time of its triangles, where comparing them in pairs takes the square of it: the middle of a disc
// of a thousand corners has half a million pairs. What is not settled is compared in pairs.
func (c *checker) settling() crew.Stage {
	const some = 128 // vertices
	return crew.Stage{Count: func() int {
		if c.opts.Quick {
			return 0
		}
		c.settled = make([]bool, len(c.Vertices))
		return (len(c.Vertices) + some - 1) / some
	}, Work: func(n int) {
		for v := n * some; v < min((n+1)*some, len(c.Vertices)); v++ {
			if c.parts.fan[v] == 1 && !c.rough[v] {
				c.settled[v] = c.liesFlat(int32(v), c.topo.at(int32(v)))
			}
		}
	}}
}

// liesFlat tells whether the fan lies flat around its vertex once, seen against the mean of its
// normals: every triangle is seen from its front, and the leg that the first begins with is covered
// by one triangle only. The decision is exact for the direction, whatever it is.
func (c *checker) liesFlat(v int32, fan []int32) bool {
	toward, ok := c.meanNormal(fan)
	if !ok {
		return false
	}
	o := &c.grid.points[v]
	covered := 0
	var leg point
	for n, corner := range fan {
		t, k := c.Triangles[corner/3], corner%3
		p, q := c.grid.points[t[(k+1)%3]].minus(o), c.grid.points[t[(k+2)%3]].minus(o)
		if n == 0 {
			leg = p
		}
		if sided(p, q, toward) <= 0 {
			return false
		}
		// A leg that is this one lies on it, and needs no exact zero to say so.
		if q != leg && (p == leg || sided(p, leg, toward) >= 0) && sided(leg, q, toward) > 0 {
			covered++
		}
	}
	return covered == 1
}

// meanNormal is the mean of the unit normals of a fan, as a direction in whole numbers.
func (c *checker) meanNormal(fan []int32) (point, bool) {
	var sum r3.Vec
	for _, corner := range fan {
		t := c.Triangles[corner/3]
		a := c.Vertices[t[0]]
		n := cross(r3.Sub(c.Vertices[t[1]], a), r3.Sub(c.Vertices[t[2]], a))
		sum = r3.Add(sum, r3.Scale(1/norm(n), n))
	}
	const size = 1 << 24
	f := size / max(math.Abs(sum.X), math.Abs(sum.Y), math.Abs(sum.Z))
	whole := r3.Scale(f, sum)
	return point{int64(whole.X), int64(whole.Y), int64(whole.Z)}, finite(whole)
}
