package plan

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// SplitBetween adds the point, rounded, as one of the edge between two vertices, as Split does, and
// returns the index of its vertex. Where no edge joins the two it inserts the point where it lies.
func (t *Triangulation) SplitBetween(a, b int, p r2.Vec) (int, error) {
	if a < 0 || b < 0 || a >= len(t.points) || b >= len(t.points) {
		return -1, &Error{Kind: NoEdge, Index: max(a, b)}
	}
	h := t.find(int32(a), int32(b))
	if h < 0 || t.edges[h].twin < 0 {
		return t.Insert(p)
	}
	return t.Split(int(h/3), int(h%3), p)
}

// Mark is the mark of the edge of triangle i from its vertex k to its vertex (k+1)%3: the bits of all
// constraints along it, see ConstrainAs. It panics if there is no such edge.
func (t *Triangulation) Mark(i, k int) uint8 { return t.edges[3*i+k].mark }

// Lined tells whether an edge joins two vertices that is part of a line that was asked for.
func (t *Triangulation) Lined(a, b int) bool {
	return t.Joined(a, b) && t.edges[t.find(int32(a), int32(b))].src != free
}

// Joined tells whether an edge joins two vertices.
func (t *Triangulation) Joined(a, b int) bool {
	return a >= 0 && b >= 0 && a < len(t.points) && b < len(t.points) && t.find(int32(a), int32(b)) >= 0
}

// Fresh are the triangles that are new, or have other vertices, since Fresh was last asked, rising. The list is the
// triangulation's own and holds until then.
func (t *Triangulation) Fresh() []int {
	count := 0
	for _, fresh := range t.fresh {
		if fresh {
			count++
		}
	}
	list := slices.Grow(t.found[:0], count)
	for i, fresh := range t.fresh {
		if fresh {
			list = append(list, i)
		}
	}
	t.found = list
	t.Seen()
	return list
}

// Seen makes Fresh begin anew: no triangle is new.
func (t *Triangulation) Seen() { clear(t.fresh) }

// touch notes that triangles have changed.
func (t *Triangulation) touch(triangles ...int32) {
	t.latest.still = false
	for _, tri := range triangles {
		for int(tri) >= len(t.fresh) {
			t.fresh = append(t.fresh, false)
		}
		t.fresh[tri] = true
	}
}
