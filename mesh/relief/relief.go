// Package relief makes closed meshes of solids that are stacks of heights over the plan.
//
// A forming piece has no undercut along the press direction, so over each region of the plan it is
// one z-interval, or a few: spans. The plan is cut by every line that matters (a Delaunay
// triangulation constrained to those lines), refined until a plane over each triangle misses no
// height by more than the tolerance, and cut again where the two ends of a span meet. Each triangle
// then carries a floor and a lid for each span, and vertical walls stand where the spans of two
// neighbours differ. Built so, a mesh is closed and sharp where the solid is sharp.
//
// Lengths are mm. Plan coordinates are rounded to plan.Grid, heights to the same grid, so the mesh
// is within that of what the triangulation carries.
package relief

import (
	"errors"
	"fmt"
	"math"

	"formbuck/mesh"
	"formbuck/mesh/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// Height is a height over the plan, in mm. It is continuous, and defined a little beyond the region
// it serves, so that its slope can be felt from inside and outside.
type Height func(p r2.Vec) float64

// Span is one interval of z over a region. Where High is not above Low there is no material; the
// line along which they meet is found and made an edge, if the points of the lines show it: some
// point must be where the span is open and some where it is not.
type Span struct {
	Low, High Height
}

// Line is a polyline in the plan, its vertices on the true curve and its chords within tolerance.
type Line struct {
	Points []r2.Vec
	Closed bool
}

// Body is a solid: the lines that part its plan into regions, and the spans over each of them.
type Body struct {
	Lines []Line
	// Spans are the spans of the region that holds the point, lowest first; none outside the body.
	// It is asked once per region, at a point well inside, and must not depend on which point.
	Spans func(inside r2.Vec) []Span
}

// Options say how close the mesh comes to the body. The zero value means a tolerance of 0.01 mm.
type Options struct {
	Tolerance float64 // greatest distance of mesh and body, mm
	MaxPoints int     // of the plan; 0 means 200 000
}

// The ways in which a body cannot be meshed.
var (
	ErrEmpty   = errors.New("the body has no material")
	ErrTooFine = errors.New("the heights need more points than allowed")
	ErrHeight  = errors.New("a height is not a finite number")
)

// Build meshes the body. The result is closed and outward; what it does not promise, and a check of
// the mesh must tell, is that the body itself touches nowhere in a single point or edge.
func Build(b Body, o Options) (*mesh.Mesh, error) {
	if o.Tolerance <= 0 {
		o.Tolerance = 0.01
	}
	if o.MaxPoints <= 0 {
		o.MaxPoints = 200_000
	}
	w, err := newWork(b, o)
	if err != nil {
		return nil, err
	}
	if err := w.refine(); err != nil {
		return nil, err
	}
	if err := w.cutFeet(); err != nil {
		return nil, err
	}
	if err := w.uncrossWalls(); err != nil {
		return nil, err
	}
	return w.stitch()
}

// work is the plan of a body while it is being cut and refined.
type work struct {
	body Body
	opt  Options
	plan *plan.Triangulation

	points    []r2.Vec
	triangles [][3]int
	region    []int    // of each triangle
	spans     [][]Span // of each region
	heights   map[place]float64
	foot      map[int]bool            // points of the plan on the foot of a span
	meld      map[int]map[int64]int64 // over a point, the level that stands for another
	bad       error
}

// place names a height once computed: which end of which span, over which point.
type place struct {
	region, end int32 // end: twice the span's number, plus one for its High
	x, y        float64
}

func newWork(b Body, o Options) (*work, error) {
	box, ok := bounds(b.Lines)
	if !ok {
		return nil, ErrEmpty
	}
	t, err := plan.New(box)
	if err != nil {
		return nil, fmt.Errorf("plan: %w", err)
	}
	d := newDrafter(t)
	for _, l := range b.Lines {
		if err := d.draw(l); err != nil {
			return nil, err
		}
	}
	w := &work{body: b, opt: o, plan: t, foot: make(map[int]bool), meld: make(map[int]map[int64]int64)}
	w.survey()
	return w, nil
}

func bounds(lines []Line) (r2.Box, bool) {
	box := r2.Box{
		Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)},
		Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)},
	}
	for _, l := range lines {
		for _, p := range l.Points {
			box.Min.X, box.Max.X = math.Min(box.Min.X, p.X), math.Max(box.Max.X, p.X)
			box.Min.Y, box.Max.Y = math.Min(box.Min.Y, p.Y), math.Max(box.Max.Y, p.Y)
		}
	}
	return box, box.Min.X < box.Max.X && box.Min.Y < box.Max.Y
}

// survey reads the plan anew after it has been cut: its regions, and the spans over each, asked for
// at the middle of the region's largest triangle.
func (w *work) survey() {
	w.points = w.plan.Points()
	w.triangles = w.plan.Triangles()
	w.region = w.plan.Regions()
	var largest []int
	var area []float64
	for i, r := range w.region {
		for len(largest) <= r {
			largest = append(largest, -1)
			area = append(area, -1)
		}
		if a := w.area(i); a > area[r] {
			largest[r], area[r] = i, a
		}
	}
	w.spans = make([][]Span, len(largest))
	w.heights = make(map[place]float64)
	for r, i := range largest {
		if i >= 0 {
			w.spans[r] = w.body.Spans(w.middle(i))
		}
	}
}

func (w *work) area(i int) float64 {
	t := w.triangles[i]
	a := w.points[t[0]]
	return r2.Cross(r2.Sub(w.points[t[1]], a), r2.Sub(w.points[t[2]], a)) / 2
}

func (w *work) middle(i int) r2.Vec {
	t := w.triangles[i]
	return r2.Scale(1./3, r2.Add(w.points[t[0]], r2.Add(w.points[t[1]], w.points[t[2]])))
}

// height is the height of an end of a span of region r at p, remembered.
func (w *work) height(r, end int, p r2.Vec) float64 {
	k := place{int32(r), int32(end), p.X, p.Y}
	if z, ok := w.heights[k]; ok {
		return z
	}
	z := w.evaluate(r, end, p)
	w.heights[k] = z
	return z
}

func (w *work) evaluate(r, end int, p r2.Vec) float64 {
	s := w.spans[r][end/2]
	f := s.Low
	if end%2 == 1 {
		f = s.High
	}
	z := f(p)
	if math.IsNaN(z) || math.IsInf(z, 0) {
		if w.bad == nil {
			w.bad = fmt.Errorf("%w: %v at (%.3f, %.3f)", ErrHeight, z, p.X, p.Y)
		}
		return 0
	}
	return z
}

// thickness of span k of region r at p.
func (w *work) thickness(r, k int, p r2.Vec) float64 {
	return w.height(r, 2*k+1, p) - w.height(r, 2*k, p)
}

// steepness of an end of a span at p: the length of the normal (-slope, 1), by differences.
func (w *work) steepness(r, end int, p r2.Vec) float64 {
	const d = 1e-3
	gx := w.evaluate(r, end, r2.Vec{X: p.X + d, Y: p.Y}) - w.evaluate(r, end, r2.Vec{X: p.X - d, Y: p.Y})
	gy := w.evaluate(r, end, r2.Vec{X: p.X, Y: p.Y + d}) - w.evaluate(r, end, r2.Vec{X: p.X, Y: p.Y - d})
	return math.Hypot(1, math.Hypot(gx, gy)/(2*d))
}
