package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"formbuck/buck"
	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/profile/picture"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

const profileLong = `Say what a drawing holds and what was made of it: the outline and its holes, the units,
reference lines, what was left out or mended, and how the drawing was turned into the
frame of the blade (x from butt to tip, y from edge to spine).

Lengths are millimetres, whatever the drawing's units, and in the drawing's own axes.

With --json the answer is one line with the keys file, units, layer, outline, holes,
warnings, error, errors, frame. Where the drawing is at fault, error holds class, message
and line (0: no line) of the first fault, errors those of all, what could not be found
is null, and the exit status is 1.`

const profileExample = `  formbuck profile hunter.dxf
  formbuck profile --svg hunter.svg hunter.dxf   see it, 1:1
  formbuck profile --units in hunter.dxf          where the drawing does not state its units
  formbuck profile --join-gap 0.2 hunter.dxf      where ends of lines do not quite meet
  formbuck profile --json hunter.dxf | jq .outline.area_mm2`

// drawing is what profile says of a file.
type drawing struct {
	File     string         `json:"file"`
	Units    string         `json:"units"`
	Layer    string         `json:"layer"`
	Outline  *outlineEntry  `json:"outline"`
	Holes    []holeEntry    `json:"holes"`
	Warnings []string       `json:"warnings"`
	Error    *drawingError  `json:"error"`
	Errors   []drawingError `json:"errors"`
	Frame    *frameEntry    `json:"frame"`
	profile  *profile.Profile
	plan     *profile.Plan
	faults   dxf.Faults
}

type outlineEntry struct {
	Area      float64    `json:"area_mm2"`
	Perimeter float64    `json:"perimeter_mm"`
	Bounds    box2       `json:"bounds_mm"`
	Centroid  [2]float64 `json:"centroid_mm"`
}

type holeEntry struct {
	Area     float64    `json:"area_mm2"`
	Centroid [2]float64 `json:"centroid_mm"`
}

type drawingError struct {
	Class   string `json:"class"`
	Message string `json:"message"`
	Line    int    `json:"line"`
}

// frameEntry says how the drawing was turned: where the blade's origin lies, which way its x axis
// points, and why.
type frameEntry struct {
	Origin     [2]float64 `json:"origin_mm"`
	AngleDeg   float64    `json:"angle_deg"`
	TurnedOver bool       `json:"turned_over"`
	Tip        string     `json:"tip"`
	Edge       string     `json:"edge"`
	Axis       string     `json:"axis"`
	Throat     string     `json:"throat"`
	Handle     string     `json:"handle"`
	Heel       string     `json:"heel"`
}

// profileFlags are the flags of profile.
type profileFlags struct {
	options profile.Options
	units   choices
	gap     millimetres
	svg     string
	force   bool
	json    bool
}

func newProfile(a *app) *cobra.Command {
	var f profileFlags
	f.gap = millimetres{min: 0.001, max: 1}
	f.units.of, f.units.single = []string{"mm", "cm", "m", "in", "ft"}, true
	cmd := &cobra.Command{
		Use:     "profile FILE.dxf",
		Short:   "Say what a drawing holds and what was made of it",
		Long:    profileLong,
		Example: profileExample,
		Args:    positional("FILE.dxf", 1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			f.options.Units, f.options.Gap = f.units.String(), f.gap.length
			if sameFile(args[0], f.svg) {
				return misuse(cmd, "--svg would overwrite the drawing")
			}
			return a.profile(args[0], f)
		},
	}
	flags := cmd.Flags()
	flags.Var(&f.units, "units", "take the drawing's lengths in this unit: "+oneOf(f.units.of))
	flags.StringVar(&f.options.Layer, "layer", "", "look for the outline on the layer `NAME`")
	flags.Var(&f.gap, "join-gap", "close gaps between the ends of lines up to this many `MM`, 1 at most (default 0.05)")
	unfinishedFlag(flags, &f.options.Unfinished)
	flags.StringVar(&f.svg, "svg", "", "draw what was understood, faults marked, 1:1 into the new file `FILE`")
	flags.BoolVar(&f.force, "force", false, "let --svg overwrite a file")
	flags.BoolVar(&f.json, "json", false, "answer with one line of JSON")
	complete(cmd, "units", f.units.of)
	return cmd
}

// profile answers for one drawing.
func (a *app) profile(path string, f profileFlags) error {
	d, err := readDrawing(path, f.options)
	if d != nil && d.profile != nil && f.svg != "" {
		err = errors.Join(err, d.draw(f.svg, f.force))
	}
	if d != nil && d.profile != nil {
		a.notes(fmt.Sprintf("%s: the outline is on the layer %q, in %s", path, d.profile.Layer, d.profile.Units))
	}
	switch {
	case d != nil && f.json:
		return errors.Join(a.answerJSON(d), err)
	case d != nil && d.Outline != nil:
		a.printf("%s", d.text())
		for _, w := range d.Warnings {
			a.warn(w)
		}
	}
	return err
}

// draw writes the picture of what was understood.
func (d *drawing) draw(path string, force bool) error {
	var b bytes.Buffer
	err := picture.WriteSVG(&b, picture.Picture{Profile: d.profile, Plan: d.plan, Faults: d.faults})
	if err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if force {
		return overwrite(path, b.Bytes())
	}
	return create(path, b.Bytes(), "use --force to overwrite it")
}

// readDrawing reads one drawing. With the error of a faulty drawing comes an answer that holds it;
// a file that cannot be read has none.
func readDrawing(path string, opt profile.Options) (*drawing, error) {
	if err := mistaken(path, ".dxf"); err != nil {
		return nil, err
	}
	d := &drawing{File: path, Holes: []holeEntry{}, Warnings: []string{}, Errors: []drawingError{}}
	entities, err := input(path, func(r io.Reader) (*dxf.Drawing, error) { return dxf.Decode(r, path) })
	if err == nil {
		d.profile, err = profile.Read(entities, opt)
		err = passable(err)
	}
	if d.blame(err) {
		return d, err
	}
	if err != nil {
		return nil, err
	}
	return d, d.fill()
}

// unfinishedHelp says what --unfinished does where pieces are made.
const unfinishedHelp = "make the pieces even where the sheath would bind on the cutting edge, or the outline is no knife's by its size"

// unfinishedFlag lets a verb that reads a knife take one of another size than any knife has.
func unfinishedFlag(flags *pflag.FlagSet, to *bool) {
	flags.BoolVar(to, "unfinished", false, "take an outline that is no knife's by its size")
}

// blame takes up the faults of a drawing, the first of them as the answer's error; false where err
// is none of a drawing.
func (d *drawing) blame(err error) bool {
	var first *dxf.Fault
	if !errors.As(err, &first) {
		return false
	}
	if !errors.As(err, &d.faults) {
		d.faults = dxf.Faults{first}
	}
	for _, f := range d.faults {
		d.Errors = append(d.Errors, drawingError{Class: string(f.Class), Message: f.Error(), Line: f.Line})
	}
	d.Error = &d.Errors[0]
	return true
}

// fill takes the answer from the profile. A reference line that cannot be one is an error beside it.
func (d *drawing) fill() error {
	p := d.profile
	d.Units, d.Layer = p.Units, p.Layer
	d.Outline = &outlineEntry{
		Area: figure(p.Outline.Area()), Perimeter: figure(p.Outline.Perimeter()),
		Bounds: boxOf2(p.Outline.Bounds()), Centroid: point(p.Outline.Centroid()),
	}
	for _, h := range p.Holes {
		d.Holes = append(d.Holes, holeEntry{Area: figure(h.Area()), Centroid: point(h.Centroid())})
	}
	for _, w := range p.Warnings {
		d.warn(w)
	}
	plan, err := p.Plan(profile.Hints{})
	var fault *dxf.Fault
	switch {
	case err == nil:
		d.plan, d.Frame = plan, frameOf(plan.Frame)
		for _, w := range plan.Warnings {
			d.warn(w)
		}
	case errors.As(err, &fault) && fault.Class == dxf.BadMark:
		d.blame(err)
		return err
	default: // an outline that is no knife's is still an outline
		var faults dxf.Faults
		errors.As(err, &faults)
		for _, f := range faults {
			d.warn(profile.Warning{What: "the blade's frame was not found: " + f.What})
		}
	}
	return nil
}

// warn takes up a warning.
func (d *drawing) warn(w profile.Warning) {
	d.Warnings = append(d.Warnings, buck.WarningAt(d.File, w))
}

func frameOf(f profile.Frame) *frameEntry {
	return &frameEntry{
		Origin: point(f.Origin), AngleDeg: figure(f.AngleDeg), TurnedOver: f.TurnedOver,
		Tip: f.Tip, Edge: f.Edge, Axis: f.Axis, Throat: f.Throat, Handle: f.Handle, Heel: f.Heel,
	}
}

// text is the answer for people.
func (d *drawing) text() string {
	var b strings.Builder
	p, o := d.profile, d.Outline
	lo, hi := o.Bounds.Min, o.Bounds.Max
	fmt.Fprintf(&b, "%s: outline on layer %s, units %s (%s)\n", d.File, d.Layer, d.Units, p.UnitsBy)
	fmt.Fprintf(&b, "  size       %.3f x %.3f mm\n", hi[0]-lo[0], hi[1]-lo[1])
	fmt.Fprintf(&b, "  bounds     (%.3f, %.3f) to (%.3f, %.3f) mm\n", lo[0], lo[1], hi[0], hi[1])
	fmt.Fprintf(&b, "  area       %.3f mm2\n", o.Area)
	fmt.Fprintf(&b, "  perimeter  %.3f mm\n", o.Perimeter)
	fmt.Fprintf(&b, "  centroid   (%.3f, %.3f) mm\n", o.Centroid[0], o.Centroid[1])
	for _, h := range d.Holes {
		fmt.Fprintf(&b, "  hole       %.3f mm2 at (%.3f, %.3f) mm\n", h.Area, h.Centroid[0], h.Centroid[1])
	}
	for _, m := range p.Marks {
		fmt.Fprintf(&b, "  mark       %s on layer %s, %.3f mm long\n", m.Kind, m.Layer, m.Path.Length())
	}
	for _, s := range p.Skipped {
		fmt.Fprintf(&b, "  left out   %d %s on layer %s: %s\n", s.Count, s.Kind, s.Layer, s.Why)
	}
	if d.Frame != nil {
		d.Frame.text(&b)
	}
	return b.String()
}

func (f *frameEntry) text(b *strings.Builder) {
	face := "right"
	if f.TurnedOver {
		face = "left"
	}
	fmt.Fprintf(b, "  frame      origin at (%.3f, %.3f) mm, x axis at %.3f deg; the drawing shows the %s face\n",
		f.Origin[0], f.Origin[1], f.AngleDeg, face)
	for _, why := range []struct{ what, text string }{
		{"tip", f.Tip}, {"edge", f.Edge}, {"axis", f.Axis}, {"throat", f.Throat}, {"handle", f.Handle}, {"heel", f.Heel},
	} {
		if why.text != "" {
			fmt.Fprintf(b, "    %-8s %s\n", why.what, why.text)
		}
	}
}
