package buck

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"formbuck/buck/internal/job"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/mill"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
	"formbuck/buck/record"
	"formbuck/mesh"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r3"
)

// Made is what [Design.Make] made.
type Made struct {
	Files    Files
	Pieces   []Piece
	Warnings []string       // what the user should know, a line each, with the file that it is of
	Grave    []string       // those of Warnings of what spoils the sheath
	Notes    []string       // what was decided and measured, a line each
	Sheath   *layout.Sheath // nil: only some pieces were asked for, or it cannot be laid out
	Programs []mill.Program // of the sheath
	Record   *record.Record // of what was made, as it lies among the files
}

// Piece is one printable piece.
type Piece struct {
	Piece, Hand string
	File        string     // the STL
	Picture     string     // the PNG
	Mesh        *mesh.Mesh // as its file has it
	Size        r3.Vec     // extent, mm
	Volume      float64    // mm3
	Mass        float64    // g
	Governed    string     // what decided its measures
	Printing    Advice
	Hands       []measures.Hand // whose bucks it is a part of
}

// Make makes the pieces and their files; where all of the job is asked for, papers, layout, programs and
// the page as well. It stops early when the context is done. An error means that nothing is fit to be
// used: a [Fault] of kind [Binds] is a sheath that binds on the cutting edge, or locks otherwise than
// asked for, which Options.Unfinished lets pass.
func (d *Design) Make(ctx context.Context, o Options) (*Made, error) {
	request := o.request(d)
	edge := d.edge(request.Hands)
	set, err := job.Make(ctx, d.knife, request)
	if err != nil {
		return nil, d.placed(err)
	}
	study, left, bound := edge()
	if bound != nil && !o.Unfinished {
		return nil, refusal(bound)
	}
	if err := d.nothing(set, o); err != nil {
		return nil, err
	}
	format := job.Format{ASCII: o.ASCII, Place: o.Place, Earlier: o.Earlier}
	if len(o.Pieces) == 0 {
		format.Paper, format.Draw = o.paper(), study
	}
	files, err := set.Files(ctx, format, request.Hands)
	if err != nil {
		return nil, d.placed(err)
	}
	m := &Made{Sheath: set.Sheath, Programs: set.Programs, Notes: append(d.Notes(), set.Notes...)}
	for _, f := range files {
		m.Files = append(m.Files, File(f))
	}
	d.warn(m, o, set, left, bound)
	if err := d.pieces(m, set, format); err != nil {
		return nil, err
	}
	if o.Measure {
		measured, err := set.Measure()
		if err != nil {
			return nil, d.placed(err)
		}
		for _, found := range measured {
			m.Notes = append(m.Notes, found.String())
		}
	}
	return m, d.keep(m, set, o)
}

// nothing is the error of a set without pieces.
func (d *Design) nothing(set *job.Set, o Options) error {
	switch {
	case len(set.Pieces) > 0:
		return nil
	case set.NoLocator != "" && len(o.Pieces) == 1:
		return fmt.Errorf("%s: nothing to make: %s", d.file, set.NoLocator)
	default:
		return fmt.Errorf("%s: nothing to make: a plain sheath has no boss, and so neither standoff nor nub, and a knife that draws freely needs no ramp", d.file)
	}
}

// pieces takes up the pieces of the set, whose files come first.
func (d *Design) pieces(m *Made, set *job.Set, format job.Format) error {
	for i, piece := range set.Pieces {
		body, err := format.InFile(piece)
		if err != nil {
			return d.placed(err)
		}
		m.Pieces = append(m.Pieces, Piece{
			Piece: piece.Label(), Hand: piece.Hand, File: m.Files[2*i].Name, Picture: m.Files[2*i+1].Name, Mesh: body,
			Size: body.Bounds().Size(), Volume: body.Volume(), Mass: body.Volume() * job.Density / 1000, Governed: piece.Governed,
			Printing: piece.Advice(), Hands: slices.DeleteFunc(measures.Hands(), func(h measures.Hand) bool { return !piece.Serves(h) }),
		})
		m.Notes = append(m.Notes, fmt.Sprintf("%s: %s", piece.Name, m.Pieces[i].Printing))
	}
	return nil
}

// warn takes up what the user should know: of drawing and measures, where the sheath binds elsewhere than on the edge, and
// where on it (nil: nowhere).
func (d *Design) warn(m *Made, o Options, set *job.Set, left []string, bound error) {
	m.Warnings = append(m.Warnings, d.readWarnings()...)
	if o.request(d).Wants(job.Standoff) {
		m.Warnings = append(m.Warnings, d.thin()...)
	}
	if bound != nil {
		said := bound.Error() + "; the pieces are not finished"
		m.Warnings, m.Grave = append(m.Warnings, said), append(m.Grave, said)
	}
	for _, warning := range slices.Concat(left, set.Warnings) {
		m.Warnings = append(m.Warnings, d.file+": "+warning)
	}
	for _, warning := range slices.Concat(left, set.Grave) {
		m.Grave = append(m.Grave, d.file+": "+warning)
	}
}

// readWarnings are those of the drawing and of how it was turned.
func (d *Design) readWarnings() []string {
	var all []string
	for _, warning := range slices.Concat(d.profile.Warnings, d.plan.Warnings) {
		all = append(all, WarningAt(d.drawing, warning))
	}
	return all
}

// thin warns where the sheet gets weak over a boss, in the words of draw; empty where it does not.
func (d *Design) thin() []string {
	all, err := pieces.NewStandoffs(d.knife)
	if err != nil {
		return nil
	}
	if warning := path.NewBoss(path.Highest(all)).Warning(); warning != "" {
		return []string{d.file + ": " + warning}
	}
	return nil
}

// WarningAt is a drawing's warning on one line, with the file and its line.
func WarningAt(file string, w profile.Warning) string {
	what := strings.ReplaceAll(w.What, "\n", "; ")
	if w.Line > 0 {
		return fmt.Sprintf("%s:%d: %s", file, w.Line, what)
	}
	return file + ": " + what
}
