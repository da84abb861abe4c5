package profile

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/plain"
)

// CurveTolerance is how far, in mm, the arcs that stand for an ellipse or a spline may lie from it,
// and the chord error that flattening keeps to where the caller asks for none. It is a fifth of the
// 0.005 mm that a cutter's file is allowed, so that reading and flattening together stay within it.
const CurveTolerance = 0.001

// Profile is what a drawing was understood to hold, in the drawing's own axes, in mm.
type Profile struct {
	File     string    // name of the drawing, as in messages
	Units    string    // mm, cm, m, in, ft
	UnitsBy  string    // how the units were found, as a phrase
	Scale    float64   // mm per drawing unit
	Layer    string    // that the outline was found on
	Outline  Loop      // counter-clockwise
	Holes    []Loop    // within the outline, counter-clockwise
	Marks    []Mark    // reference lines, in the order of the drawing
	Skipped  []Skipped // what was left out, by kind and layer
	Warnings []Warning

	Left []Path // geometry that was left out, so that a picture can show it

	WidestGap  float64 // between ends that were joined, mm
	Duplicates int     // pieces that were drawn twice
}

// MarkKind is what a reference line marks.
type MarkKind string

// The kinds of reference line; each is the name of the layer it is looked for on.
const (
	Handle MarkKind = "handle" // closed: the handle's outline; open: the handle's front
	Grind  MarkKind = "grind"  // from the heel to the tip
	Throat MarkKind = "throat" // across the outline: the sheath's mouth
	Edge   MarkKind = "edge"   // beside the cutting edge
	Tip    MarkKind = "tip"    // at the tip
	Guard  MarkKind = "guard"  // lines across the knife at the ends of the guard, or its outline
	Swedge MarkKind = "swedge" // the grind line of a false edge, from spine to spine or tip
)

// Mark is one reference line of a drawing. A point is a path of one segment without length.
type Mark struct {
	Kind  MarkKind
	Layer string
	Path  Path
}

// Skipped counts what was left out of a drawing.
type Skipped struct {
	Kind  string // entity type, in capitals as in the file
	Layer string
	Why   string
	Count int
}

// Warning is something that the reader of a drawing should know and that did not stop the work.
type Warning struct {
	Line int    // of the drawing, 0 where it has none
	What string // one sentence with what to do about it
}

// String is the warning as one line, fit to be shown.
func (w Warning) String() string {
	if w.Line > 0 {
		return fmt.Sprintf("line %d: %s", w.Line, plain.Text(w.What))
	}
	return plain.Text(w.What)
}

// Options say how to read a drawing. The zero value takes everything from the drawing.
type Options struct {
	Units  string              // mm, cm, m, in or ft; empty: from the drawing
	Layers map[MarkKind]string // layer names where they are not the kind's own name
	Layer  string              // of the outline; empty: OUTLINE, else the layer with the largest closed loop
	Gap    float64             // widest gap between ends that is closed, in mm; 0: JoinGap

	Unfinished bool // take an outline that is no knife's by its size, with a warning
}

// JoinGap is the widest gap between two ends, in mm, that is closed without asking.
const JoinGap = 0.05

// Hints state what a drawing does not show, or what the user wants to overrule. The zero value
// leaves everything to the drawing.
type Hints struct {
	TipDeg      *float64 // direction in the drawing in which the tip points, from its x axis
	EdgeDeg     *float64 // direction in the drawing in which the edge faces
	HandleFront float64  // distance from the tip back to the handle's front, mm; 0: unknown
	NoHandle    bool     // the handle is not in the outline: it begins where that ends, or at HandleFront
	Plunge      float64  // distance from the tip back to where the bevel begins, where no grind line is drawn, mm; 0: unknown
	Edges       int      // 2: both sides of the blade are cutting edges; otherwise one is
	Guard       bool     // what stands out ahead of the handle has a thickness of its own
	GuardFrom   float64  // distance from the tip back to the guard's front, where it is not on its layer, mm; 0: unknown
	GuardTo     float64  // and to its back; 0: it reaches back to the handle's front
	Sided       []string // keys of measures that tell the edge's side from the other, for messages: of two edges, which is the first then has to be known
	ThroatDepth float64  // how far the mouth laps over the handle, where no throat line is drawn, mm; below 0: how far it lies ahead
}

// Frame says how the drawing was turned into the blade frame.
//
// A drawing point d becomes turn(d - Origin, -AngleDeg), with y negated where TurnedOver.
type Frame struct {
	Origin     r2.Vec  // of the blade frame, in the drawing's axes, mm
	AngleDeg   float64 // from the drawing's x axis to the blade's
	TurnedOver bool    // the drawing shows the left face
	// Reasons, one sentence each.
	Tip, Edge, Axis, Throat, Handle, Heel string
}

// Plan is the knife's plan in the blade frame, in mm: x from butt to tip, y from edge to spine,
// origin where the throat line crosses the blade's axis.
type Plan struct {
	Outline                 Loop    // counter-clockwise; the whole knife
	Holes                   []Loop  // counter-clockwise
	Handle                  Loop    // counter-clockwise region of the handle; nil: it is not drawn
	Grind                   Path    // from its butt end to its tip end; nil where the drawing has none
	Edge                    Path    // part of the outline from heel to tip
	Back                    Path    // the second edge of a blade with two, from its heel to the tip; nil: one edge
	GrindBack               Path    // its grind line; nil where the drawing has none
	Swedge                  Path    // the grind line of a swedge, from its butt end; nil: none
	SwedgeEdge              Path    // part of the outline that the swedge has come down to, likewise
	Spine                   Path    // part of the outline from the throat to the tip
	Tip, Heel, Butt         r2.Vec  // on the outline
	ThroatSpine, ThroatEdge r2.Vec  // where the throat line crosses the outline
	HandleFront             float64 // x of the handle's front on the axis; of a guard's, where there is one
	Guard                   Loop    // counter-clockwise region of the guard, the foremost of Handle; nil: none
	Undrawn                 bool    // the handle is there, behind its front, and not drawn
	Frame                   Frame
	Warnings                []Warning
}
