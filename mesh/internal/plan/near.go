package plan

// near remembers, for each cell of a grid over the rectangle, the vertex that came there last, so
// that a walk to any point starts close to it. Cells are squares with a power of two for a side.
type near struct {
	low   point
	shift uint // the side of a cell is 1<<shift
	cols  int64
	cells []int32 // the vertex, 0 for none: that one is a corner
}

// fewest is how many cells there are at the start, at least.
const fewest = 64

// newNear covers the rectangle with the largest cells that are enough of them.
func newNear(low, high point) near {
	w, h := int64(high.x)-int64(low.x), int64(high.y)-int64(low.y)
	n := near{low: low, shift: 31}
	for (w>>n.shift+1)*(h>>n.shift+1) < fewest {
		n.shift--
	}
	n.cols = w>>n.shift + 1
	n.cells = make([]int32, n.cols*(h>>n.shift+1))
	return n
}

// cell is the cell that a point of the rectangle is in.
func (n *near) cell(p point) *int32 {
	x, y := int64(p.x)-int64(n.low.x), int64(p.y)-int64(n.low.y)
	return &n.cells[y>>n.shift*n.cols+x>>n.shift]
}

// quarter makes four cells of each, with the vertex that it had.
func (n *near) quarter() {
	cells := make([]int32, 4*len(n.cells))
	for i := range cells {
		x, y := int64(i)%(2*n.cols), int64(i)/(2*n.cols)
		cells[i] = n.cells[y/2*n.cols+x/2]
	}
	n.shift--
	n.cols *= 2
	n.cells = cells
}

// remember notes a new vertex.
func (t *Triangulation) remember(v int32) {
	if len(t.points) > len(t.near.cells) && t.near.shift > 0 {
		t.near.quarter()
		for i, p := range t.points {
			*t.near.cell(p) = int32(i)
		}
	}
	*t.near.cell(t.points[v]) = v
}

// start is the triangle from which to walk to a point of the rectangle.
func (t *Triangulation) start(p point) int32 {
	if v := *t.near.cell(p); v != 0 {
		return t.out[v] / 3
	}
	return t.last
}
