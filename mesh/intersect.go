package mesh

import (
	"math"

	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r3"
)

// The search for self-intersections is split into this many parts, whatever the machine, and each
// part gives up after so many finds: a file of a million triangles in one place has 5e11 of them.
const (
	searchParts = 256
	partLimit   = 4096
)

// triangleTree is the tree of all triangles that have an area.
func (c *checker) triangleTree() *tree {
	if c.tree != nil {
		return c.tree
	}
	items := make([]int32, 0, len(c.Triangles))
	boxes := make([]box, 0, len(c.Triangles))
	for i, t := range c.Triangles {
		if !c.flat[i] {
			items = append(items, int32(i))
			boxes = append(boxes, boxOf(c.Vertices[t[0]], c.Vertices[t[1]], c.Vertices[t[2]]))
		}
	}
	c.tree = newTree(items, boxes)
	return c.tree
}

// boxOf is the box of some points.
func boxOf(points ...r3.Vec) box {
	v := points[0]
	b := box{float32(v.X), float32(v.Y), float32(v.Z), float32(v.X), float32(v.Y), float32(v.Z)}
	for _, v := range points[1:] {
		b = b.with(&box{float32(v.X), float32(v.Y), float32(v.Z), float32(v.X), float32(v.Y), float32(v.Z)})
	}
	return b
}

// searching finds pairs of triangles that meet where they should not. The parts are looked at
// side by side and reported in their order, so that the report does not depend on the machine.
func (c *checker) searching() crew.Stage {
	var tasks []nodePair
	return crew.Stage{Count: func() int {
		if !c.opts.Quick {
			tasks = c.tree.tasks(searchParts)
			c.found = make([][][2]int32, len(tasks))
		}
		return len(tasks)
	}, Work: func(n int) { c.found[n] = c.intersecting(tasks[n]) }}
}

// intersections records the pairs that were found.
func (c *checker) intersections() {
	for _, pairs := range c.found {
		for _, p := range pairs {
			c.rec.add(SelfIntersection, c.meetingPoint(p[0], p[1]), p[0], p[1])
			if s, t := c.parts.number[p[0]], c.parts.number[p[1]]; s != t {
				c.tangled[s], c.tangled[t] = true, true
			}
		}
		if len(pairs) >= partLimit {
			c.rec.faults[SelfIntersection].More = true
		}
	}
}

// intersecting lists the pairs of one part.
func (c *checker) intersecting(part nodePair) [][2]int32 {
	var found [][2]int32
	c.tree.pairs(part, func(i, j int32) bool {
		i, j = min(i, j), max(i, j)
		if c.intersect(i, j) {
			found = append(found, [2]int32{i, j})
		}
		return len(found) < partLimit
	})
	return found
}

// meetingPoint is a point, to floating-point accuracy, at or near which two triangles meet: of the
// points where an edge of one crosses the plane of the other, the one farthest within that other;
// failing that the middle of what their boxes have in common.
func (c *checker) meetingPoint(i, j int32) r3.Vec {
	a, b := c.corners(i), c.corners(j)
	best, at := -1e-9, boxMiddle(a, b)
	for _, pair := range [2][2][3]r3.Vec{{a, b}, {b, a}} {
		edges, t := pair[0], pair[1]
		n := cross(r3.Sub(t[1], t[0]), r3.Sub(t[2], t[0]))
		for k := range 3 {
			p, q := edges[k], edges[(k+1)%3]
			hp, hq := r3.Dot(n, r3.Sub(p, t[0])), r3.Dot(n, r3.Sub(q, t[0]))
			if hp*hq > 0 || hp == hq {
				continue
			}
			x := r3.Add(p, r3.Scale(hp/(hp-hq), r3.Sub(q, p)))
			if d := depth(t, n, x); d > best {
				best, at = d, x
			}
		}
	}
	return at
}

// corners are a triangle's corners.
func (c *checker) corners(i int32) [3]r3.Vec {
	t := c.Triangles[i]
	return [3]r3.Vec{c.Vertices[t[0]], c.Vertices[t[1]], c.Vertices[t[2]]}
}

// depth is the least barycentric coordinate of x in the triangle with normal n.
func depth(t [3]r3.Vec, n, x r3.Vec) float64 {
	least := math.Inf(1)
	for k := range 3 {
		p, q := t[k], t[(k+1)%3]
		least = min(least, r3.Dot(n, cross(r3.Sub(q, p), r3.Sub(x, p)))/r3.Dot(n, n))
	}
	return least
}

// boxMiddle is the middle of what the boxes of two triangles have in common.
func boxMiddle(a, b [3]r3.Vec) r3.Vec {
	mid := func(f func(v r3.Vec) float64) float64 {
		lo := max(min(f(a[0]), f(a[1]), f(a[2])), min(f(b[0]), f(b[1]), f(b[2])))
		hi := min(max(f(a[0]), f(a[1]), f(a[2])), max(f(b[0]), f(b[1]), f(b[2])))
		return lo/2 + hi/2
	}
	return r3.Vec{
		X: mid(func(v r3.Vec) float64 { return v.X }),
		Y: mid(func(v r3.Vec) float64 { return v.Y }),
		Z: mid(func(v r3.Vec) float64 { return v.Z }),
	}
}
