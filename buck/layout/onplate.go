package layout

import (
	"fmt"
	"math"

	"formbuck/buck/fixture/plate"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// stated is by how much a plate's file may be out, which states millionths, and a line that arcs were fitted to, mm.
const (
	stated  = 2e-6
	covered = 3 * fitted // derived: a line's arcs, fitted three times
)

// onPlate lays a sheath out on a plate that was made: it takes the plate's places, and refuses a buck that they are too
// near to, or that the plate was not made for.
func onPlate(g *ground) (*Sheath, error) {
	p := g.knife.Spec.Fixture.Made
	if err := fits(g, p); err != nil {
		return nil, err
	}
	s := &Sheath{Knife: g.knife, Way: g.way, Plate: p, drain: g.drain, ground: g, Gauge: p.Sheet, Height: p.Height}
	s.Trim = p.Line()
	s.Mouth, s.Blank = p.Mouth, Blank{
		Box: p.Blank.Box, Length: p.Blank.Length, Width: p.Blank.Width, TurnedLength: p.Blank.Turned[0], TurnedWidth: p.Blank.Turned[1],
		DrawnIn: p.Blank.DrawnIn, Handling: p.Blank.Handling, Stretch: p.Blank.Stretch, Extrusion: p.Blank.Extrusion,
	}
	box := aligned(grown(g.knife.Plan.Outline.Bounds(), g.widest()))
	if err := s.checkMouth(); err != nil {
		return nil, err
	}
	if err := s.extraHoles(g); err != nil {
		return nil, err
	}
	var err error
	if s.Fold, err = traced(g.parts(), aligned(s.beyond(box)), cell, window); err != nil {
		return nil, err
	}
	if s.Line, err = s.eyeletLine(g, aligned(s.beyond(box))); err != nil {
		return nil, err
	}
	if err := s.sameHoles(p); err != nil {
		return nil, err
	}
	for _, e := range p.Eyelets {
		s.Eyelets = append(s.Eyelets, s.eyelet(g, e.At, e.Side, 0))
	}
	s.runs()
	for _, pin := range p.Pins {
		s.Pins = append(s.Pins, Pin{At: s.Eyelets[pin.Eyelet].At, Eyelet: pin.Eyelet, Diameter: pin.Diameter, Check: pin.Check})
	}
	if err := s.serves(g, box); err != nil {
		return nil, err
	}
	if err := stands(g, p); err != nil {
		return nil, err
	}
	for i := range s.Eyelets {
		s.Eyelets[i].Edge = s.Trim.Distance(s.Eyelets[i].At)
	}
	s.findOutlet(g.drain)
	s.posts(g)
	s.adviseOnFlare(g.bosses)
	return s, nil
}

// OutlineOf tells a knife from another, for a plate.
func OutlineOf(k *pieces.Buck) plate.Outline {
	return plate.Outline{Length: k.Plan.Outline.Perimeter(), Area: k.Plan.Outline.Area(), Tip: k.Plan.Tip}
}

// another is what would do in any case.
const another = " or plan a plate that serves it too: formbuck fixture, with its file among the others"

// unserved is why a plate does not serve a variant.
func unserved(key, mend, format string, args ...any) error {
	return &measures.Fault{Key: key, What: "the plate does not serve this variant: " + fmt.Sprintf(format, args...), Mend: mend + another}
}

// fits refuses a plate that was made for another knife or other eyelets.
func fits(g *ground, p *plate.Plate) error {
	e := g.knife.Spec.Eyelet
	switch differs := p.Differs(OutlineOf(g.knife)); {
	case differs != "":
		return unserved("fixture.plate", "name another plate,", "%s", differs)
	case (plate.Eyelet{Hole: e.Hole, Flange: e.Flange, Die: e.Die}) != p.Eyelet:
		return unserved("fixture.plate", "give the eyelets of the plate,", "its eyelets have holes, flanges and dies of %.4g, %.4g and %.4g mm, and the variant's %.4g, %.4g and %.4g",
			p.Eyelet.Hole, p.Eyelet.Flange, p.Eyelet.Die, e.Hole, e.Flange, e.Die)
	}
	return nil
}

// stands refuses sheet, handle and buck that are thicker or higher than the plate's supports, pins and programs are for.
func stands(g *ground, p *plate.Plate) error {
	b := g.blank(p.Line())
	switch {
	case g.sheet() > p.Sheet+stated:
		return unserved("sheet.thickness", fmt.Sprintf("at most %.4g mm will do,", p.Sheet), "its supports and programs are for sheet of up to %.4g mm, %.3f mm less than this", p.Sheet, g.sheet()-p.Sheet)
	case g.knife.Spec.Thickest() > p.Handle+stated:
		return unserved("handle.thickness", fmt.Sprintf("at most %.4g mm will do,", p.Handle), "its pins and strap are for handles of up to %.4g mm, %.3f mm less than this", p.Handle, g.knife.Spec.Thickest()-p.Handle)
	case g.tallest() > p.Height+stated:
		return unserved("fixture.plate", "less handle.thickness or standoff.height would do,", "the buck is %.3f mm high over its middle plane, and the plate was made for %.3f mm: %.3f mm too much",
			g.tallest(), p.Height, g.tallest()-p.Height)
	case b.Length > p.Blank.Length+stated+covered || b.Width > p.Blank.Width+stated+covered:
		return unserved("fixture.plate", "less handle.thickness would do,", "it asks for a blank of %.2f x %.2f mm, and the plate's is %.2f x %.2f mm", b.Length, b.Width, p.Blank.Length, p.Blank.Width)
	}
	return nil
}

// sameHoles refuses holes for other mounts that are not the plate's.
func (s *Sheath) sameHoles(p *plate.Plate) error {
	same := len(s.Holes) == len(p.Holes)
	for i, h := range s.Holes {
		same = same && h.Name == p.Holes[i].Name && r2.Norm(r2.Sub(h.At, p.Holes[i].At)) < stated && math.Abs(h.Diameter-p.Holes[i].Diameter) < stated
	}
	if !same {
		return &measures.Fault{Key: "layout.holes", What: fmt.Sprintf("the plate does not serve this variant: it was made for %d holes for other mounts, and the variant has others", len(p.Holes)), Mend: "give the plate's holes, or plan another plate"}
	}
	return nil
}

// serves refuses a buck that an eyelet of the plate or its trim line is too near to. Of several places it tells of the
// worst.
func (s *Sheath) serves(g *ground, box r2.Box) error {
	worst, short := 0.0, -1
	plug, free := g.plug.Surface(), s.soft(g)
	for i := range s.Eyelets {
		e := &s.Eyelets[i]
		if v, _ := plug(e.At); v-g.reach-e.Error < e.Spare {
			e.Spare, e.Governs = v-g.reach-e.Error, Outlet
		}
		if e.Spare < worst-stated {
			worst, short = e.Spare, i
		}
	}
	if short >= 0 {
		e := s.Eyelets[short]
		what := fmt.Sprintf("the plate does not serve this variant: eyelet %d of the plate is %.2f mm too near to the %s", short+1, -worst, s.Knife.Spec.Blade.Told(string(e.Governs)))
		if n := s.shorts(); n > 1 {
			what += fmt.Sprintf(", and %d others are too near", n-1)
		}
		return &measures.Fault{Key: "fixture.plate", At: &e.At, What: what, Mend: eases(e.Governs) + "," + another}
	}
	for i, e := range s.Eyelets {
		if !free(e.At) {
			return &measures.Fault{Key: "fixture.plate", At: &e.At, What: fmt.Sprintf("the plate does not serve this variant: eyelet %d of the plate lies under the clip, or where none may be", i+1), Mend: "a shorter clip would do," + another}
		}
	}
	wide, err := s.covered(g, box)
	if err != nil {
		return err
	}
	return s.trimServes(wide)
}

// trimServes looks whether the plate's trim line leaves the rim that is asked for, a mm apart, but for the corners at the
// mouth, which are rounded, and the drain.
func (s *Sheath) trimServes(wide func(r2.Vec) (float64, r2.Vec)) error {
	open := s.opening()
	spec := s.Knife.Spec
	path, n := s.Trim.Path(), math.Ceil(s.Trim.Perimeter())
	worst, at := 0.0, r2.Vec{}
	for i := range int(n) {
		p := path.At(float64(i) / n)
		if in, _ := open(p); in > -spec.Layout.Corner-spec.EdgeDistance() {
			continue
		}
		if v, _ := wide(p); v < worst {
			worst, at = v, p
		}
	}
	if -worst > covered+stated {
		return &measures.Fault{Key: "fixture.plate", At: &at, What: fmt.Sprintf("the plate does not serve this variant: its trim line leaves %.2f mm less rim than is asked for", -worst), Mend: "less layout.rim would do," + another}
	}
	return nil
}

// shorts is how many eyelets are too near.
func (s *Sheath) shorts() int {
	n := 0
	for _, e := range s.Eyelets {
		if e.Spare < -stated {
			n++
		}
	}
	return n
}

// eases says what would have to change so that a demand asks for less.
func eases(d Demand) string {
	switch d {
	case Boss:
		return "a lower boss would do: less handle.thickness or clip.clearance, or the boss moved by standoff.x and standoff.y"
	case Handle:
		return "less handle.thickness would do"
	case Ramp:
		return "less sheet.thickness, or handle.thickness where it passes over the ramp, would do"
	case Guard:
		return "less layout.edge_guard would do"
	case Outlet:
		return "less drain.diameter or drain.taper would do"
	default:
		return "less sheet.thickness, blade.thickness or tape would do"
	}
}

// runs tells the plate's eyelets as rows, by their sides.
func (s *Sheath) runs() {
	for i, e := range s.Eyelets {
		if i == 0 || e.Side != s.Eyelets[i-1].Side {
			s.Runs = append(s.Runs, Run{Side: e.Side})
		}
		r := &s.Runs[len(s.Runs)-1]
		if r.Count > 0 {
			r.Length += r2.Norm(r2.Sub(e.At, s.Eyelets[i-1].At))
			r.Pitch = r.Length / float64(r.Count)
		}
		s.Eyelets[i].Along = r.Length
		r.Count++
	}
}
