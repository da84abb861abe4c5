package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"formbuck/buck"
	"formbuck/buck/measures"

	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"
	"gonum.org/v1/gonum/spatial/r2"
)

const drawLong = `Say whether the knife comes out of the sheath that is formed over the variant's buck: what
would bind without the ramps, what is left with them, what locks, what keeps the knife from
rattling, and what its pieces do to the sheet. Without VARIANT.toml the demo knife is drawn.

The knife is drawn straight, along x turned by ramp.cant; with --arc X,Y along circles about
that point of the blade's axes, in mm. Ramps are made for a straight draw only: with --arc this
tells whether the buck as it is lets the knife out. Each half of the sheath may give way by
0.05 mm, and its walls by 0.2 mm to the side, without anything counting; a lock that ramp.lock
asks for is no bind. Every place over 0.25 mm2 counts that lies beside the edge or where a half
has to open by more than 0.3 mm, and every other place over 2 mm2; smaller ones are reported as rubbing.
The depth of an undercut is that of the bare knife, with nothing allowed for: it is the same here,
on the page and at the piece that fills it. How well the sheath holds is told in times the
knife's own weight, from its lock and friction: 3 times and more at the least is good.

Forces and strains are those of a strip of PVC/acrylic alloy from eyelet to eyelet, between
ends that give (pinned) and ends that do not (clamped): a bracket, not a promise.

The exit status is 0 where the knife draws freely and 1 where it binds; either way the answer
is given. With --json it is one line with the keys variant, hand, arc_mm, free, binds, rubs,
without_ramps, filled_mm3, removed_mm, lock, hold, boss and drain; what does not apply is
null.`

const drawExample = `  formbuck draw                                   the demo knife
  formbuck draw hunter.toml                       does it draw, and if not, what to change
  formbuck draw hunter.toml --picture draw.png    where it binds, in colour
  formbuck draw hunter.toml --sections cut.png --at 10,45
  formbuck draw hunter.toml --strip out.png       the knife leaving its sheath
  formbuck draw hunter.toml --arc 60,140          a curved blade, drawn along an arc
  formbuck draw hunter.toml --json | jq .binds`

// The cells that draw may be told to look at: time and memory go up with their number, and cells wider
// than a sheet's half thickness see too little.
const leastStep, mostStep = 0.05, 0.5

// drawFlags are the flags of draw.
type drawFlags struct {
	hand                     choices
	arc                      spot
	at                       lengths
	step                     positive
	picture, sections, strip string
	force, json, unfinished  bool
}

func newDraw(a *app) *cobra.Command {
	f := drawFlags{hand: choices{of: handNames(), single: true}}
	cmd := &cobra.Command{
		Use:     "draw [VARIANT.toml]",
		Short:   "Say whether the knife comes out of its sheath, and what binds",
		Long:    drawLong,
		Example: drawExample,
		Args:    positional("VARIANT.toml", 0, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if f.step != 0 && (f.step < leastStep || f.step > mostStep) {
				return misuse(cmd, "--step takes %g to %g mm, found %s", leastStep, mostStep, f.step.String())
			}
			var o order
			if len(args) > 0 {
				o.variant = args[0]
			}
			o.options.Unfinished = f.unfinished
			return a.draw(o, f)
		},
	}
	flags := cmd.Flags()
	flags.Var(&f.hand, "hand", "draw from the sheath of this hand: "+oneOf(handNames())+" (default: the variant's first)")
	flags.Var(&f.arc, "arc", "draw along circles about this point of the blade's axes, in mm, such as 60,140")
	flags.Var(&f.step, "step", "look at cells this wide, 0.05 to 0.5 mm (default 0.1)")
	flags.StringVar(&f.picture, "picture", "", "draw a plan of where it binds into the new file `FILE.png`")
	flags.StringVar(&f.sections, "sections", "", "draw sections across the blade into the new file `FILE.png`")
	flags.Var(&f.at, "at", "let --sections show these x, in mm, such as 10,45 (default: the telling ones)")
	flags.StringVar(&f.strip, "strip", "", "draw the knife leaving its sheath into the new file `FILE.png`")
	flags.BoolVar(&f.force, "force", false, "let the pictures overwrite files")
	unfinishedFlag(flags, &f.unfinished)
	flags.BoolVar(&f.json, "json", false, "answer with one line of JSON")
	complete(cmd, "hand", handNames())
	return cmd
}

// draw answers for one variant.
func (a *app) draw(o order, f drawFlags) error {
	d, err := design(o)
	if err != nil {
		return err
	}
	a.notes(d.Notes()...)
	how := buck.DrawOptions{Step: float64(f.step), Centre: f.arc.at}
	if len(f.hand.chosen) > 0 {
		how.Hand = measures.Hand(f.hand.chosen[0])
	}
	drawn, err := d.Draw(how)
	if err != nil {
		return err
	}
	if err := drawPictures(drawn, f); err != nil {
		return err
	}
	if f.json {
		err = a.answerJSON(drawAnswerOf(d.Name(), drawn.Hand, drawn.Report))
	} else {
		holds := trimmed(text.WrapSoft(fmt.Sprintf("the sheath %s; test each", drawn.Report.Held), screen))
		a.printf("%s: %s\n%s\n%s\n", d.Name(), drawn.Report.Verdict(), holds, drawTable(drawn.Report))
	}
	for _, warning := range drawn.Warnings {
		a.warn(warning)
	}
	return errors.Join(err, drawn.Binds())
}

// drawPictures writes the pictures that were asked for.
func drawPictures(d *buck.Draw, f drawFlags) error {
	for _, p := range []struct {
		file string
		draw func(io.Writer) error
	}{
		{f.picture, d.Map},
		{f.sections, func(to io.Writer) error { return d.Sections(to, f.at...) }},
		{f.strip, d.Strip},
	} {
		if p.file == "" {
			continue
		}
		var b bytes.Buffer
		if err := p.draw(&b); err != nil {
			return fmt.Errorf("%s: %w", p.file, err)
		}
		if err := written(p.file, b.Bytes(), f.force); err != nil {
			return err
		}
	}
	return nil
}

// spot is a flag that takes a point.
type spot struct{ at *r2.Vec }

// String is the point as it would be written.
func (s *spot) String() string {
	if s.at == nil {
		return ""
	}
	return fmt.Sprintf("%g,%g", s.at.X, s.at.Y)
}

// Type is the name of the value in a usage line.
func (s *spot) Type() string { return "X,Y" }

// Set reads the point.
func (s *spot) Set(text string) error {
	var l lengths
	if err := l.Set(text); err != nil || len(l) != 2 {
		return errors.New("expected two numbers of mm with a comma between them")
	}
	s.at = &r2.Vec{X: l[0], Y: l[1]}
	return nil
}

// lengths is a flag that takes numbers of mm, with commas between them.
type lengths []float64

// String is the numbers as they would be written.
func (l *lengths) String() string {
	var words []string
	for _, x := range *l {
		words = append(words, strconv.FormatFloat(x, 'g', -1, 64))
	}
	return strings.Join(words, ",")
}

// Type is the name of the value in a usage line.
func (l *lengths) Type() string { return "X,..." }

// Set reads the numbers.
func (l *lengths) Set(text string) error {
	*l = nil
	for word := range strings.SplitSeq(text, ",") {
		x, err := strconv.ParseFloat(strings.TrimSpace(word), 64)
		if err != nil || !(x > -1e4 && x < 1e4) || len(*l) == 12 {
			return errors.New("expected up to 12 numbers of mm with commas between them")
		}
		*l = append(*l, x)
	}
	return nil
}
