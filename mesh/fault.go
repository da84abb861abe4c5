package mesh

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Class is a kind of fault. The list is closed.
type Class uint8

// The classes, in the order in which a report lists them.
const (
	Empty             Class = iota + 1 // there is no triangle
	IndexRange                         // a triangle names a vertex that is not there
	NonFinite                          // a vertex is not a number or infinite
	Degenerate                         // a triangle has no area, exactly
	Sliver                             // a triangle is flatter than stated
	Duplicate                          // two triangles have the same three vertices
	OpenEdge                           // an edge lies in one triangle only
	NonManifoldEdge                    // an edge lies in more than two triangles
	Misoriented                        // both triangles at an edge run it in the same direction
	NonManifoldVertex                  // the triangles at a vertex make more than one fan
	TJunction                          // an open edge passes through the end of another
	SelfIntersection                   // two triangles meet elsewhere than at a vertex or edge they share
	InvertedShell                      // a shell is inside out, or lies in another as if it were one
	NoVolume                           // the volume is not greater than zero
	SeveralBodies                      // there are bodies apart from the largest one; GateBody alone looks for them
	classes
)

// names are the classes in words, as messages and JSON give them.
var names = [classes]string{
	Empty: "empty", IndexRange: "index out of range", NonFinite: "non-finite vertex",
	Degenerate: "degenerate triangle", Sliver: "sliver", Duplicate: "duplicate triangle",
	OpenEdge: "open edge", NonManifoldEdge: "non-manifold edge", Misoriented: "misoriented edge",
	NonManifoldVertex: "non-manifold vertex", TJunction: "T-junction",
	SelfIntersection: "self-intersection", InvertedShell: "inverted shell", NoVolume: "no volume", SeveralBodies: "bodies apart from each other",
}

// String is the class in words, such as "open edge".
func (c Class) String() string {
	if c == 0 || c >= classes {
		return fmt.Sprintf("class %d", uint8(c))
	}
	return names[c]
}

// Place is where a fault lies: a point in mm and the triangles that take part, -1 for none.
type Place struct {
	At       r3.Vec
	Triangle int32
	Other    int32
}

// Fault is all that was found of one class. Places holds the first of them. Count is exact unless
// More says that looking was given up because of their number.
type Fault struct {
	Class  Class
	Count  int
	More   bool
	Places []Place
}

// String is the fault in one line: class, count, first place.
func (f Fault) String() string {
	count := fmt.Sprint(f.Count)
	if f.More {
		count += " or more"
	}
	if len(f.Places) == 0 {
		return fmt.Sprintf("%s: %s", f.Class, count)
	}
	p := f.Places[0].At
	return fmt.Sprintf("%s: %s, at (%.5g, %.5g, %.5g) mm", f.Class, count, p.X, p.Y, p.Z)
}

// Report is what Check found: at most one fault of each class, in the classes' order.
type Report struct{ Faults []Fault }

// Clean tells whether nothing was found.
func (r Report) Clean() bool { return len(r.Faults) == 0 }

// Count is how often a class was found.
func (r Report) Count(c Class) int {
	for _, f := range r.Faults {
		if f.Class == c {
			return f.Count
		}
	}
	return 0
}

// Closed tells whether every edge lies in exactly two triangles.
func (r Report) Closed() bool {
	return !r.unsound() && r.Count(OpenEdge)+r.Count(NonManifoldEdge) == 0
}

// unsound tells whether the mesh could not be looked at.
func (r Report) unsound() bool { return r.Count(Empty)+r.Count(IndexRange)+r.Count(NonFinite) > 0 }

// Err is nil for a clean report and otherwise a *FaultError that holds it.
func (r Report) Err() error {
	if r.Clean() {
		return nil
	}
	return &FaultError{Report: r}
}

// FaultError refuses a mesh and says for what.
type FaultError struct{ Report Report }

// Error lists the faults in one line.
func (e *FaultError) Error() string {
	lines := make([]string, len(e.Report.Faults))
	for i, f := range e.Report.Faults {
		lines[i] = f.String()
	}
	return "mesh: " + strings.Join(lines, "; ")
}

// recorder gathers faults.
type recorder struct {
	limit  int
	faults [classes]Fault
}

// add counts a fault and keeps its place while there is room.
func (r *recorder) add(c Class, at r3.Vec, triangle, other int32) {
	f := &r.faults[c]
	f.Count++
	if len(f.Places) < r.limit {
		f.Places = append(f.Places, Place{At: at, Triangle: triangle, Other: other})
	}
}

// report lists the classes that were found.
func (r *recorder) report() Report {
	var out Report
	for c := range r.faults {
		if f := r.faults[c]; f.Count > 0 {
			f.Class = Class(c)
			out.Faults = append(out.Faults, f)
		}
	}
	return out
}
