// Package sound holds, in one place, what must be true of everything that is made of a knife, whatever the knife: no two
// pieces of one buck in one place, every boss within the sheath, holes within its trim line with the margins that were
// asked for, a trim line that does not cross itself, a drain that opens. Pieces and layout are each made so that it is;
// here it is looked at once more, from what was made and not from how. That every mesh is one closed body is the gate's
// to say (mesh.GateBody), what binds is told by a study (buck/path), and programs are proved as they are written.
//
// Lengths are mm, in the blade's axes.
package sound

import (
	"fmt"
	"strings"

	"formbuck/buck/layout"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// Work is what was made of a knife for some hands. What was not made is empty.
type Work struct {
	Bosses []*pieces.StandoffPiece
	Ramps  *pieces.Ramps
	Drain  *pieces.DrainPiece
	Sheath *layout.Sheath
}

// Finding is something that is not as it must be.
type Finding struct {
	What string // beginning with the key that changes it, or with the piece
	Own  bool   // no measures may lead to it: the program is at fault
}

// Findings are all of them, those of the pieces first.
func (w Work) Findings() []Finding {
	var all []Finding
	all = append(all, w.meetings()...)
	if w.Sheath == nil {
		return append(all, w.short()...)
	}
	all = append(all, w.line()...)
	all = append(all, w.eyelets()...)
	all = append(all, w.flanges()...)
	return append(all, w.mounts()...)
}

// Fault is a set of findings for which nobody's measures are to blame.
type Fault []Finding

// Error is one line.
func (f Fault) Error() string {
	var texts []string
	for _, x := range f {
		texts = append(texts, x.What)
	}
	return strings.Join(texts, "; ") + ": a fault of formbuck's own, not of the measures: please report it with the variant file and its drawing"
}

func said(format string, args ...any) Finding { return Finding{What: fmt.Sprintf(format, args...)} }

func own(format string, args ...any) Finding {
	return Finding{What: fmt.Sprintf(format, args...), Own: true}
}

func at(p r2.Vec) string { return fmt.Sprintf("(%.1f, %.1f) mm", p.X, p.Y) }
