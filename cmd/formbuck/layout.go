package main

import (
	"bytes"
	"errors"
	"fmt"

	"formbuck/buck"
	"formbuck/buck/layout"
	"formbuck/profile/dxf"

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
--svg write them alone. Both are in mm, in the blade's frame: x from the butt to the tip, y
from the edge to the spine, seen on the right face. The left half lies on the machine turned over
about the blade's axis: there its y is negated.

With --json the answer is one line with the keys variant, eyelets, runs, trim, blank, pins,
posts and outlet_mm.`

const layoutExample = `  formbuck layout                              the demo knife's sheath
  formbuck layout hunter.toml                  its eyelets, and what keeps each from being nearer
  formbuck layout hunter.toml --svg out.svg    a picture that prints 1:1
  formbuck layout hunter.toml --dxf out.dxf    a drawing for the machine
  formbuck layout hunter.toml --json | jq .blank`

// layoutFlags are the flags of layout.
type layoutFlags struct {
	hands       choices
	dxf, svg    string
	force, json bool
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
			return a.layout(orderOf(file, f.hands, choices{}), f)
		},
	}
	flags := cmd.Flags()
	flags.Var(&f.hands, "hand", "lay out for this hand only: "+oneOf(handNames())+"; may be repeated")
	flags.StringVar(&f.dxf, "dxf", "", "write the layout into the new drawing `FILE.dxf`")
	flags.StringVar(&f.svg, "svg", "", "write it as a picture that prints 1:1 into the new file `FILE.svg`")
	flags.BoolVar(&f.force, "force", false, "let the files overwrite others")
	flags.BoolVar(&f.json, "json", false, "answer with one line of JSON")
	complete(cmd, "hand", handNames())
	return cmd
}

// layout answers for one variant.
func (a *app) layout(o order, f layoutFlags) error {
	loaded, err := a.load(o)
	if err != nil {
		return err
	}
	w, ok := loaded.(*knifeWork)
	if !ok {
		return errors.New("this work has no sheath to lay out")
	}
	s, err := layout.New(w.knife, w.hands())
	if err != nil {
		return w.placed(err)
	}
	if err := layoutFiles(s, f); err != nil {
		return err
	}
	if f.json {
		err = a.answerJSON(layoutAnswerOf(s))
	} else {
		a.printf("%s\n%s\n%s\n", eyeletTable(s), layoutTable(s), layoutSummary(s))
	}
	for _, warning := range s.Warnings {
		a.warn(w.file + ": " + warning)
	}
	return err
}

// layoutFiles writes what was asked for.
func layoutFiles(s *layout.Sheath, f layoutFlags) error {
	for _, out := range []struct {
		file  string
		write func(*bytes.Buffer) error
	}{
		{f.dxf, func(b *bytes.Buffer) error { return dxf.Encode(b, s.Drawing()) }},
		{f.svg, func(b *bytes.Buffer) error { return s.Sheet().SVG(b) }},
	} {
		if out.file == "" {
			continue
		}
		var b bytes.Buffer
		if err := out.write(&b); err != nil {
			return fmt.Errorf("%s: %w", out.file, err)
		}
		var err error
		if f.force {
			err = overwrite(out.file, b.Bytes())
		} else {
			err = create(out.file, b.Bytes(), "use --force to overwrite it")
		}
		if err != nil {
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

// layoutAnswer is what layout says as JSON.
type layoutAnswer struct {
	Variant string        `json:"variant"`
	Eyelets []eyeletEntry `json:"eyelets"`
	Runs    []runEntry    `json:"runs"`
	Trim    trimEntry     `json:"trim"`
	Blank   blankEntry    `json:"blank"`
	Pins    []pinEntry    `json:"pins"`
	Posts   []postEntry   `json:"posts"`
	Outlet  float64       `json:"outlet_mm"` // width of the drain at the trim line; 0: it is shut
}

type eyeletEntry struct {
	At      [2]float64 `json:"at_mm"`
	Side    string     `json:"side"`
	Need    float64    `json:"margin_mm"`
	Governs string     `json:"governed"`
	Edge    float64    `json:"to_trim_mm"`
}

type runEntry struct {
	Side   string  `json:"side"`
	Count  int     `json:"eyelets"`
	Pitch  float64 `json:"pitch_mm"`
	Length float64 `json:"length_mm"`
}

type trimEntry struct {
	Size   [2]float64   `json:"size_mm"`
	Length float64      `json:"length_mm"`
	Area   float64      `json:"area_mm2"`
	Line   [][3]float64 `json:"line"` // x, y and bulge to the next
}

type blankEntry struct {
	Length    float64    `json:"length_mm"`
	Width     float64    `json:"width_mm"`
	Turned    [2]float64 `json:"turned_mm"`
	Extrusion string     `json:"extrusion"`
	DrawnIn   [3]float64 `json:"drawn_in_mm"`
	Stretch   float64    `json:"stretch_mm"`
}

type pinEntry struct {
	At       [2]float64 `json:"at_mm"`
	Eyelet   int        `json:"eyelet"`
	Diameter float64    `json:"diameter_mm"`
	Check    bool       `json:"check"`
}

type postEntry struct {
	At       [2]float64 `json:"at_mm"`
	Diameter float64    `json:"diameter_mm"`
	Hand     buck.Hand  `json:"hand"`
	Face     buck.Face  `json:"face"`
}

func layoutAnswerOf(s *layout.Sheath) layoutAnswer {
	b := s.Blank
	a := layoutAnswer{
		Variant: s.Knife.Spec.Name,
		Trim:    trimEntry{Size: point(s.Trim.Bounds().Size()), Length: figure(s.TrimLength()), Area: figure(s.Trim.Area())},
		Blank: blankEntry{
			Length: figure(b.Length), Width: figure(b.Width), Turned: [2]float64{figure(b.TurnedLength), figure(b.TurnedWidth)},
			Extrusion: b.Extrusion, Stretch: figure(b.Stretch),
			DrawnIn: [3]float64{figure(b.DrawnIn[0]), figure(b.DrawnIn[1]), figure(b.DrawnIn[2])},
		},
		Posts:  []postEntry{},
		Outlet: figure(s.OutletWidth()),
	}
	for _, e := range s.Eyelets {
		a.Eyelets = append(a.Eyelets, eyeletEntry{
			At: point(e.At), Side: e.Side, Need: figure(e.Need), Governs: string(e.Governs), Edge: figure(e.Edge),
		})
	}
	for _, r := range s.Runs {
		a.Runs = append(a.Runs, runEntry{Side: r.Side, Count: r.Count, Pitch: figure(r.Pitch), Length: figure(r.Length)})
	}
	for _, seg := range s.Trim {
		a.Trim.Line = append(a.Trim.Line, [3]float64{figure(seg.A.X), figure(seg.A.Y), figure(seg.Bulge)})
	}
	for _, p := range s.Pins {
		a.Pins = append(a.Pins, pinEntry{At: point(p.At), Eyelet: p.Eyelet + 1, Diameter: figure(p.Diameter), Check: p.Check})
	}
	for _, p := range s.Posts {
		a.Posts = append(a.Posts, postEntry{At: point(p.At), Diameter: figure(p.Diameter), Hand: p.Hand, Face: p.Face})
	}
	return a
}
