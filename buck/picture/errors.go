package picture

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"
)

// Fault is why something cannot be drawn.
type Fault string

// The faults; the list is closed.
const (
	NoParts   Fault = "no parts to draw"
	EmptyMesh Fault = "mesh has no triangles"
	BadIndex  Fault = "triangle names a vertex that is not there"
	NotFinite Fault = "coordinate is not a number"
	TooFar    Fault = "coordinate is beyond 1e6 mm"
	NoExtent  Fault = "parts have no extent"
	BadSize   Fault = "picture must be 480 x 360 to 8192 x 8192 pixels"
	BadCrease Fault = "crease angle must be above 0 and at most 180 deg"
	BadView   Fault = "view needs finite From and Up that are not parallel"
	NoRoom    Fault = "title, legend and caption leave no room for the picture"
)

// Error is what Draw and Views return: what is wrong, and where.
type Error struct {
	Fault  Fault
	Part   string // name of the part, or "part 3" where it has none (counted from 1); empty for options
	Detail string // the place and the value found
}

// Error is one line.
func (e *Error) Error() string {
	s := string(e.Fault)
	if e.Part != "" {
		s = e.Part + ": " + s
	}
	if e.Detail != "" {
		s += ": " + e.Detail
	}
	return s
}

// fmtSize, fmtDeg and fmtVec word a value for an Error.
func fmtSize(w, h int) string { return fmt.Sprintf("%d x %d", w, h) }

func fmtDeg(a float64) string { return fmt.Sprintf("%g deg", a) }

func fmtVec(v r3.Vec) string { return fmt.Sprintf("(%g, %g, %g)", v.X, v.Y, v.Z) }
