package twin

import (
	"math"
	"slices"

	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// tree answers distances to the triangles of a mesh: boxes in halves, split across the longest side.
type tree struct {
	corners [][3]r3.Vec
	nodes   []node
}

// node is a box over corners[from:to] (a leaf, right == 0) or over two nodes: the next and right.
type node struct {
	low, high       r3.Vec
	from, to, right int
}

const leafSize = 4

func newTree(m *mesh.Mesh) *tree {
	t := &tree{corners: make([][3]r3.Vec, len(m.Triangles))}
	for i, n := range m.Triangles {
		t.corners[i] = [3]r3.Vec{m.Vertices[n[0]], m.Vertices[n[1]], m.Vertices[n[2]]}
	}
	if len(t.corners) > 0 {
		t.build(0, len(t.corners))
	}
	return t
}

func (t *tree) build(from, to int) {
	n := node{low: t.corners[from][0], high: t.corners[from][0], from: from, to: to}
	for _, c := range t.corners[from:to] {
		for _, p := range c {
			n.low = r3.Vec{X: min(n.low.X, p.X), Y: min(n.low.Y, p.Y), Z: min(n.low.Z, p.Z)}
			n.high = r3.Vec{X: max(n.high.X, p.X), Y: max(n.high.Y, p.Y), Z: max(n.high.Z, p.Z)}
		}
	}
	at := len(t.nodes)
	t.nodes = append(t.nodes, n)
	if to-from <= leafSize {
		return
	}
	size := r3.Sub(n.high, n.low)
	key := func(c [3]r3.Vec) float64 { return c[0].X + c[1].X + c[2].X }
	switch {
	case size.Y >= size.X && size.Y >= size.Z:
		key = func(c [3]r3.Vec) float64 { return c[0].Y + c[1].Y + c[2].Y }
	case size.Z >= size.X:
		key = func(c [3]r3.Vec) float64 { return c[0].Z + c[1].Z + c[2].Z }
	}
	slices.SortStableFunc(t.corners[from:to], func(a, b [3]r3.Vec) int {
		if ka, kb := key(a), key(b); ka < kb {
			return -1
		} else if ka > kb {
			return 1
		}
		return 0
	})
	middle := (from + to) / 2
	t.build(from, middle)
	t.nodes[at].right = len(t.nodes)
	t.build(middle, to)
}

// distance is the exact distance from p to the nearest triangle, or atMost if that is less.
func (t *tree) distance(p r3.Vec, atMost float64) float64 {
	best := atMost * atMost
	stack := make([]int, 1, 64)
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		n := &t.nodes[i]
		if n.away(p) >= best {
			continue
		}
		if n.right == 0 {
			for _, c := range t.corners[n.from:n.to] {
				best = min(best, r3.Norm2(r3.Sub(p, nearest(c, p))))
			}
			continue
		}
		if t.nodes[i+1].away(p) < t.nodes[n.right].away(p) {
			stack = append(stack, n.right, i+1)
		} else {
			stack = append(stack, i+1, n.right)
		}
	}
	return math.Sqrt(best)
}

// away is the squared distance from p to the box.
func (n *node) away(p r3.Vec) float64 {
	dx := max(n.low.X-p.X, p.X-n.high.X, 0)
	dy := max(n.low.Y-p.Y, p.Y-n.high.Y, 0)
	dz := max(n.low.Z-p.Z, p.Z-n.high.Z, 0)
	return dx*dx + dy*dy + dz*dz
}

// nearest is the point of a triangle that is closest to p: the foot on its plane where that lies
// within all three sides, else the closest point of a side.
func nearest(c [3]r3.Vec, p r3.Vec) r3.Vec {
	n := r3.Cross(r3.Sub(c[1], c[0]), r3.Sub(c[2], c[0]))
	if nn := r3.Norm2(n); nn > 0 {
		within := true
		for i := range c {
			side := r3.Sub(c[(i+1)%3], c[i])
			within = within && r3.Dot(r3.Cross(n, side), r3.Sub(p, c[i])) >= 0
		}
		if within {
			return r3.Sub(p, r3.Scale(r3.Dot(n, r3.Sub(p, c[0]))/nn, n))
		}
	}
	best, at := math.Inf(1), c[0]
	for i := range c {
		side := r3.Sub(c[(i+1)%3], c[i])
		s := 0.0
		if l := r3.Norm2(side); l > 0 {
			s = min(max(r3.Dot(side, r3.Sub(p, c[i]))/l, 0), 1)
		}
		q := r3.Add(c[i], r3.Scale(s, side))
		if d := r3.Norm2(r3.Sub(p, q)); d < best {
			best, at = d, q
		}
	}
	return at
}
