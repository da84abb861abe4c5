package program

import (
	"bytes"
	"fmt"
	"math"
	"strings"

	"formbuck/buck/program/ngc"
)

// Program is a program as written and proved.
type Program struct {
	Text     []byte
	Rates    Rates
	Proof    *Proof
	Warnings []string
}

// DrillOptions say how holes are drilled. The zero value works.
type DrillOptions struct {
	Material Material
	Rates    Rates
	Peck     float64 // mm; 0: half of the drill's diameter where a hole is deeper than the drill is wide; under 0: none
	Over     float64 // how far over the sheet feeding begins, mm; 0: 2 (common practice, no source)
	Through  float64 // how far the drill's full width passes the sheet, mm; 0: 1
}

// Drill writes a program that drills the set-up's holes, in their order, and proves it. The error is a
// *Fault, or ngc.Faults where the program does not prove.
func Drill(s Setup, o DrillOptions) (*Program, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if !s.Tool.Drill() {
		return nil, fault("holes want a drill, and tool %d has no point", s.Tool.Number)
	}
	if len(s.Holes) == 0 {
		return nil, fault("there is no hole to drill")
	}
	o.fill()
	deepest := 0.0
	for _, h := range s.Holes {
		deepest = max(deepest, o.Through+s.Tool.Point()-h.Bottom)
	}
	w := &writer{numbers: numbers{s.Inch}}
	p := &Program{}
	var err error
	if p.Rates, p.Warnings, err = s.Tool.Drilling(o.Material, s.Machine, o.Rates); err != nil {
		return nil, err
	}
	s.Rates = p.Rates
	warn, err := bed(&s, deepest)
	if err != nil {
		return nil, err
	}
	p.Warnings = append(p.Warnings, warn...)
	what := []string{
		fmt.Sprintf("RATES for %s: %g rpm, %s at the rim, at most %s; feed %s/min, %s per revolution, %s to %s. Source: %s",
			o.Material.Name, p.Rates.Speed, w.rim(s.Tool.Surface(p.Rates.Speed)), w.rim(o.Material.DrillSpeed), w.said(p.Rates.Feed),
			w.said(p.Rates.Feed/p.Rates.Speed), w.said(o.Material.DrillFeed.Least), w.said(o.Material.DrillFeed.Most), o.Material.Source),
	}
	if deepest > 0 {
		what = append(what, fmt.Sprintf("DEPTH: the drill goes %s into the board, %s of it its point", w.said(deepest), w.said(s.Tool.Point())))
	}
	for _, text := range p.Warnings {
		what = append(what, "WARNING: "+text)
	}
	w.head(&s, what)
	if !s.Plain {
		w.line("G98")
	}
	w.spin(&s, p.Rates.Speed)
	w.line("%s", w.feed(p.Rates.Feed))
	for _, h := range s.Holes {
		w.hole(&s, h, o)
	}
	if !s.Plain {
		w.line("G80")
	}
	w.foot(&s)
	p.Text = []byte(w.text.String())
	return p, p.prove(&s)
}

// fill fills in what is 0.
func (o *DrillOptions) fill() {
	if o.Material.Name == "" {
		o.Material = Materials()[0]
	}
	if o.Over == 0 {
		o.Over = 2
	}
	if o.Through == 0 {
		o.Through = 1
	}
}

// hole writes one hole, with all its words: a line that is lost takes one hole with it, and no more.
func (w *writer) hole(s *Setup, h Hole, o DrillOptions) {
	bottom := h.Bottom - s.Tool.Point() - o.Through
	start := min(h.Top+o.Over, s.Safe)
	peck := o.Peck
	if peck == 0 && h.Top-bottom > s.Tool.Diameter {
		peck = s.Tool.Radius()
	}
	if s.Plain {
		w.bore(s, h, bottom, start, peck)
		return
	}
	cycle, q := 81, ""
	if peck > 0 {
		cycle, q = 83, " Q"+w.length(peck)
	}
	w.line("G%d X%s Y%s Z%s R%s%s", cycle, w.length(h.At.X), w.length(h.At.Y), w.length(bottom), w.length(start), q)
}

// thin is what has to be left of the board under the tool, in mm (common practice, no source).
const thin = 2

// bed looks whether the tool stays in the board: the error is a *Fault where it does not.
func bed(s *Setup, deepest float64) ([]string, error) {
	left := s.Stock.Board - deepest
	switch {
	case deepest <= 0:
		return nil, nil
	case left <= 0:
		return nil, fault("the tool would go %.3f mm under the sheet%s, and the board is %g mm thick", deepest, pointed(s.Tool), s.Stock.Board)
	case left < thin:
		return []string{fmt.Sprintf("the tool goes %.3f mm into the board%s, and leaves %.3f mm of it", deepest, pointed(s.Tool), left)}, nil
	}
	return nil, nil
}

// pointed says how long a drill's point is.
func pointed(t Tool) string {
	if !t.Drill() {
		return ""
	}
	return fmt.Sprintf(", its point being %.3f mm long", t.Point())
}

// prove proves a program just written against the set-up it was written from: what it states has to be
// that.
func (p *Program) prove(s *Setup) error {
	read, err := ngc.Read("program", bytes.NewReader(p.Text))
	if err != nil {
		return err
	}
	if p.Proof, err = Prove(read); err != nil {
		return err
	}
	for _, m := range read.Motions {
		if m.Kind != ngc.Rapid && math.Abs(m.Speed-p.Rates.Speed) > 0.5 {
			return fault("line %d feeds at %g rpm, and %g were meant", m.Line, m.Speed, p.Rates.Speed)
		}
	}
	n := numbers{s.Inch}
	if was, is := strings.Join(s.comments(n), "\n"), strings.Join(p.Proof.Setup.comments(n), "\n"); was != is {
		return fault("the set-up reads otherwise than it was written")
	}
	return nil
}
