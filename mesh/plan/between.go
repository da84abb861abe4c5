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

// Triangle is the vertices of triangle i, counter-clockwise. It panics, as an index does, for one
// that does not exist.
func (t *Triangulation) Triangle(i int) [3]int {
	return [3]int{int(t.edges[3*i].org), int(t.edges[3*i+1].org), int(t.edges[3*i+2].org)}
}
