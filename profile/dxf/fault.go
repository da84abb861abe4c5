package dxf

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/plain"
)

// Class is the kind of a fault. The list is closed.
type Class string

// The classes of fault. Those up to BlockTooDeep come from the file's format, the others from the
// joining of its geometry into a profile.
const (
	Empty        Class = "empty"         // no bytes at all
	NotDXF       Class = "not-dxf"       // another format, or UTF-16
	Truncated    Class = "truncated"     // ends before a section, entity or pair is complete
	BadNumber    Class = "bad-number"    // a group code or a number that is none
	OutOfRange   Class = "out-of-range"  // not finite, over 1e6 mm, or a value its entity cannot have
	TooLarge     Class = "too-large"     // more bytes, entities or lines than a drawing of a knife has
	MissingValue Class = "missing-value" // an entity without a group that it must have
	Unsupported  Class = "unsupported"   // geometry of a kind that is not read, on a layer that is used
	NoBlock      Class = "no-block"      // an INSERT of a block that the file does not define
	BlockCycle   Class = "block-cycle"   // a block that contains itself
	BlockTooDeep Class = "block-limit"   // blocks nested too deep, or too many insertions

	NoUnits          Class = "no-units"             // units neither stated nor plausible
	NoOutline        Class = "no-outline"           // nothing closed to be the outline
	OpenOutline      Class = "open-outline"         // ends that do not meet
	TwoOutlines      Class = "two-outlines"         // more than one loop could be the outline
	SelfIntersection Class = "self-intersection"    // a loop that crosses or touches itself
	HoleCrossesOut   Class = "hole-crosses-outline" // a hole that is not within the outline
	HolesCross       Class = "holes-cross"          // two holes that cross or touch each other
	Branch           Class = "branch"               // more than two ends meet
	Overlap          Class = "overlap"              // lines that lie on each other in part
	BadMark          Class = "bad-mark"             // a reference line that cannot be what its layer says
	Unsettled        Class = "unsettled"            // what places a piece is neither drawn nor stated
	TooMany          Class = "too-many-faults"      // the rest of a list that was cut
	UnknownLayer     Class = "no-layer"             // a layer asked for that the drawing does not have
	ImplausibleSize  Class = "implausible-size"     // not the size of a knife, in the stated units
)

// Classes is the closed list, in the order above.
func Classes() []Class {
	return []Class{
		Empty, NotDXF, Truncated, BadNumber, OutOfRange, TooLarge, MissingValue, Unsupported, NoBlock, BlockCycle, BlockTooDeep,
		NoUnits, NoOutline, OpenOutline, TwoOutlines, SelfIntersection, HoleCrossesOut, HolesCross, Branch, Overlap,
		BadMark, Unsettled, TooMany, UnknownLayer, ImplausibleSize,
	}
}

// Fault is one thing wrong with a drawing and its place.
type Fault struct {
	File   string
	Line   int // 0 where the fault has no line
	Class  Class
	Entity string // kind, empty where the fault is not one entity's
	Handle uint64 // 0: none
	Layer  string
	What   string
	At     *r2.Vec // in the drawing's axes, mm; nil where the fault has no point
}

// Error is the fault as one line, fit to be shown: FILE:LINE: class: ENTITY handle H layer L: what.
func (f *Fault) Error() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Line > 0 {
		fmt.Fprintf(&b, ":%d", f.Line)
	}
	fmt.Fprintf(&b, ": %s: ", f.Class)
	if f.Entity != "" {
		b.WriteString(f.Entity)
		if f.Handle != 0 {
			fmt.Fprintf(&b, " handle %X", f.Handle)
		}
		if f.Layer != "" {
			fmt.Fprintf(&b, " layer %s", f.Layer)
		}
		b.WriteString(": ")
	}
	b.WriteString(f.What)
	return plain.Text(b.String())
}

// Faults is every fault of a drawing, causes before what follows from them and each in the order of its
// lines. It is an error; an empty list is not one and is never returned as such.
type Faults []*Fault

// Error is all faults, a line each.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, e := range f {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap lets errors.As and errors.Is find each fault.
func (f Faults) Unwrap() []error {
	out := make([]error, len(f))
	for i, e := range f {
		out[i] = e
	}
	return out
}

// Err is the list as an error, causes first and then by line; nil when it is empty.
func (f Faults) Err() error {
	if len(f) == 0 {
		return nil
	}
	slices.SortStableFunc(f, func(a, b *Fault) int { return cmp.Or(a.Class.rank()-b.Class.rank(), a.Line-b.Line) })
	return f
}

// rank orders classes of faults by what can cause what: a file's format and size cause faults of its
// geometry, never the other way round.
func (c Class) rank() int {
	switch c {
	case TooLarge:
		return 1
	case ImplausibleSize:
		return 2
	case NoOutline, OpenOutline, TwoOutlines, SelfIntersection, HoleCrossesOut, HolesCross, Branch, Overlap, BadMark:
		return 3
	case Unsettled:
		return 4
	case TooMany:
		return 5
	}
	return 0
}
