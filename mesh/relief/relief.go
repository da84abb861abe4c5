// Package relief makes closed meshes of solids that are stacks of heights over the plan.
//
// A forming piece has no undercut along the press direction, so over each region of the plan it is
// one z-interval, or a few: spans. The plan is cut by every line that matters (a Delaunay
// triangulation constrained to those lines), and cut again where the two ends of a span meet. So far
// as the low or the high ends of spans go on from triangle to triangle they are one skin, which is
// triangulated for itself, by its border and the lines that bend it, and refined until no plane
// misses the height by more than the tolerance. Where a span is thin, as it is on a foot, lid and floor
// keep to the plan's triangles, so that they cannot meet. Vertical walls stand where the spans of two
// neighbours differ. Built so, a mesh is closed, sharp where the solid is sharp, and has no more
// triangles in a floor for what is shaped in the lid.
//
// Lengths are mm. Plan coordinates are rounded to plan.Grid, heights to the same grid, so the mesh
// is within that of what the triangulation carries.
package relief

import (
	"errors"
	"math"

	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r2"
)

// Height is a height over the plan, in mm. It is continuous, and defined a little beyond the region
// it serves, so that its slope can be felt from inside and outside. It may be asked for at several points at once.
type Height func(p r2.Vec) float64

// Marks tell which lines bend which heights. A line and a height that share a mark have to do with
// each other: the height may bend, begin or end along the line. No marks at all means all of them.
type Marks uint8

// Span is one interval of z over a region. Where High is not above Low there is no material; the
// line along which they meet is found and made an edge, if the points of the lines show it: some
// point must be where the span is open and some where it is not.
type Span struct {
	Low, High           Height
	LowMarks, HighMarks Marks
	// The keys tell which heights are one: heights of a body that have the same key are the same function of
	// the plan and share their marks, and one with the negative key is its mirror in z = 0. Nothing is known of one whose key is 0.
	LowKey, HighKey int
}

// Line is a polyline in the plan, its vertices on the true curve and its chords within tolerance.
// A height that it shares no mark with must be the same function of the plan on both sides of it,
// and its surface then takes no notice of the line.
type Line struct {
	Points []r2.Vec
	Closed bool
	Bends  Marks
}

// all is m, or all marks where m has none.
func (m Marks) all() Marks {
	if m == 0 {
		return math.MaxUint8
	}
	return m
}

// Body is a solid: the lines that part its plan into regions, and the spans over each of them.
type Body struct {
	Lines []Line
	// Spans are the spans of the region that holds the point, lowest first; none outside the body.
	// It is asked once per region, at a point well inside, and must not depend on which point.
	Spans func(inside r2.Vec) []Span
	// SharpFeet lets feet on a level end of a span be one edge, where the other rises from it fast. Otherwise, and where that does
	// not pass the gate, a foot ends in a wall of a micrometre.
	SharpFeet bool
	// Lattice is along which lines heights bend that no line of the body tells; nil where all are smooth
	// between the body's lines.
	Lattice *Lattice
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
	ErrHeight  = errors.New("a height is not a number within 100 m")
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
	m, err := w.build()
	if err != nil || !b.SharpFeet || !w.doubt {
		return m, err
	}
	if _, err := mesh.Gate(m); err != nil {
		if w, err = newWork(b, o); err != nil {
			return nil, err
		}
		w.allThin = true
		return w.build()
	}
	return m, nil
}

// build goes from lines to mesh, step by step.
func (w *work) build() (*mesh.Mesh, error) {
	for _, step := range []func() error{w.refine, w.cutFeet, w.refineThin, w.uncrossWalls, w.trim} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return w.stitch()
}
