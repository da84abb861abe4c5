package program

import (
	"fmt"
	"math"
	"slices"

	"formbuck/buck/program/ngc"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Proof is what was found of a program.
type Proof struct {
	Extents
	Setup       Setup   // as the program states it
	Drilled     int     // of its holes
	Closest     float64 // least distance of the tool's middle from the sheath's line, less than 0 within it, while a cutter is lower than the work is high; +Inf: never
	ClosestLine int     // of the program
	Steel       float64 // least distance of the tool's rim from the knife in the work; +Inf: none is in it, or never below the safe height
}

// Extents is where a program goes and how long it takes.
type Extents struct {
	Box           r3.Box  // of all places whose coordinates the program states
	Cutting, Over float64 // seconds in feeds and in rapids
}

const (
	slack    = 0.005 // mm by which the tool's middle may be closer to the sheath's line than its radius
	onHole   = 0.01  // mm by which a drill may miss a hole's middle; our own, no source
	sameHole = 0.05  // mm by which drill and hole may differ in diameter; our own, no source
	uncut    = 0.02  // mm that may be left standing along the sheath's line; our own, no source
	level    = 1e-6  // mm that count as no difference of height
	most     = 40    // faults that are reported
	exactly  = 0.005 // share by which a feed may be over what is stated: what rounding takes, in whatever units
	effort   = 1e7   // steps that the proof of a file may take: a trimming program of make needs a fiftieth of them; measured on the demos
	share    = 1e6   // of them that each program of a run may take at the least; our own, no source
)

// Measure is where a program goes, and how long that takes with rapids of the given speed in mm/min;
// speeding up and slowing down is left out.
func Measure(p *ngc.Program, rapid float64) Extents {
	none := math.Inf(1)
	e := Extents{Box: r3.Box{Min: r3.Vec{X: none, Y: none, Z: none}, Max: r3.Vec{X: -none, Y: -none, Z: -none}}}
	for _, m := range p.Motions {
		e.hold(m.To)
		for _, s := range m.Path() {
			b := s.Bounds()
			e.hold(r3.Vec{X: b.Min.X, Y: b.Min.Y, Z: m.To.Z})
			e.hold(r3.Vec{X: b.Max.X, Y: b.Max.Y, Z: m.To.Z})
		}
		switch m.Kind {
		case ngc.Rapid:
			e.Over += m.Length() / rapid * 60
		case ngc.Dwell:
			e.Cutting += m.Seconds
		default:
			e.Cutting += m.Length() / m.Feed * 60
		}
	}
	return e
}

// hold widens the box; NaN is no place.
func (e *Extents) hold(p r3.Vec) {
	for _, c := range [3]struct {
		v        float64
		low, top *float64
	}{{p.X, &e.Box.Min.X, &e.Box.Max.X}, {p.Y, &e.Box.Min.Y, &e.Box.Max.Y}, {p.Z, &e.Box.Min.Z, &e.Box.Max.Z}} {
		if c.v < *c.low {
			*c.low = c.v
		}
		if c.v > *c.top {
			*c.top = c.v
		}
	}
}

// Prove proves a program against the set-up that its head states:
//
//   - before the first motion it sets all that a machine may have been left in, and changes none of it later; the
//     machine may not leave the path by more than the proof's own slack;
//   - the tool is that of the set-up, and is changed, and the spindle started and stopped, at the safe height;
//   - the tool's middle never comes closer to the sheath's line than its radius, less 0.005 mm, while the tool
//     is lower than the work is high, nor within the line; a drill goes down in stated holes alone, of its own
//     width;
//   - below the safe height the tool keeps from a knife in the work what is stated;
//   - it never touches a hole that it does not drill, a pin or a clamp, and goes down over the stock alone;
//   - rapids cross at the safe height or over it, and go down no further than the sheet, or to where the same
//     hole is drilled already;
//   - it feeds with a turning spindle alone, no faster and with no fewer turns than is stated, stays in the board, and
//     ends at the safe height;
//   - a cutter takes no more at once than is stated, down or aside, and its flutes reach over the work;
//   - every hole is drilled through, and the whole of the line is cut.
//
// What is stated is held to what the tool can do. The holder and how far the tool sticks out of it are not looked at,
// nor how firmly clamps and vacuum hold. What does not hold comes back as ngc.Faults beside the proof, in the order
// of the program's lines; where the set-up cannot be read, extents and times alone are in it.
func Prove(p *ngc.Program) (*Proof, error) {
	s := readSetup(p)
	proof := &Proof{Extents: Measure(p, s.rapid()), Setup: s.Setup, Closest: math.Inf(1), Steel: math.Inf(1)}
	if len(s.faults) > 0 {
		return proof, s.faults
	}
	v := &prover{Proof: proof, stated: s, program: p, drilled: make([]bool, len(s.Holes)), left: max(effort/max(p.Of, 1), share)}
	v.run()
	if len(v.found) > 0 {
		slices.SortStableFunc(v.found, func(a, b *ngc.Fault) int { return a.Line - b.Line })
		return proof, v.found
	}
	return proof, nil
}

// run looks at all motions and at what is set between them.
func (v *prover) run() {
	v.opening()
	v.sheath, v.knife = edges(v.stated.Line.Path()), edges(v.stated.Steel.Path())
	events := v.program.Events
	for i := range v.program.Motions {
		for len(events) > 0 && events[0].Before <= i {
			v.event(&events[0])
			events = events[1:]
		}
		if v.motion(&v.program.Motions[i]); len(v.found) >= most || v.left < 0 {
			break
		}
	}
	for i := range events {
		if len(v.found) >= most || v.left < 0 {
			break
		}
		v.event(&events[i])
	}
	if len(v.found) < most && v.left >= 0 {
		v.end()
	}
	if v.left < 0 {
		v.found = append(v.found, &ngc.Fault{File: v.program.File, Line: v.program.Lines, What: fmt.Sprintf(
			"too much to be proved: %d motions beside a line of %d pieces and %d holes; write it in several programs",
			len(v.program.Motions), len(v.stated.Line), len(v.stated.Holes))})
	}
}

// prover is a proof on its way.
type prover struct {
	*Proof
	*stated
	program *ngc.Program
	found   ngc.Faults
	left    int    // steps that it may still take
	sheath  []edge // the sheath's line
	knife   []edge // the outline of the knife in the work
	drilled []bool
	cut     profile.Path // what was cut through the sheet
	strokes strokes      // all that was cut
	well    r2.Vec       // where the tool last fed straight down
	depth   float64      // and how far; NaN: nowhere
	inWell  bool
}

func (v *prover) refuse(line int, format string, args ...any) {
	f := &ngc.Fault{File: v.program.File, Line: line, What: fmt.Sprintf(format, args...)}
	if !slices.ContainsFunc(v.found, func(other *ngc.Fault) bool { return *other == *f }) {
		v.found = append(v.found, f)
	}
}

// motion looks at one motion.
func (v *prover) motion(m *ngc.Motion) {
	s := &v.stated.Setup
	if m.Kind == ngc.Dwell {
		return
	}
	if math.IsNaN(m.From.Z) || math.IsNaN(m.To.Z) {
		v.raise(m)
		return
	}
	v.left -= 10 + len(s.Holes) + len(s.Pins) + len(s.Clamps)
	low := min(m.From.Z, m.To.Z)
	v.rates(m, low)
	if low >= s.Safe-level {
		return
	}
	if math.IsNaN(m.From.X + m.From.Y + m.To.X + m.To.Y) {
		v.refuse(m.Line, "goes down to Z %.4g mm at a place that the program has not stated", low)
		return
	}
	v.tool(m)
	path := m.Path()
	if low < -s.Stock.Board-level {
		v.refuse(m.Line, "goes down to Z %.4g mm, through the board of %.4g mm", low, s.Stock.Board)
	}
	v.beside(m, path, low)
	if m.Kind == ngc.Rapid {
		v.rapidly(m, path, low)
	}
	v.obstacles(m, path, low)
	v.steel(m, path)
	if s.Tool.Drill() {
		v.drilling(m, path)
	} else {
		v.cutting(m, path, low)
	}
	if m.Kind != ngc.Rapid && len(path) == 0 {
		if here := plan(m.To); !v.inWell || here != v.well || low < v.depth {
			v.well, v.depth, v.inWell = here, low, true
		}
	}
}

// raise looks at a motion from a height that is not known, which has to be straight up, from wherever the tool was.
func (v *prover) raise(m *ngc.Motion) {
	s := &v.stated.Setup
	if m.Kind == ngc.Rapid && math.IsNaN(m.To.X) && math.IsNaN(m.To.Y) && m.To.Z >= s.Safe-level {
		return
	}
	what := "the first motion"
	if m.Tool != 0 {
		what = "the first motion after M6"
	}
	v.refuse(m.Line, "%s has to go straight to the safe height, Z %.4g mm, and does not", what, s.Safe)
}

// beside looks whether a motion below the safe height leaves the stock.
func (v *prover) beside(m *ngc.Motion, path profile.Path, low float64) {
	b := v.stated.Stock.Box
	out := !inBox(grownBox(b, level), plan(m.To)) || !inBox(grownBox(b, level), plan(m.From))
	for _, g := range path {
		at := g.Bounds()
		out = out || !inBox(grownBox(b, level), at.Min) || !inBox(grownBox(b, level), at.Max)
	}
	if out {
		v.refuse(m.Line, "beside the stock at Z %.4g mm, below the safe height, Z %.4g mm: what stands there is not stated", low, v.stated.Safe)
	}
}

// rapidly looks at a rapid below the safe height.
func (v *prover) rapidly(m *ngc.Motion, path profile.Path, low float64) {
	s := &v.stated.Setup
	if len(path) > 0 {
		v.refuse(m.Line, "rapid across the work at Z %.4g mm, below the safe height, Z %.4g mm", low, s.Safe)
		return
	}
	here := plan(m.To)
	if m.To.Z >= m.From.Z || v.inWell && here == v.well && m.To.Z >= v.depth-level {
		return
	}
	if floor := v.surface(here); m.To.Z < floor-level {
		v.refuse(m.Line, "rapid down to Z %.4g mm, and the work is up to Z %.4g mm high there", m.To.Z, floor)
	}
}

// surface is how high the work is under the tool at a place: as a hole says, where one is; the rim's height
// outside the sheath's line, or what is raised there; the highest point within it.
func (v *prover) surface(at r2.Vec) float64 {
	s := &v.stated.Setup
	for _, h := range s.Holes {
		if s.Tool.Drill() && r2.Norm(r2.Sub(h.At, at)) <= onHole {
			return h.Top
		}
	}
	switch {
	case len(s.Line) > 0 && !s.Line.Contains(at) && s.Line.Distance(at) >= s.Tool.Radius()-slack:
		return s.rim(at)
	}
	return s.Stock.Top
}

// rim is how high the work is under the tool at a place outside the sheath's line.
func (s *Setup) rim(at r2.Vec) float64 {
	high := s.Stock.Sheet
	for _, r := range s.Raised {
		if inBox(grownBox(r.Box, s.Tool.Radius()), at) {
			high = max(high, r.Top)
		}
	}
	return high
}

// obstacles looks whether the tool touches a pin or a clamp.
func (v *prover) obstacles(m *ngc.Motion, path profile.Path, low float64) {
	s := &v.stated.Setup
	r := s.Tool.Radius()
	for i, p := range s.Pins {
		if d := distance(path, plan(m.To), p.At); low < p.Top-level && d < r+p.width()/2-level {
			v.refuse(m.Line, "the tool runs %.3f mm into pin %d, at (%.3f, %.3f) mm", r+p.width()/2-d, i+1, p.At.X, p.At.Y)
		}
	}
	for i, c := range s.Clamps {
		if low >= c.Top-level {
			continue
		}
		d := 0.0
		if !inBox(c.Box, plan(m.To)) && !inBox(c.Box, plan(m.From)) {
			d = gapTo(profile.Path{{A: plan(m.To), B: plan(m.To)}}, profile.Rectangle(c.Box))
			if len(path) > 0 {
				d = gapTo(path, profile.Rectangle(c.Box))
			}
		}
		if d < r-level {
			v.refuse(m.Line, "the tool runs %.3f mm into clamp %d, from (%.3f, %.3f) mm on", r-d, i+1, c.Box.Min.X, c.Box.Min.Y)
		}
	}
}

// distance is that of a place from a path, or from the point where the motion is upright.
func distance(path profile.Path, here, from r2.Vec) float64 {
	if len(path) == 0 {
		return r2.Norm(r2.Sub(here, from))
	}
	return path.Distance(from)
}

func plan(p r3.Vec) r2.Vec { return r2.Vec{X: p.X, Y: p.Y} }
