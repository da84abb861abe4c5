package mesh

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// fans finds vertices at which the triangles make more than one fan (the umbrella test).
func (c *checker) fans() {
	slices.Sort(c.parts.second)
	for _, corner := range c.parts.second {
		c.rec.add(NonManifoldVertex, c.Vertices[c.Triangles[corner/3][corner%3]], corner/3, -1)
	}
}

// shells finds closed shells whose winding does not fit where they lie: the outer ones must have a
// positive volume, those in them a negative one (cavities), those in a cavity a positive one. A shell
// that meets another lies neither in it nor beside it, and is left to that fault.
func (c *checker) shells() {
	if v := c.Volume(); !(v > 0) {
		c.rec.add(NoVolume, c.Bounds().Center(), -1, -1)
	}
	shells := c.parts.shells
	if len(shells) > 1 && c.opts.Quick {
		return
	}
	starts := c.starts()
	for i, s := range shells {
		if !s.Closed || !s.Oriented || starts[i] < 0 {
			continue
		}
		want := 1.0
		if len(shells) > 1 && c.enclosed(int32(i), starts[i]) {
			want = -1
		}
		if !(s.Volume*want > 0) {
			c.rec.add(InvertedShell, c.middle(c.Triangles[s.First]), int32(s.First), -1)
		}
	}
}

// starts is, for each shell, a vertex that no other shell has, or -1 if there is none or if the
// shell meets another.
func (c *checker) starts() []int32 {
	starts := make([]int32, len(c.parts.shells))
	for i := range starts {
		starts[i] = -1
	}
	for i, t := range c.Triangles {
		n := c.parts.number[i]
		if n < 0 || starts[n] >= 0 || c.tangled[n] {
			continue
		}
		for _, v := range t {
			if c.parts.fan[v] == 1 {
				starts[n] = v
				break
			}
		}
	}
	return starts
}

// enclosed tells whether a shell lies in an odd number of other closed shells: whether a ray upward
// from a vertex of it crosses their triangles an odd number of times in all.
func (c *checker) enclosed(shell, vertex int32) bool {
	at, p := c.Vertices[vertex], &c.grid.points[vertex]
	ray := boxOf(at, r3.Vec{X: at.X, Y: at.Y, Z: math.Inf(1)})
	odd := false
	c.triangleTree().meeting(&ray, func(i int32) bool {
		n := c.parts.number[i]
		if s := c.parts.shells[n]; n != shell && s.Closed && s.Oriented && c.grid.overhead(i, p) {
			odd = !odd
		}
		return true
	})
	return odd
}

// overhead tells whether a ray from p along +z crosses the triangle. The ray is taken to stand
// beside p by an infinitely small step in x and a smaller one in y, so that it never meets an edge
// (Edelsbrunner and Mücke, "Simulation of simplicity", ACM Transactions on Graphics 9(1), 1990).
func (g *grid) overhead(i int32, p *point) bool {
	t := g.triangle(i)
	w := nudged(&t[0], &t[1], p)
	if w == 0 || nudged(&t[1], &t[2], p) != w || nudged(&t[2], &t[0], p) != w {
		return false
	}
	return above(&t[0], &t[1], &t[2], p) == -w
}

// nudged is turn a, b, p seen along z, with p moved by the small steps. It is zero only for an edge
// along z.
func nudged(a, b, p *point) int {
	if s := turn(a, b, p, 2); s != 0 {
		return s
	}
	if a.y != b.y {
		return sign(a.y-b.y, 0)
	}
	return sign(b.x-a.x, 0)
}

// junctions finds vertices of open edges that lie on another open edge between its ends.
func (c *checker) junctions(open []seam) {
	items, boxes := make([]int32, len(open)), make([]box, len(open))
	ends := make([]int32, 0, 2*len(open))
	for i, e := range open {
		items[i], boxes[i] = int32(i), boxOf(c.Vertices[e.lo], c.Vertices[e.hi])
		ends = append(ends, e.lo, e.hi)
	}
	slices.Sort(ends)
	t := newTree(items, boxes)
	near := c.opts.Near
	step := r3.Vec{X: near, Y: near, Z: near}
	for _, v := range slices.Compact(ends) {
		p := c.Vertices[v]
		around := boxOf(r3.Sub(p, step), r3.Add(p, step))
		t.meeting(&around, func(i int32) bool {
			e := open[i]
			if e.lo == v || e.hi == v || !between(c.Vertices[e.lo], c.Vertices[e.hi], p, near) {
				return true
			}
			c.rec.add(TJunction, p, e.triangles[0], -1)
			return false
		})
	}
}

// between tells whether p is within the given distance of the line from a to b and farther than
// that from both ends.
func between(a, b, p r3.Vec, near float64) bool {
	ab, ap := r3.Sub(b, a), r3.Sub(p, a)
	f := r3.Dot(ap, ab) / r3.Dot(ab, ab)
	if !(f > 0 && f < 1) || norm(ap) <= near || norm(r3.Sub(p, b)) <= near {
		return false
	}
	return norm(r3.Sub(ap, r3.Scale(f, ab))) <= near
}
