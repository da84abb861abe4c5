// Package mill sets a sheath up on the mill and writes the programs that drill and trim it.
//
// There are three set-ups. The pair lies as it was pressed, right face up, on a board that is open under the
// knife, and is drilled as one. Then it is split, and each half lies formed side up, its flat rim on the board, on
// pins through holes of its eyelets: the right half as in the plan, the left half turned over about the blade's
// axis. So the holes of its boss's posts are drilled, and it is trimmed.
//
// Zero is the knife's tip in all of them, X along the blade, Z from the top of the board. Lengths are mm.
package mill

import (
	"fmt"
	"math"
	"strconv"

	"formbuck/buck/fixture/plate"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/program"

	"gonum.org/v1/gonum/spatial/r2"
)

// Place is how the work lies: the pair, or a half formed side up.
type Place string

// The places.
const (
	Pair      Place = "pair"
	RightHalf Place = "right half"
	LeftHalf  Place = "left half"
)

// Work is what is put on the mill, in words.
func (p Place) Work() string {
	if p == Pair {
		return "the pair"
	}
	return string(p)
}

// face is that of a half.
func (p Place) face() measures.Face {
	if p == LeftHalf {
		return measures.LeftFace
	}
	return measures.RightFace
}

// Frame is how a sheath's plan lies in the programs of a place: zero is the knife's tip, which stays where it is
// whatever is asked of the sheath, or that of the plate that the work lies on.
func Frame(s *layout.Sheath, p Place) program.Frame {
	f := program.Frame{Zero: s.Knife.Plan.Tip, Turned: p == LeftHalf}
	if s.Plate == nil {
		return f
	}
	at := station(s.Plate, p)
	tip := s.Plate.Outline.Tip
	f.Zero = r2.Sub(tip, at)
	if f.Turned {
		f.Zero.Y = tip.Y + at.Y
	}
	return f
}

// station is where the knife's tip is on a plate.
func station(p *plate.Plate, place Place) r2.Vec {
	switch place {
	case RightHalf:
		return p.Right.Tip
	case LeftHalf:
		return p.Left.Tip
	}
	return p.Pair.Tip
}

// Tools by their number. The drill of the posts is that of the eyelets where their holes are alike.
const (
	eyeletDrill = 1
	trimCutter  = 2
	postDrill   = 3
)

// NewSetup is a sheath on the mill in one of its places, without tool, holes to drill and title: the stock, the
// sheath's line, how it is held, and the eyelets' holes, which a half has already.
func NewSetup(s *layout.Sheath, p Place) program.Setup {
	set := laid(s, p)
	set.Up = s.Knife.Spec.Blade.Told(set.Up)
	return set
}

// laid is that of a blade with one edge.
func laid(s *layout.Sheath, p Place) program.Setup {
	spec := s.Knife.Spec
	m, f := spec.Mill, Frame(s, p)
	t := s.Gauge
	set := OnMachine(m)
	set.Line, set.Vacuum = f.Loop(s.Trim), m.Hold == measures.Vacuum
	set.Stock = program.Stock{Box: f.Box(s.Blank.Box), Sheet: t, Top: s.Height + t, Board: m.Board}
	n := said{set.Inch}
	set.Zero = zero(s, f, n)
	if s.Plate != nil {
		onPlate(&set, s, p, f, n)
		return set
	}
	switch p {
	case Pair:
		set.Stock.Sheet, set.Stock.Top = 2*t, s.Height+2*t
		set.Up = fmt.Sprintf("the right face, Y from the edge to the spine. The lower half hangs %s below the top of the board, which is open under the knife, its handle and the drain: inside the FOLD lines of %s-sheath.dxf. %s",
			n.length(s.Height), spec.Name, lies(s, f, n))
		set.Steel = steel(s, f)
	case RightHalf:
		set.Up = "the right half, formed side up, its flat rim on the board, Y from the edge to the spine"
	case LeftHalf:
		set.Up = "the left half, formed side up, its flat rim on the board: turned over about the blade's axis, so that Y goes from the spine to the edge"
	}
	set.Holes = holes(s, f, spec.Eyelet.Hole, set.Stock.Sheet, 0)
	if p != Pair {
		for _, pin := range s.Pins {
			set.Pins = append(set.Pins, program.Pin{At: f.To(pin.At), Diameter: pin.Diameter, Top: m.PinHeight, Washer: m.Washer})
		}
	}
	set.Clamps = clamps(s, f)
	set.Room = room(&set)
	set.Hold = hold(s, p, n)
	set.Raised = raised(s, f, set.Stock.Top)
	set.Safe = safe(&set) + m.Safe
	return set
}

// OnMachine is a set-up of which only what the machine asks for is said: units, limits, the words
// it knows.
func OnMachine(m measures.Mill) program.Setup {
	return program.Setup{
		Inch: m.Units == measures.Inches, Rapid: m.Rapid, Machine: machine(m),
		NoChange: m.ToolChange == measures.ByHand, Plain: m.Dialect == measures.PlainDialect,
	}
}

// machine is what the machine can do at the most.
func machine(m measures.Mill) program.Machine {
	return program.Machine{Feed: m.MaxFeed, Speed: float64(m.MaxSpeed)}
}

// holes are a sheath's holes, eyelets first, each from top down to bottom.
func holes(s *layout.Sheath, f program.Frame, eyelet, top, bottom float64) []program.Hole {
	var all []program.Hole
	for _, e := range s.Eyelets {
		all = append(all, program.Hole{At: f.To(e.At), Diameter: eyelet, Top: top, Bottom: bottom})
	}
	for _, h := range s.Holes {
		all = append(all, program.Hole{At: f.To(h.At), Diameter: h.Diameter, Top: top, Bottom: bottom})
	}
	return all
}

// safe is the height of all that stands on the board.
func safe(set *program.Setup) float64 {
	high := set.Stock.Top
	for _, pin := range set.Pins {
		high = max(high, pin.Top)
	}
	for _, c := range set.Clamps {
		high = max(high, c.Top)
	}
	return high
}

// room is what the drills keep from the knife in the work, at the least.
func room(set *program.Setup) float64 {
	if len(set.Steel) == 0 {
		return 0
	}
	least := math.Inf(1)
	for _, h := range set.Holes {
		least = min(least, program.Room(set.Steel, []r2.Vec{h.At}, h.Diameter/2))
	}
	return least
}

// hold says how the work is held.
func hold(s *layout.Sheath, p Place, n said) string {
	m := s.Knife.Spec.Mill
	text := "clamps on the four corners of the rim of waste, as stated"
	switch {
	case m.Hold == measures.Vacuum && m.Clamp == 0:
		text = "vacuum, or tape, under all of the rim, of waste and sheath; no clamp is stated"
	case m.Hold == measures.Vacuum:
		text = "vacuum, or tape, under all of the rim, of waste and sheath, and " + text
	}
	if p == Pair {
		return text + ". Both sheets on each other, nothing between them at the holes; bolt each hole that is drilled where the pair could shift."
	}
	if m.Washer == 0 {
		return text + ". No washer is stated on the pins."
	}
	return text + fmt.Sprintf("; the sheath by a nut and a washer of at most %s on every pin. Tape or vacuum under the rim where that is too little.", n.length(m.Washer))
}

// clamps are pads on the corners of the formed blank, which the sheet's fall has drawn in and which has shrunk.
func clamps(s *layout.Sheath, f program.Frame) []program.Clamp {
	m, b := s.Knife.Spec.Mill, s.Blank
	if m.Clamp == 0 {
		return nil
	}
	box := s.Trim.Bounds()
	room := r2.Vec{X: b.Handling, Y: b.Handling}
	box.Min, box.Max = r2.Sub(box.Min, room), r2.Add(box.Max, room)
	var all []program.Clamp
	for _, x := range [2]float64{box.Min.X, box.Max.X - m.Clamp} {
		for _, y := range [2]float64{box.Min.Y, box.Max.Y - m.Clamp} {
			pad := r2.Box{Min: r2.Vec{X: x, Y: y}, Max: r2.Vec{X: x + m.Clamp, Y: y + m.Clamp}}
			all = append(all, program.Clamp{Box: f.Box(pad), Top: m.ClampHeight})
		}
	}
	return all
}

// raised is where the waste is formed too: over the handle behind the mouth, and over the drain beyond the trim
// line.
func raised(s *layout.Sheath, f program.Frame, top float64) []program.Raised {
	b := s.Blank.Box
	mouth := r2.Box{Min: b.Min, Max: r2.Vec{X: max(s.Mouth[0].X, s.Mouth[1].X), Y: b.Max.Y}}
	if l := s.Knife.Spec.Layout; l.Thumb > 0 {
		mouth.Max.X += l.ThumbDepth
	}
	all := []program.Raised{{Box: f.Box(mouth), Top: top}}
	plug := s.Plug()
	if s.Plate != nil {
		plug = s.Plate.Drain
	}
	if plug.Max.X > plug.Min.X {
		all = append(all, program.Raised{Box: f.Box(plug), Top: top})
	}
	return all
}

// said says lengths in a program's units.
type said struct{ inch bool }

func (u said) length(mm float64) string {
	if u.inch {
		return shortest(mm/25.4, 4) + " in"
	}
	return shortest(mm, 3) + " mm"
}

// shortest is a number with so many decimals at most, and never -0.
func shortest(x float64, decimals int) string {
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(x*scale)/scale+0, 'f', -1, 64)
}
