package offset

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Swept is the union of sweeps, for quick queries: a tree of boxes. It never changes after NewSwept and
// may be used by several goroutines at once.
type Swept struct {
	sweeps []Sweep
	nodes  []sweptNode
}

// sweptNode holds the axes of sweeps[from:to] in its box and their greatest radius; a leaf has no right
// child, else the left one is the next node of the list.
type sweptNode struct {
	box             r2.Box
	radius          float64
	from, to, right int
}

const sweptLeaf = 4 // sweeps in a leaf

// NewSwept prepares sweeps for queries.
func NewSwept(sweeps []Sweep) *Swept {
	s := &Swept{sweeps: slices.Clone(sweeps)}
	if len(sweeps) > 0 {
		s.build(0, len(sweeps))
	}
	return s
}

// Where is the union of those sweeps that are kept.
func (s *Swept) Where(keep func(w Sweep) bool) *Swept {
	var kept []Sweep
	for _, w := range s.sweeps {
		if keep(w) {
			kept = append(kept, w)
		}
	}
	return NewSwept(kept)
}

func (s *Swept) build(from, to int) {
	part := s.sweeps[from:to]
	n := sweptNode{box: r2.Box{Min: part[0].A, Max: part[0].A}, radius: math.Inf(-1), from: from, to: to}
	for _, w := range part {
		for _, p := range [2]r2.Vec{w.A, w.B} {
			n.box.Min = r2.Vec{X: min(n.box.Min.X, p.X), Y: min(n.box.Min.Y, p.Y)}
			n.box.Max = r2.Vec{X: max(n.box.Max.X, p.X), Y: max(n.box.Max.Y, p.Y)}
		}
		n.radius = max(n.radius, w.RA, w.RB)
	}
	at := len(s.nodes)
	s.nodes = append(s.nodes, n)
	if to-from <= sweptLeaf {
		return
	}
	wide := n.box.Max.X-n.box.Min.X >= n.box.Max.Y-n.box.Min.Y
	slices.SortStableFunc(part, func(a, b Sweep) int {
		if wide {
			return cmp.Compare(a.A.X+a.B.X, b.A.X+b.B.X)
		}
		return cmp.Compare(a.A.Y+a.B.Y, b.A.Y+b.B.Y)
	})
	mid := (from + to) / 2
	s.build(from, mid)
	s.nodes[at].right = len(s.nodes)
	s.build(mid, to)
}

// least is a lower bound of the distance of p from what is in the node, as near as rounding goes.
func (n *sweptNode) least(p r2.Vec) float64 {
	dx := max(0, n.box.Min.X-p.X, p.X-n.box.Max.X)
	dy := max(0, n.box.Min.Y-p.Y, p.Y-n.box.Max.Y)
	return math.Sqrt(dx*dx+dy*dy) - n.radius
}

// At is the signed distance of p from the union of the sweeps, the sweep that comes nearest and the middle
// of its disc there. For no sweeps the distance is infinite.
func (s *Swept) At(p r2.Vec) (value float64, nearest Sweep, middle r2.Vec) {
	value = math.Inf(1)
	if len(s.nodes) == 0 {
		return value, nearest, p
	}
	var stack [64]int
	top := 1
	for top > 0 {
		top--
		at := stack[top]
		n := &s.nodes[at]
		if n.least(p) >= value {
			continue
		}
		if n.right == 0 {
			for _, w := range s.sweeps[n.from:n.to] {
				if v, m := w.At(p); v < value {
					value, nearest, middle = v, w, m
				}
			}
			continue
		}
		near, far := at+1, n.right
		if s.nodes[far].least(p) < s.nodes[near].least(p) {
			near, far = far, near
		}
		stack[top], stack[top+1] = far, near
		top += 2
	}
	return value, nearest, middle
}

// Surface is the union as a surface.
func (s *Swept) Surface() Surface {
	return func(p r2.Vec) (float64, r2.Vec) {
		v, _, m := s.At(p)
		return v, toward(m, p)
	}
}
