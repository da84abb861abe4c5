// Package ngc reads programs for machine tools written in a plain subset of RS274/NGC, and gives the
// motions that they command.
//
// The language is that of Kramer, Proctor and Messina, The NIST RS274/NGC Interpreter, Version 3, NIST
// IR 6556, 2000 (from memory beside its abstract; the canned cycles as in its worked examples). A line
// is a block of words, a letter and a number each, in any order; spaces and case do not count; comments
// stand in parentheses or after a semicolon. Words are carried out in the standard's order, not in that
// of the line: feed, speed, tool, spindle, plane, units, distance mode, retract mode, motion, stop.
//
// Read here are
//
//	G0 G1 G2 G3 G4   rapid, straight feed, arcs with I and J or with R, standing still for P seconds
//	G80 G81 G82 G83  no cycle; drill, drill with a dwell, drill in pecks
//	G17 G20 G21 G40 G49 G54 G61 G64 G80 G90 G91 G91.1 G94 G98 G99
//	M0 M2 M3 M5 M6 M7 M8 M9 M30, F S T, N, and % as first and last line
//
// and nothing else: what a machine would do with another word is not known here, so that the word is
// refused with its line and column. So is what depends on how the machine was left: a program has to
// state units, distance mode, plane, feed mode and retract mode before it uses them. Parameters,
// expressions, subprograms, block delete and rotary axes are refused, and so are comments that controls carry
// out, and characters that are not printable ASCII: a carriage return within a line is the end of it for
// some controls, and none for others.
//
// Where a file holds several programs with a stop (M0) after each, nothing is taken over from one to the next:
// while the machine stands anything may be done to it. Nor is it known where the tool is after it was changed.
//
// Positions are mm in the program's coordinate system, however the program is written; feeds mm/min.
package ngc

import (
	"fmt"
	"math"
	"strings"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Kind is what a motion is.
type Kind uint8

// The kinds: rapid, straight feed, arcs seen from above, and standing still.
const (
	Rapid Kind = iota
	Feed
	Clockwise
	Counter
	Dwell
)

// String is the kind in a word.
func (k Kind) String() string {
	return [...]string{"rapid", "feed", "clockwise", "counter-clockwise", "dwell"}[k]
}

// Motion is one motion of the tool's point.
type Motion struct {
	Kind     Kind
	From, To r3.Vec  // mm; a coordinate that the program has not stated yet is NaN, in rapids only
	Centre   r2.Vec  // of an arc
	Feed     float64 // mm/min, 0 for a rapid
	Seconds  float64 // of a dwell
	Line     int     // of the program, from 1
	Cycle    int     // 81, 82 or 83 for what belongs to a canned cycle, else 0
	Tool     int     // number of the one that M6 put in last, 0: none yet
	Speed    float64 // of the spindle, per minute; 0: it stands
}

// Event is a word that moves nothing: a mode, a tool, the spindle, the coolant, a stop. Words that name the retract
// mode or end a cycle are not among them.
type Event struct {
	Word         string  // without zeros that say nothing, as G64; T and S by their letter alone
	Value        float64 // of T and S; P of G64 in mm, NaN where there is none
	Before       int     // how many motions come before it
	At           r3.Vec  // where the tool is, as in motions
	Turning      bool    // whether the spindle turns, until then
	Line, Column int
}

// Program is one program of a file.
type Program struct {
	File     string
	Lines    int  // number of its last line in the file
	Inch     bool // whether it is written in inches
	Of       int  // how many programs are in the file
	Stopped  bool // whether a stop (M0) ends it, and another program follows
	Motions  []Motion
	Comments []Comment
	Events   []Event
	Tools    []int // in the order in which they are named, each once
}

// Sweep is the angle that an arc turns through, in radians, positive counter-clockwise; a whole turn where
// it ends where it begins, 0 for what is no arc.
func (m Motion) Sweep() float64 {
	if m.Kind != Clockwise && m.Kind != Counter {
		return 0
	}
	const same = 1e-6 // mm
	a, b := r2.Sub(plan(m.From), m.Centre), r2.Sub(plan(m.To), m.Centre)
	turn := math.Atan2(r2.Cross(a, b), r2.Dot(a, b))
	closed := r2.Norm(r2.Sub(a, b)) < same
	switch {
	case m.Kind == Counter && (turn < 0 || closed):
		turn += 2 * math.Pi
	case m.Kind == Clockwise && (turn > 0 || closed):
		turn -= 2 * math.Pi
	}
	return turn
}

// Path is the motion seen from above: a line, or an arc in pieces of half a turn at most; nothing where it
// is upright or its beginning is not known.
func (m Motion) Path() profile.Path {
	a, b := plan(m.From), plan(m.To)
	sweep := m.Sweep()
	if math.Abs(sweep) < 4e-6 { // a bulge of 1e-6, that of 0.001 mm in 2 m
		if a == b || math.IsNaN(a.X+a.Y) {
			return nil
		}
		return profile.Path{{A: a, B: b}}
	}
	n := int(math.Ceil(math.Abs(sweep) / math.Pi))
	bulge := math.Tan(sweep / float64(n) / 4)
	path := make(profile.Path, 0, n)
	from := a
	for i := 1; i < n; i++ {
		to := r2.Rotate(a, sweep*float64(i)/float64(n), m.Centre)
		path = append(path, profile.Segment{A: from, B: to, Bulge: bulge})
		from = to
	}
	return append(path, profile.Segment{A: from, B: b, Bulge: bulge})
}

// Length is how far the motion goes, in mm; 0 where its beginning is not known.
func (m Motion) Length() float64 {
	rise := m.To.Z - m.From.Z
	if math.IsNaN(rise) {
		rise = 0
	}
	return math.Hypot(m.Path().Length(), rise)
}

func plan(p r3.Vec) r2.Vec { return r2.Vec{X: p.X, Y: p.Y} }

// Fault is one thing that is wrong with a program: where, and what.
type Fault struct {
	File         string
	Line, Column int // from 1, the column in bytes; 0: the line or the file as a whole
	What         string
}

// Error is one line.
func (f *Fault) Error() string {
	at := f.File
	if f.Line > 0 {
		at += fmt.Sprintf(":%d", f.Line)
	}
	if f.Column > 0 {
		at += fmt.Sprintf(":%d", f.Column)
	}
	return at + ": " + f.What
}

// Faults is everything that is wrong, in the order of the file.
type Faults []*Fault

// Error is a line for each fault.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, one := range f {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}
