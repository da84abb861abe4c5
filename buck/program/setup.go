// Package program writes RS274/NGC programs that drill and trim a sheath, and proves of any program that
// states its set-up that it does no harm to the sheath, the pins and the clamps.
//
// A [Setup] is what a program assumes: where zero is, what lies on the board and how it is held. It is
// written into the program's head, for people and, in comments that begin with SET-UP, for [Prove], which
// reads a program anew and knows nothing of how it was made.
//
// Lengths are mm in the program's own axes: x and y from the zero that the set-up names, z up from the top
// of the board. The sheath's line runs counter-clockwise, seen from above.
package program

import (
	"fmt"
	"math"
	"slices"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Setup is what a program assumes.
type Setup struct {
	Title    string // what is done to what, as "thistle: drill the pair"
	Zero     string // where x = 0, y = 0 lies, in words
	Up       string // which face is up, in words
	Hold     string // how the work is held, in words
	Inch     bool   // write inches
	Stock    Stock
	Tool     Tool
	NoChange bool    // name the tool in the head alone, for a machine that knows no M6
	Plain    bool    // write the words of small open controllers alone; the tool is changed by hand
	Safe     float64 // height over which rapids cross the work
	Rapid    float64 // how fast the machine's rapids are, mm/min, for times alone; 0: 3000
	Machine  Machine
	Rates    Rates // Drill and Trim fill them in; a program may feed slower, and turn faster
	Pass     Pass  // of a cutter; Trim fills it in
	Vacuum   bool  // vacuum, or tape under all of the rim, holds sheath and waste
	Line     profile.Loop
	Holes    []Hole
	Pins     []Pin
	Clamps   []Clamp
	Raised   []Raised
	Steel    profile.Loop // outline of the knife that is in the work; empty: none is
	Room     float64      // that the tool's rim keeps from it at the least, mm
}

// Machine is the most that the machine does. The zero value is a light machine's.
type Machine struct {
	Feed  float64 // mm/min; 0: 5000
	Speed float64 // of the spindle, rpm; 0: 24000
}

// Pass is the most that a cutter takes at once.
type Pass struct {
	Depth float64 // down, mm
	Side  float64 // aside, where it goes down farther, beside an earlier cut; mm
}

// Stock is what lies on the board.
type Stock struct {
	Box   r2.Box
	Sheet float64 // height of the flat rim's upper face
	Top   float64 // of the highest point of the work
	Board float64 // thickness of the board under it
}

// Tool is a drill, or a cutter where it has no point angle.
type Tool struct {
	Number   int
	Diameter float64
	PointDeg float64 // included angle of a drill's point; 0: a cutter
	Flutes   int     // 0: two
	Length   float64 // of a cutter's flutes, mm; 0: four times its diameter
}

// Hole is a hole of the sheath: to be drilled where the tool is a drill, to be kept clear of otherwise.
type Hole struct {
	At          r2.Vec
	Diameter    float64
	Top, Bottom float64 // heights between which the sheet lies there
}

// Pin is a round pin in the board, of the height Top, with a washer on it that holds the sheath down, or
// none.
type Pin struct {
	At       r2.Vec
	Diameter float64
	Top      float64
	Washer   float64 // diameter; 0: none
}

// width is what the tool has to keep off.
func (p Pin) width() float64 { return max(p.Diameter, p.Washer) }

// Clamp is a clamp, or another thing that stands on the board, of the height Top.
type Clamp struct {
	Box r2.Box
	Top float64
}

// Raised is where the work outside the sheath's line is higher than its flat rim: the formed handle behind
// the mouth, say.
type Raised struct {
	Box r2.Box
	Top float64
}

// Fault is a set-up or a measure of which no program can be made: where, if it is at a place, and what.
type Fault struct {
	At   *r2.Vec // mm; nil where it is at no one place
	What string
}

// Error is one line.
func (f *Fault) Error() string {
	if f.At == nil {
		return f.What
	}
	return fmt.Sprintf("%s, at (%.3f, %.3f) mm", f.What, f.At.X, f.At.Y)
}

func fault(format string, args ...any) error { return &Fault{What: fmt.Sprintf(format, args...)} }

func faultAt(at r2.Vec, format string, args ...any) error {
	return &Fault{At: &at, What: fmt.Sprintf(format, args...)}
}

// Radius is half of the diameter.
func (t Tool) Radius() float64 { return t.Diameter / 2 }

// Drill tells whether the tool is a drill.
func (t Tool) Drill() bool { return t.PointDeg > 0 }

// Point is the length of a drill's point, d / (2 tan(angle/2)) (twist drill geometry; Today's Machining
// World, October 2006, gives it as a table): 1.908 mm for 6.35 mm at 118 deg. A cutter has none.
func (t Tool) Point() float64 {
	if !t.Drill() {
		return 0
	}
	return t.Diameter / (2 * math.Tan(t.PointDeg*math.Pi/360))
}

// flutes is the number of cutting edges.
func (t Tool) flutes() float64 {
	if t.Flutes <= 0 {
		return 2
	}
	return float64(t.Flutes)
}

// length is how long a cutter's flutes are: four times the diameter where it is not said (1 in for 1/4 in: common
// practice, no source).
func (t Tool) length() float64 {
	if t.Length <= 0 {
		return 4 * t.Diameter
	}
	return t.Length
}

// What a light machine does (common practice, no source).
const (
	usualFeed  = 5000
	usualSpeed = 24000
)

func (m Machine) filled() Machine {
	if m.Feed <= 0 {
		m.Feed = usualFeed
	}
	if m.Speed <= 0 {
		m.Speed = usualSpeed
	}
	return m
}

// UsualRapid is taken where a set-up does not say how fast rapids are, in mm/min: a light machine's
// (common practice, no source).
const UsualRapid = 3000

func (s *Setup) rapid() float64 {
	if s.Rapid <= 0 {
		return UsualRapid
	}
	return s.Rapid
}

// Check finds what of the set-up cannot be. The error is a *Fault.
func (s *Setup) Check() error {
	st := s.Stock
	switch {
	case !(s.Tool.Diameter > 0) || s.Tool.Diameter > 100:
		return fault("a tool of %g mm", s.Tool.Diameter)
	case s.Tool.PointDeg < 0 || s.Tool.PointDeg >= 180:
		return fault("a drill's point of %g deg", s.Tool.PointDeg)
	case s.Tool.Number < 1:
		return fault("tool %d has no number over 0", s.Tool.Number)
	case !(st.Box.Max.X > st.Box.Min.X && st.Box.Max.Y > st.Box.Min.Y):
		return fault("the stock has no size")
	case st.Box.Max.X-st.Box.Min.X > widest || st.Box.Max.Y-st.Box.Min.Y > widest:
		return fault("the stock is more than %d mm long", widest)
	case !(st.Sheet > 0):
		return fault("the sheet's upper face is at Z %g mm, and Z 0 is the top of the board under it", st.Sheet)
	case !(st.Top >= st.Sheet):
		return fault("the work's highest point, Z %g mm, is under its rim, Z %g mm", st.Top, st.Sheet)
	case !(s.Safe > st.Top):
		return fault("the safe height, Z %g mm, is not over the work, Z %g mm", s.Safe, st.Top)
	case !(st.Board >= 0):
		return fault("a board of %g mm", st.Board)
	}
	for _, p := range s.Pins {
		if p.Top >= s.Safe {
			return faultAt(p.At, "the safe height, Z %g mm, is not over a pin, Z %g mm", s.Safe, p.Top)
		}
	}
	for _, c := range s.Clamps {
		if c.Top >= s.Safe {
			return faultAt(c.Box.Min, "the safe height, Z %g mm, is not over a clamp, Z %g mm", s.Safe, c.Top)
		}
	}
	for _, h := range s.Raised {
		if !(h.Top <= st.Top+1e-6) {
			return faultAt(h.Box.Min, "the work, Z %g mm high in one place, is over its highest point, Z %g mm", h.Top, st.Top)
		}
	}
	if len(s.Line) > 0 && (!s.Line.Path().Closed() || s.Line.Area() <= 0) {
		return fault("the sheath's line is not closed, or does not run counter-clockwise")
	}
	if len(s.Steel) > 0 && (!s.Steel.Path().Closed() || s.Steel.Area() <= 0 || !(s.Room >= leastRoom)) {
		return fault("the knife's outline is not closed, does not run counter-clockwise, or has room of %g mm stated: at least %g mm", s.Room, leastRoom)
	}
	if err := s.checkHold(); err != nil {
		return err
	}
	return s.checkHoles()
}

// widest is how long stock may be, in mm: no sheath's is, and a proof looks at every mm of the line. Our own, no source.
const widest = 2000

// checkHold refuses work that nothing holds down. A cutter frees the sheath from its rim in the last pass, so that
// both have to be held.
func (s *Setup) checkHold() error {
	washer := func(p Pin) bool { return p.Washer > p.Diameter }
	switch {
	case s.Vacuum:
		return nil
	case len(s.Clamps) == 0:
		return fault("nothing holds the work down: there is neither a clamp nor vacuum")
	case !s.Tool.Drill() && !slices.ContainsFunc(s.Pins, washer):
		return fault("nothing holds the sheath down once it is cut free: no pin has a washer wider than itself, and there is no vacuum")
	}
	return nil
}

// checkHoles finds holes that cannot be.
func (s *Setup) checkHoles() error {
	for _, h := range s.Holes {
		switch {
		case !(h.Diameter > 0) || !(h.Top > h.Bottom) || h.Top > s.Stock.Top+1e-6:
			return faultAt(h.At, "a hole of %g mm from Z %g to Z %g mm", h.Diameter, h.Top, h.Bottom)
		case len(s.Line) > 0 && (!s.Line.Contains(h.At) || s.Line.Distance(h.At) < h.Diameter/2):
			return faultAt(h.At, "a hole of %g mm is not within the sheath's line", h.Diameter)
		}
	}
	return nil
}
