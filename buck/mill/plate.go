package mill

import (
	"fmt"

	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/program"
)

// What stands over the handle on a plate, mm; common practice, no source.
const (
	pinOver   = 3.0  // of a register pin, over the handle's upper face
	strapOver = 11.0 // of the strap and its screws' heads
)

// onPlate fills in the set-up of a sheath's work on the plate that was made for it. All of it is the plate's, so that
// every variant that the plate serves has the same.
func onPlate(set *program.Setup, s *layout.Sheath, place Place, f program.Frame, n said) {
	p, m := s.Plate, s.Knife.Spec.Mill
	set.Zero = "the middle of the zero hole in the plate's corner, X along the blade to its tip"
	if place != Pair {
		onBushes(set, s, place, f, n)
		set.Safe = safe(set) + m.Safe
		return
	}
	set.Stock.Sheet, set.Stock.Top, set.Stock.Board = p.Rim+2*p.Sheet, p.Rim+p.Height+2*p.Sheet, p.Size[2]
	set.Up = fmt.Sprintf("the right face, the buck in the pair, Y from the edge to the spine. Z 0 is the plate's top; the pair's flat rim lies on %d supports %s high, the lower half between them",
		len(p.Under), n.length(p.Rim))
	set.Hold = "the strap over the handle, two screws; "
	if p.Lies.Way == measures.ByHoles {
		set.Hold += "the knife's two holes on the register pins, the handle on the rest"
	} else {
		set.Hold += "the handle in the cradle"
	}
	set.Hold += ". No clamp is needed on the rim. Both sheets on each other, nothing between them at the holes."
	over := p.Rim + p.Sheet + p.Handle/2
	for i, at := range p.Lies.At {
		if d := p.Lies.Diameter[i]; d > 0 {
			set.Pins = append(set.Pins, program.Pin{At: f.To(at), Diameter: d, Top: over + pinOver})
		}
	}
	set.Clamps = []program.Clamp{{Box: p.Strap, Top: over + strapOver}}
	set.Holes = holes(s, f, p.Eyelet.Hole, set.Stock.Sheet, p.Rim)
	set.Raised = raised(s, f, set.Stock.Top)
	set.Steel = steel(s, f)
	set.Room = room(set)
	set.Safe = safe(set) + m.Safe
}

// onBushes fills in the set-up of a half that lies on bushes through its eyelets' holes.
func onBushes(set *program.Setup, s *layout.Sheath, place Place, f program.Frame, n said) {
	p, m := s.Plate, s.Knife.Spec.Mill
	set.Stock.Sheet, set.Stock.Top, set.Stock.Board = p.Sheet, p.Height+p.Sheet, p.Spoil
	set.Up = fmt.Sprintf("the right half, formed side up, its flat rim on the spoil sheet, %s thick on the plate, whose top is Z 0", n.length(p.Spoil))
	if place == LeftHalf {
		set.Up = fmt.Sprintf("the left half, formed side up, overturned about the blade's axis: Y goes from the spine to the edge. Its flat rim lies on the spoil sheet, %s thick on the plate, whose top is Z 0", n.length(p.Spoil))
	}
	set.Vacuum = true
	set.Hold = fmt.Sprintf("the sheath by a screw and a washer of at most %s in each bush; the waste by tape on the spoil sheet, under all of the rim", n.length(m.Washer))
	for _, pin := range s.Pins {
		set.Pins = append(set.Pins, program.Pin{At: f.To(pin.At), Diameter: pin.Diameter, Top: m.PinHeight, Washer: m.Washer})
	}
	set.Holes = holes(s, f, p.Eyelet.Hole, p.Sheet, 0)
	set.Raised = raised(s, f, set.Stock.Top)
}
