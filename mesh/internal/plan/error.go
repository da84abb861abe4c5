package plan

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"
)

// Kind is what is wrong with a call. The list is closed.
type Kind int

// The faults.
const (
	// NotFinite is a coordinate that is NaN or infinite.
	NotFinite Kind = iota + 1
	// TooFar is a corner of the bounds beyond MaxCoordinate.
	TooFar
	// BadBounds are bounds whose least corner is above their greatest.
	BadBounds
	// Outside is a point outside the bounds that were given to New.
	Outside
	// NoVertex is an index that no vertex has.
	NoVertex
	// NoEdge is a triangle or an edge number that does not exist, or an edge of the border.
	NoEdge
	// TooMany are more points than can be counted.
	TooMany
)

var kindText = [...]string{
	NotFinite: "coordinate is not a finite number",
	TooFar:    fmt.Sprintf("bounds reach beyond %g mm", float64(MaxCoordinate)),
	BadBounds: "bounds are upside down",
	Outside:   "point is outside the bounds",
	NoVertex:  "no such vertex within the bounds",
	NoEdge:    "no such edge inside the rectangle",
	TooMany:   fmt.Sprintf("more than %d points", maxPoints),
}

// String says it in words.
func (k Kind) String() string {
	if k < NotFinite || int(k) >= len(kindText) {
		return fmt.Sprintf("fault %d", int(k))
	}
	return kindText[k]
}

// Error is a fault with its place.
type Error struct {
	Kind Kind
	// At is the place in mm. For NoVertex and NoEdge there is none.
	At r2.Vec
	// Index is the index that does not exist, for NoVertex and NoEdge.
	Index int
}

// Error gives the place and the fault.
func (e *Error) Error() string {
	if e.Kind == NoVertex || e.Kind == NoEdge {
		return fmt.Sprintf("index %d: %v", e.Index, e.Kind)
	}
	return fmt.Sprintf("at (%.4f, %.4f) mm: %v", e.At.X, e.At.Y, e.Kind)
}
