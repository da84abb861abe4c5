package plan

import "gonum.org/v1/gonum/spatial/r2"

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
