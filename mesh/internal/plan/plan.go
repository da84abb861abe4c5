// Package plan divides a rectangle of the plan into triangles along given lines: a constrained
// Delaunay triangulation on an integer grid, so that every decision it takes is exact.
//
// # Frame and units
//
// Points are millimetres in the plan, x to the right and y up. Each is rounded to the nearest
// multiple of Grid on the way in; from then on only integers count. Triangles are counter-clockwise
// and have a positive area; together they cover the rectangle of Bounds without gap or overlap. The
// first four points are the corners of that rectangle.
//
// # Edges
//
// Edge k of triangle i runs from its vertex k to its vertex (k+1)%3; Neighbours, Constrained and
// Split count edges that way. An edge is either free or a constraint, that is a part of a line that
// was asked for. Every free edge is locally Delaunay: the circle through a triangle does not hold
// the far vertex of a neighbour across a free edge in its inside. Where four points lie on one
// circle either diagonal is right, and the order of insertion decides.
//
// # Crossing lines
//
// Where two constraints cross, both are led over the crossing, rounded to the grid, so a line that
// crosses others is bent by about a grid step. From one end of each line to the other there is a
// path of constraint edges, all the time. In all tests it stays within two grid steps of the
// straight line; that is a finding, not a proof. A vertex that is closer to a line than that may
// come to lie on its other side, or on it. A line that crosses no other is exact.
//
// A Triangulation grows: points and lines can be added at any time, vertex indices stay, triangle
// indices do not. Same calls, same result. It must not be used by two goroutines at once, not even
// for Locate, which remembers where it was.
package plan

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Grid is the spacing, in mm, of the integer grid that all points are rounded to.
const Grid = 1e-4

// MaxCoordinate is the largest coordinate, in mm, that bounds may have, to either side of zero.
const MaxCoordinate = 1e5

// The rectangle is wider than the bounds by an eighth of their longer side, within these limits in
// mm. The upper one keeps all of it within the reach of the predicates, see span.
const (
	minMargin = 1
	maxMargin = 1e4
)

// maxPoints keeps the half-edges, six for each point, countable in 32 bits.
const maxPoints = math.MaxInt32 / 6

// corners is the number of vertices that are corners of the rectangle, the first ones.
const corners = 4

// Triangulation is a constrained Delaunay triangulation of a rectangle. New makes one; the zero
// value has no triangles and takes no points.
type Triangulation struct {
	points []point
	out    []int32 // for each point a half-edge that leaves it; for a corner the one on the border
	edges  []edge  // three for each triangle, see edge

	low, high point // the bounds given, on the grid: points must lie within

	near    near
	last    int32 // the triangle last used
	latest  located
	sources []source
	fresh   []bool // of each triangle, whether it has changed since Fresh was asked; short of the last ones

	// Room that calls use again.
	suspects []int32
	chain    []int32
	hull     []int32
	pieces   []piece
	regions  []int32
	found    []int // by Fresh
}

// New covers the bounds, in mm, and a margin around them with two triangles. All points added later
// must lie within the bounds or on their rim, so that no line reaches the border. Bounds without
// width or height are fine. Bounds that are not finite, upside down or beyond MaxCoordinate are an
// *Error.
func New(bounds r2.Box) (*Triangulation, error) {
	for _, v := range []r2.Vec{bounds.Min, bounds.Max} {
		if !finite(v) {
			return nil, &Error{Kind: NotFinite, At: v}
		}
		if worst := max(math.Abs(v.X), math.Abs(v.Y)); worst > MaxCoordinate {
			return nil, &Error{Kind: TooFar, At: v}
		}
	}
	size := bounds.Size()
	if size.X < 0 || size.Y < 0 {
		return nil, &Error{Kind: BadBounds, At: bounds.Min}
	}
	margin := max(minMargin, min(maxMargin, max(size.X, size.Y)/8))
	m := int32(math.Round(margin * perMM))
	low, high := snap(bounds.Min), snap(bounds.Max)
	t := &Triangulation{low: low, high: high}
	t.points = []point{
		{low.x - m, low.y - m},
		{high.x + m, low.y - m},
		{high.x + m, high.y + m},
		{low.x - m, high.y + m},
	}
	t.edges = []edge{
		{org: 0, twin: -1},
		{org: 1, twin: -1},
		{org: 2, twin: 3},
		{org: 0, twin: 2},
		{org: 2, twin: -1},
		{org: 3, twin: -1},
	}
	t.out = []int32{0, 1, 4, 5}
	t.touch(0, 1)
	t.near = newNear(t.points[0], t.points[2])
	return t, nil
}

// Reserve makes room for so many points more, which saves time where it is known beforehand how many will
// come.
func (t *Triangulation) Reserve(points int) {
	points = max(0, min(points, maxPoints-len(t.points)))
	t.points = slices.Grow(t.points, points)
	t.out = slices.Grow(t.out, points)
	t.edges = slices.Grow(t.edges, 6*points)
	t.fresh = slices.Grow(t.fresh, 2*points)
	t.sources = slices.Grow(t.sources, points)
	t.regions = slices.Grow(t.regions, 2*points)
}

// Bounds is the rectangle covered, in mm.
func (t *Triangulation) Bounds() r2.Box {
	if len(t.points) == 0 {
		return r2.Box{}
	}
	return r2.Box{Min: t.points[0].vec(), Max: t.points[2].vec()}
}

// Points are all vertices in mm, rounded to the grid, in the order in which they came; the first
// four are the corners of Bounds. A point's place in the list never changes.
func (t *Triangulation) Points() []r2.Vec {
	list := make([]r2.Vec, len(t.points))
	for i, p := range t.points {
		list[i] = p.vec()
	}
	return list
}

// Len is the number of vertices.
func (t *Triangulation) Len() int { return len(t.points) }

// Point is vertex i in mm, rounded to the grid. It panics if there is no such vertex, like an index
// into Points.
func (t *Triangulation) Point(i int) r2.Vec { return t.points[i].vec() }

// Triangles are the vertices of all triangles, counter-clockwise. Indices of triangles hold until
// the next Insert, Split, Constrain or AddLine.
func (t *Triangulation) Triangles() [][3]int {
	list := make([][3]int, t.CountTriangles())
	for i := range list {
		list[i] = t.Triangle(i)
	}
	return list
}

// CountTriangles is how many triangles there are.
func (t *Triangulation) CountTriangles() int { return len(t.edges) / 3 }

// Triangle is the vertices of triangle i, counter-clockwise. It panics, as an index does, for one
// that does not exist.
func (t *Triangulation) Triangle(i int) [3]int {
	e := t.edges[3*i : 3*i+3 : 3*i+3]
	return [3]int{int(e[0].org), int(e[1].org), int(e[2].org)}
}

// Corner is which of the vertices of triangle i vertex v is, -1 if it is none.
func (t *Triangulation) Corner(i, v int) int {
	for k := range 3 {
		if int(t.edges[3*i+k].org) == v {
			return k
		}
	}
	return -1
}

// Neighbours are the triangles on the far side of the edges of triangle i: number k is the one
// across the edge from its vertex k to its vertex (k+1)%3, or -1 at the border. It panics if there
// is no such triangle, like an index into Triangles.
func (t *Triangulation) Neighbours(i int) [3]int {
	var list [3]int
	for k := range list {
		list[k] = -1
		if twin := t.edges[3*i+k].twin; twin >= 0 {
			list[k] = int(twin / 3)
		}
	}
	return list
}

// Across is the triangle across the edge of triangle i from its vertex k to its vertex (k+1)%3, and from which of
// that one's vertices the edge runs back; -1 at the border. It panics if there is no such edge.
func (t *Triangulation) Across(i, k int) (j, l int) {
	if twin := int(t.edges[3*i+k].twin); twin >= 0 {
		return twin / 3, twin % 3
	}
	return -1, -1
}

// Constrained tells whether the edge of triangle i from its vertex k to its vertex (k+1)%3 is part
// of a line that was asked for. The border is none. It panics if there is no such edge.
func (t *Triangulation) Constrained(i, k int) bool { return t.edges[3*i+k].src != free }
