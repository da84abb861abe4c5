package profile

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Near answers distance queries to a path quickly, arcs exact. It is a tree of boxes over the
// segments; it never changes after NewNear and may be used by several goroutines at once.
type Near struct {
	nodes []nearNode
	items []nearItem
}

// nearNode is a box over items[from:to] (a leaf, right == 0) or over two nodes: the next one in the
// list and the one at right.
type nearNode struct {
	box             r2.Box
	from, to, right int32
}

// nearItem is a segment with its circle worked out.
type nearItem struct {
	seg      Segment
	centre   r2.Vec
	radius   float64
	straight bool
	index    int32
}

// nearLeaf is how many segments a leaf of the tree holds at most; found by measurement.
const nearLeaf = 3

// NewNear prepares a path for queries.
func NewNear(p Path) *Near {
	n := &Near{items: make([]nearItem, len(p)), nodes: make([]nearNode, 0, 2*len(p)/nearLeaf+1)}
	for i, s := range p {
		n.items[i] = nearItem{seg: s, straight: s.Straight(), index: int32(i)}
		if it := &n.items[i]; !it.straight {
			it.centre, it.radius = s.circle()
		}
	}
	if len(p) > 0 {
		n.build(0, len(p))
	}
	return n
}

// build adds the node over items[from:to] and everything below it.
func (n *Near) build(from, to int) {
	items := n.items[from:to]
	box := items[0].seg.Bounds()
	for _, it := range items[1:] {
		b := it.seg.Bounds()
		box = grow(grow(box, b.Min), b.Max)
	}
	at := len(n.nodes)
	n.nodes = append(n.nodes, nearNode{box: box, from: int32(from), to: int32(to)})
	if to-from <= nearLeaf {
		return
	}
	wide := box.Max.X-box.Min.X >= box.Max.Y-box.Min.Y
	slices.SortStableFunc(items, func(a, b nearItem) int {
		p, q := r2.Add(a.seg.A, a.seg.B), r2.Add(b.seg.A, b.seg.B)
		if wide {
			return compare(p.X, q.X)
		}
		return compare(p.Y, q.Y)
	})
	mid := (from + to) / 2
	n.build(from, mid)
	n.nodes[at].right = int32(len(n.nodes))
	n.build(mid, to)
}

// compare orders numbers; equal and NaN are 0.
func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// Nearest is the point of the path that is closest to q and how far away it is, in mm. For an empty
// path the point is q and the distance infinite.
func (n *Near) Nearest(q r2.Vec) (point r2.Vec, distance float64) {
	point, _, distance = n.NearestSegment(q)
	return point, distance
}

// NearestSegment is Nearest, and which segment of the path the point lies on; -1 for an empty path.
func (n *Near) NearestSegment(q r2.Vec) (point r2.Vec, segment int, distance float64) {
	point, item, distance := n.search(q, math.Inf(1), -1)
	if item < 0 {
		return point, -1, distance
	}
	return point, int(n.items[item].index), distance
}

// Within is how far the path is from q, in mm, or far where it is no nearer than that.
func (n *Near) Within(q r2.Vec, far float64) float64 {
	_, _, d := n.search(q, far*far, -1)
	return min(d, far)
}

// search looks for the nearest point whose distance's square is less than best, on all items but one.
func (n *Near) search(q r2.Vec, best float64, but int32) (point r2.Vec, item int32, distance float64) {
	if len(n.nodes) == 0 {
		return q, -1, math.Inf(1)
	}
	type later struct {
		node int32
		d2   float64
	}
	var stack [32]later // one for each level: as each halves the items, there are not more
	at, top := later{}, 0
	item, point = -1, q
	for {
		node := &n.nodes[at.node]
		switch {
		case at.d2 >= best:
		case node.right == 0:
			for i := node.from; i < node.to; i++ {
				if i == but {
					continue
				}
				p := n.items[i].nearest(q)
				if d2 := r2.Norm2(r2.Sub(p, q)); d2 < best {
					best, point, item = d2, p, i
				}
			}
		default:
			near, far := at.node+1, node.right
			dn, df := boxDistance2(&n.nodes[near].box, q), boxDistance2(&n.nodes[far].box, q)
			if df < dn {
				near, far, dn, df = far, near, df, dn
			}
			stack[top] = later{far, df}
			top++
			at = later{near, dn}
			continue
		}
		if top == 0 {
			return point, item, math.Sqrt(best)
		}
		top--
		at = stack[top]
	}
}

// nearest is the item's point closest to q.
func (it *nearItem) nearest(q r2.Vec) r2.Vec {
	if it.straight {
		return nearestOnLine(it.seg.A, it.seg.B, q)
	}
	return it.seg.nearestOnArc(it.centre, it.radius, q)
}

// boxDistance2 is the square of the distance from q to the box, 0 within.
func boxDistance2(b *r2.Box, q r2.Vec) float64 {
	dx := max(b.Min.X-q.X, 0, q.X-b.Max.X)
	dy := max(b.Min.Y-q.Y, 0, q.Y-b.Max.Y)
	return dx*dx + dy*dy
}
