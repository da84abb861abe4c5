package mill

import (
	"fmt"

	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/program"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// zero says where zero is, with places of the work to find it by.
func zero(s *layout.Sheath, f program.Frame, n said) string {
	text := "the knife's tip, and X goes along the blade"
	for i, pin := range s.Pins[:min(len(s.Pins), 2)] {
		at := f.To(pin.At)
		text += fmt.Sprintf("; eyelet %d, pin %d, lies at X %s Y %s", pin.Eyelet+1, i+1, n.length(at.X), n.length(at.Y))
	}
	return text
}

// lies says how the pair is laid on the board, and by how much it can be off.
func lies(s *layout.Sheath, f program.Frame, n said) string {
	off := fmt.Sprintf(": it may be off by %s at an eyelet, which the margins hold", n.length(s.Off()))
	r := s.Way.Register
	switch s.Way.Name {
	case measures.ByHoles:
		a, b := f.To(r.At[0]), f.To(r.At[1])
		return fmt.Sprintf("The knife lies on two pins through its holes: %s at X %s Y %s, and %s at X %s Y %s%s",
			n.length(s.Way.Pins[0]), n.length(a.X), n.length(a.Y), n.length(s.Way.Pins[1]), n.length(b.X), n.length(b.Y), off)
	case measures.ByCradle:
		return "The handle lies in its cradle" + off
	case measures.ByGuide:
		return "It is drilled by hand, through a printed guide: this program is for a mill" + off
	case measures.FromPunch:
		return "It is laid by hand to a punched mark" + off
	}
	return "Lay the drawing at 1:1 over the work to find zero" + off
}

// mostEdges is how many pieces of a knife's outline a set-up states. Our own, no source.
const mostEdges = 500

// steel is the outline of the knife that is in the work. One of very many pieces is stated by its corners, the
// nearest of which are left out: they lie within a hundredth of a mm of the rest.
func steel(s *layout.Sheath, f program.Frame) profile.Loop {
	outline := s.Knife.Plan.Outline
	for within := 0.01; len(outline) > mostEdges; within *= 2 {
		outline = coarse(s.Knife.Plan.Outline.Flatten(within), within)
	}
	return f.Loop(outline)
}

// coarse is a polygon without points that lie within a distance of the line past them.
func coarse(points []r2.Vec, within float64) profile.Loop {
	var kept []r2.Vec
	for from := 0; from < len(points); {
		kept = append(kept, points[from])
		to := from + 1
		for to+1 < len(points) && straight(points[from:to+2], within) {
			to++
		}
		from = to
	}
	var l profile.Loop
	for i, p := range kept {
		l = append(l, profile.Segment{A: p, B: kept[(i+1)%len(kept)]})
	}
	return l
}

// straight tells whether all points lie within a distance of the line from the first to the last.
func straight(points []r2.Vec, within float64) bool {
	line := profile.Segment{A: points[0], B: points[len(points)-1]}
	for _, p := range points {
		if line.Distance(p) > within {
			return false
		}
	}
	return true
}
