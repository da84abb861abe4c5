package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"formbuck/buck/program"
	"formbuck/buck/program/ngc"
	"formbuck/buck/program/runs"

	"github.com/spf13/cobra"
)

const proveLong = `Prove that an RS-274 program does no harm to the sheath, the pins and the clamps.

The program is read anew, whoever wrote or changed it. Its head has to state its set-up in
comments that begin with SET-UP, as the programs of make do: the tool, its speed and feeds and
the machine's, how deep a cutter's passes are, the safe height, the stock and the board under
it, what holds it, the sheath's line, holes, pins and clamps. Then it is proved

  that before it moves it sets all modes that the machine may have been left in, lets the path
  be rounded by no more than 0.005 mm (G64 P, or G61), and changes none of it later,
  that the tool is that of the set-up, put in by T and M6 or named by no word at all, and that
  tool and spindle are seen to at the safe height,
  that the cutter keeps off the line by its radius, less 0.005 mm, that a drill goes down in
  stated holes alone, that nothing touches a pin, a clamp or a hole that is there already, or
  goes down beside the stock, and that rapids cross at the safe height,
  that no feed is faster, no plunge steeper and no spindle slower than is stated, that what is
  stated is within what tool and machine can do, and that no pass is deeper,
  that something holds the work, that the tool stays in the board, that its flutes reach over
  the work, that every hole is drilled through and the whole line cut.

What is read is a plain subset of RS274/NGC: G0-4, 17, 20, 21, 40, 49, 54, 61, 64, 80-83, 90,
91, 91.1, 94, 98, 99, M0, 2, 3, 5-9, 30, F, S, T. Every other word is refused, and so is a
canned cycle whose words do not go together, a comment that controls carry out, such as MSG,
and what is not printable ASCII.

The proof knows nothing of the tool's holder, of how firmly the work is held, and of the
machine. Run the program once in the air, above the work. Local rules and the machine's own
manual come first.

A run of batch, which is many programs with a stop after each, is proved work by work.

With --json the answer is one line with the keys file, units, lines, tools, tool, extents_mm,
cutting_s, rapid_s, motions, holes, drilled, closest_mm, proved and faults. With --moves every
motion is listed instead: line, kind, x, y, z in mm, with a dash for what the program has not
stated yet, and the centre of an arc.`

const proveExample = `  formbuck prove hunter/hunter-drill.ngc
  formbuck prove --json hunter/hunter-trim.ngc | jq .closest_mm
  formbuck prove --moves hunter/hunter-drill.ngc`

// proveEntry is what prove says of a program.
type proveEntry struct {
	File    string       `json:"file"`
	Units   string       `json:"units"`
	Lines   int          `json:"lines"`
	Tools   []int        `json:"tools"`
	Tool    *toolEntry   `json:"tool"`
	Extents *box3        `json:"extents_mm"`
	Cutting float64      `json:"cutting_s"`
	Rapid   float64      `json:"rapid_s"`
	Motions int          `json:"motions"`
	Holes   int          `json:"holes"`
	Drilled int          `json:"drilled"`
	Closest *float64     `json:"closest_mm"`
	Proved  bool         `json:"proved"`
	Faults  []proveFault `json:"faults"`
	rapids  float64
	closest int // line
	pins    int
	clamps  int
	safe    float64
}

type toolEntry struct {
	Kind     string   `json:"kind"`
	Diameter float64  `json:"diameter_mm"`
	Point    *float64 `json:"point_deg,omitempty"`
}

type box3 struct {
	Min [3]float64 `json:"min"`
	Max [3]float64 `json:"max"`
}

type proveFault struct {
	Line    int    `json:"line"`   // 0: the file as a whole
	Column  int    `json:"column"` // 0: the line as a whole
	Message string `json:"message"`
}

func newProve(a *app) *cobra.Command {
	var asJSON, moves bool
	cmd := &cobra.Command{
		Use:     "prove FILE.ngc",
		Short:   "Prove that a program does no harm to the sheath, pins and clamps",
		Long:    proveLong,
		Example: proveExample,
		Args:    positional("FILE.ngc", 1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if asJSON && moves {
				return misuse(cmd, "--json and --moves exclude each other")
			}
			if err := mistaken(args[0], ".ngc"); err != nil {
				return err
			}
			works, err := input(args[0], func(from io.Reader) ([]runs.Work, error) { return runs.Read(args[0], from) })
			a.notes(fmt.Sprintf("%s: read %s", args[0], count(len(works), "work")))
			switch {
			case err != nil:
				return a.unread(args[0], err, asJSON)
			case moves:
				for _, w := range works {
					a.moves(w.Program)
				}
				return nil
			case len(works) > 1:
				return a.proveRun(args[0], works, asJSON)
			default:
				return a.prove(args[0], works[0], asJSON)
			}
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "answer with one line of JSON")
	cmd.Flags().BoolVar(&moves, "moves", false, "list every motion instead")
	return cmd
}

// unread answers for a file that cannot be read as a program.
func (a *app) unread(file string, err error, asJSON bool) error {
	e := &proveEntry{File: file, Tools: []int{}}
	if asJSON && e.refuse(err) {
		return errors.Join(a.answerJSON(e), err)
	}
	return err
}

// prove proves one program.
func (a *app) prove(file string, w runs.Work, asJSON bool) error {
	entry, fault := proved(file, w.Program)
	if asJSON {
		return errors.Join(a.answerJSON(entry), fault)
	}
	a.printf("%s", entry.text())
	return fault
}

// proveRun proves every work of a run. Works with the same program, apart from where it stands in the run, are proved
// each: a run may have been changed by hand.
func (a *app) proveRun(file string, works []runs.Work, asJSON bool) error {
	type named struct {
		Work string `json:"work"`
		*proveEntry
	}
	var all []named
	var faults []error
	for _, w := range works {
		entry, fault := proved(file, w.Program)
		if fault != nil {
			faults = append(faults, fault)
		}
		all = append(all, named{Work: w.Name, proveEntry: entry})
	}
	if asJSON {
		return errors.Join(append(faults, a.answerJSON(struct {
			File   string  `json:"file"`
			Proved bool    `json:"proved"`
			Works  []named `json:"works"`
		}{file, len(faults) == 0, all}))...)
	}
	minutes, good := 0.0, 0
	for i, one := range all {
		minutes += (one.Cutting + one.Rapid) / 60
		verdict := "NOT proved"
		if one.Proved {
			verdict = "proved"
			good++
		}
		a.printf("  work %d, line %d: %s: %s, %.1f min\n", i+1, works[i].Line, one.Work, verdict, (one.Cutting+one.Rapid)/60)
	}
	a.printf("%s: a run of %d works, %d of them proved, %.1f min\n", file, len(works), good, minutes)
	return errors.Join(faults...)
}

// proved proves a program that was read.
func proved(file string, p *ngc.Program) (*proveEntry, error) {
	e := &proveEntry{File: file, Tools: []int{}}
	proof, err := program.Prove(p)
	e.fill(p, proof)
	e.refuse(err)
	return e, err
}

// refuse takes the faults of a program, and tells whether they are its own.
func (e *proveEntry) refuse(err error) bool {
	var faults ngc.Faults
	own := errors.As(err, &faults)
	e.Faults = []proveFault{}
	for _, f := range faults {
		e.Faults = append(e.Faults, proveFault{Line: f.Line, Column: f.Column, Message: f.What})
	}
	e.Proved = err == nil
	return own
}

// fill takes what was found.
func (e *proveEntry) fill(p *ngc.Program, proof *program.Proof) {
	e.Units, e.Lines, e.Motions = "mm", p.Lines, len(p.Motions)
	if p.Inch {
		e.Units = "in"
	}
	e.Tools = append(e.Tools, p.Tools...)
	e.Cutting, e.Rapid = figure(proof.Cutting), figure(proof.Over)
	if lo, hi := vector(proof.Box.Min), vector(proof.Box.Max); !math.IsInf(lo[0]+lo[1]+lo[2], 0) {
		e.Extents = &box3{Min: lo, Max: hi}
	}
	s := proof.Setup
	e.Holes, e.Drilled, e.pins, e.clamps, e.safe = len(s.Holes), proof.Drilled, len(s.Pins), len(s.Clamps), s.Safe
	if e.rapids = s.Rapid; e.rapids <= 0 {
		e.rapids = program.UsualRapid
	}
	if s.Tool.Diameter > 0 {
		e.Tool = &toolEntry{Kind: "cutter", Diameter: figure(s.Tool.Diameter)}
		if s.Tool.Drill() {
			point := figure(s.Tool.PointDeg)
			e.Tool.Kind, e.Tool.Point = "drill", &point
		}
	}
	if !math.IsInf(proof.Closest, 0) {
		closest := figure(proof.Closest)
		e.Closest, e.closest = &closest, proof.ClosestLine
	}
}

// text is the answer for people.
func (e *proveEntry) text() string {
	var b strings.Builder
	units := e.Units
	if units == "in" {
		units = "inches"
	}
	fmt.Fprintf(&b, "%s: %s, in %s", e.File, count(e.Lines, "line"), units)
	for _, t := range e.Tools {
		fmt.Fprintf(&b, ", T%d", t)
	}
	if e.Tool != nil {
		fmt.Fprintf(&b, ", %s of %.4g mm", e.Tool.Kind, e.Tool.Diameter)
	}
	b.WriteByte('\n')
	if e.Extents != nil {
		lo, hi := e.Extents.Min, e.Extents.Max
		fmt.Fprintf(&b, "  extents   (%.3f, %.3f, %.3f) to (%.3f, %.3f, %.3f) mm\n", lo[0], lo[1], lo[2], hi[0], hi[1], hi[2])
	}
	fmt.Fprintf(&b, "  time      %.1f min: feeds %.1f min, rapids %.1f min at %.4g mm/min\n", (e.Cutting+e.Rapid)/60, e.Cutting/60, e.Rapid/60, e.rapids)
	if e.Tool != nil && e.Tool.Kind == "drill" {
		fmt.Fprintf(&b, "  holes     %d of %d drilled through\n", e.Drilled, e.Holes)
	}
	if e.Closest != nil {
		fmt.Fprintf(&b, "  closest   %.4f mm from the cutter's middle to the sheath's line, in line %d; its radius is %.4f mm\n", *e.Closest, e.closest, e.Tool.Diameter/2)
	}
	if e.Proved {
		fmt.Fprintf(&b, "  proved    keeps out of the sheath, %s, %s and %s; rapids cross at Z %.4g mm and over\n",
			count(e.Holes, "hole"), count(e.pins, "pin"), count(e.clamps, "clamp"), e.safe)
	} else {
		fmt.Fprintf(&b, "  NOT proved: %s\n", count(len(e.Faults), "fault"))
	}
	return b.String()
}

// moves lists the motions.
func (a *app) moves(p *ngc.Program) {
	said := func(v float64) string {
		if math.IsNaN(v) {
			return "-"
		}
		return fmt.Sprintf("%.6f", v+0)
	}
	for _, m := range p.Motions {
		a.printf("%d\t%s\t%s\t%s\t%s", m.Line, m.Kind, said(m.To.X), said(m.To.Y), said(m.To.Z))
		if m.Sweep() != 0 {
			a.printf("\t%s\t%s", said(m.Centre.X), said(m.Centre.Y))
		}
		a.printf("\n")
	}
}
