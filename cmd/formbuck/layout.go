package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"

	"formbuck/buck"
	"formbuck/buck/layout"
	"formbuck/cmd/internal/disk"

	"github.com/spf13/cobra"
)

const layoutLong = `Lay out the sheath around a variant's buck: where its eyelets may be, how near to the knife
each of them and why no nearer, the trim line, the blanks to cut, the pins to locate the halves
by, and the holes of the posts. Without VARIANT.toml the demo knife's sheath is laid out.

The sheet falls from the buck in two bends and lies flat on the other half at a distance that
depends on how high the buck is there. That is worked out for every section, with tape,
ramps and boss; an eyelet's flange and its setting die stay clear of it by layout.clearance,
and of the cutting edge by layout.edge_guard. Eyelets are spaced evenly between the mouth and
the drain.

make writes the layout as a drawing (DXF) and a picture (SVG) beside the pieces; --dxf and
--svg write them alone, and --ngc the programs for the mill. Drawing and picture are in mm, in the blade's frame: x from the butt to the tip, y
from the edge to the spine, seen on the right face. The left half lies on the machine turned over
about the blade's axis: there its y is negated.

How the pair lies on the mill, its buck in it, is fixture.register. By how much each hole can be off
for it is worked out from fits and distances and is part of the hole's margin; what every way costs in
mm and in mm2 of sheath is told. Eyelets lie on a grid of 0.05 mm from the knife's tip, which is the
programs' zero: it stays where it is whatever is asked of the sheath.

It is compared with the rule of thumb: one edge distance, of 1.25 to 2 diameters of the hole, from
the knife's outline to the eyelets and from there to the trim line. What is saved is told, and
where the rule would have put eyelets nearer to the knife than is safe.

Where no screw in stock fits the posts that is a warning: their holes do not depend on it.

The programs are: drill the pair as one; drill the holes of the posts, for each hand; trim the right
half and the left. Each states its set-up in its first lines, and was proved, as the verb prove
does, before it was written. Local rules and the machine's own manual come first.

With --json the answer is one line with the keys variant, eyelets, runs, trim, blank, pins,
posts, holes, flare_mm, screws, outlet_mm, programs, rule_of_thumb, ways and plate.`

const layoutExample = `  formbuck layout                              the demo knife's sheath
  formbuck layout hunter.toml                  its eyelets, and what keeps each from being nearer
  formbuck layout hunter.toml --svg out.svg    a picture that prints 1:1
  formbuck layout hunter.toml --dxf out.dxf    a drawing for the machine
  formbuck layout hunter.toml --ngc mill       its programs, into the folder mill
  formbuck layout hunter.toml --json | jq .blank`

// layoutFlags are the flags of layout.
type layoutFlags struct {
	hands       choices
	dxf, svg    string
	ngc         string
	force, json bool
	unfinished  bool
}

func newLayout(a *app) *cobra.Command {
	f := layoutFlags{hands: choices{of: handNames()}}
	cmd := &cobra.Command{
		Use:     "layout [VARIANT.toml]",
		Short:   "Lay out the sheath: eyelets, trim line, blank, post holes",
		Long:    layoutLong,
		Example: layoutExample,
		Args:    positional("VARIANT.toml", 0, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			var file string
			if len(args) > 0 {
				file = args[0]
			}
			o := orderOf(file, f.hands, choices{})
			o.options.Unfinished = f.unfinished
			return a.layout(o, f)
		},
	}
	flags := cmd.Flags()
	flags.Var(&f.hands, "hand", "lay out for this hand only: "+oneOf(handNames())+"; may be repeated")
	flags.StringVar(&f.dxf, "dxf", "", "write the layout into the new drawing `FILE.dxf`")
	flags.StringVar(&f.svg, "svg", "", "write it as a picture that prints 1:1 into the new file `FILE.svg`")
	flags.StringVar(&f.ngc, "ngc", "", "write the programs for the mill into the folder `FOLDER`")
	flags.BoolVar(&f.force, "force", false, "let the files overwrite others")
	unfinishedFlag(flags, &f.unfinished)
	flags.BoolVar(&f.json, "json", false, "answer with one line of JSON")
	complete(cmd, "hand", handNames())
	return cmd
}

// layout answers for one variant.
func (a *app) layout(o order, f layoutFlags) error {
	d, err := design(o)
	if err != nil {
		return err
	}
	a.notes(d.Notes()...)
	l, err := d.Layout(o.options)
	if err != nil {
		return err
	}
	if err := layoutFiles(l, f); err != nil {
		return err
	}
	s := l.Sheath
	ways, err := l.Ways()
	if err != nil {
		return err
	}
	if f.json {
		err = a.answerJSON(layoutAnswerOf(l, ways))
	} else {
		a.printf("%s\n%s\n\n%s\n%s\n%s\n%s\n", eyeletTable(s), layoutTable(s), programTable(l.Programs), wayTable(ways), ruleTable(l.Rules), layoutSummary(s))
	}
	for _, warning := range l.Warnings {
		a.warn(warning)
	}
	return err
}

// layoutFiles writes what was asked for.
func layoutFiles(l *buck.Layout, f layoutFlags) error {
	for _, out := range []struct {
		file  string
		write func(io.Writer) error
	}{{f.dxf, l.DXF}, {f.svg, l.SVG}} {
		if out.file == "" {
			continue
		}
		var b bytes.Buffer
		if err := out.write(&b); err != nil {
			return fmt.Errorf("%s: %w", out.file, err)
		}
		if err := written(out.file, b.Bytes(), f.force); err != nil {
			return err
		}
	}
	if f.ngc == "" {
		return nil
	}
	if err := disk.MakeDir(f.ngc); err != nil {
		return fmt.Errorf("%s: %w", f.ngc, disk.Reason(err))
	}
	for _, p := range l.NGC() {
		if err := written(filepath.Join(f.ngc, p.Name), p.Data, f.force); err != nil {
			return err
		}
	}
	return nil
}

// layoutSummary is the answer in a line.
func layoutSummary(s *layout.Sheath) string {
	size := s.Trim.Bounds().Size()
	return fmt.Sprintf("%s: %s, trimmed to %.1f x %.1f mm", s.Knife.Spec.Name, count(len(s.Eyelets), "eyelet"), size.X, size.Y)
}
