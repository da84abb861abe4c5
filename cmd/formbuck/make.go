package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"formbuck/buck"
	"formbuck/buck/measures"
	shop "formbuck/buck/paper/drawing"
	"formbuck/buck/record"
	"formbuck/cmd/internal/folder"

	"github.com/spf13/cobra"
)

const makeLong = `Make the pieces of a variant's forming buck: for every piece and hand a print file
(STL, in millimetres, standing as it is printed) and a picture (PNG), one print file of
all pieces side by side (3MF), and a picture of the whole buck. Beside them drawings of
the faces that carry a boss at 1:1 (PDF and SVG), a set-up sheet for each hand (PDF) and the
layout of the sheath (DXF and SVG, see formbuck layout), the mill's programs (NGC) with a paper
for each set-up, and a page that shows all of it in a browser (index.html), unless single pieces
are asked for.
Without VARIANT.toml the demo knife is made.

The job goes into a folder named for the variant, or into DIR. The folder is exchanged
as a whole: if anything goes wrong on the way, what was there stays. Afterwards it holds
exactly what this run asked for, and every file of your own that was in it: after --piece nub the
other pieces are gone from it, so give single pieces a folder of their own (-o). A file that
formbuck did not write, or that was changed since, is overwritten with --force only; so is the
job of another variant file, which a copy of a variant that states its name would replace.

A record of what was made from what stays in the folder. Made again after a change, formbuck
says which pieces are not what they were, by how much and why, and which printed ones are
still good; files that would not differ are not touched.

With -v each mesh is measured against a body that was built apart from it, as a distance, and
what was found is told.

A variant whose sheath would bind on the cutting edge, with all its pieces on the buck, is
not finished: nothing is written and the exit status is 1. With --unfinished its pieces are
made all the same, with a warning; so are those of an outline that is no knife's by its size
(shorter than 40 mm, longer than 600 mm, or wider than half its length). What binds elsewhere
is warned of; formbuck draw tells more.`

const makeExample = `  formbuck make                                the demo knife, into a folder named for it
  formbuck make hunter.toml                    every piece for every hand, into hunter
  formbuck make hunter.toml -o "order 17"      the same, into the folder "order 17"
  formbuck make hunter.toml --hand left        only what a left-hand sheath needs
  formbuck make hunter.toml --piece ramp,nub -o spare
  formbuck make hunter.toml --piece buck -o whole
                                               knife and pieces in one body, for want of a knife
  formbuck make hunter.toml --json | jq .pieces`

// order is what the command line asks of make.
type order struct {
	variant string                            // path of the variant file; empty: the demo
	dir     string                            // path of the job folder; empty: named for the variant
	read    func(path string) ([]byte, error) // reads the variant's files; nil: from the disk
	options buck.Options
}

// orderOf is the order for a variant's file; empty: the demo.
func orderOf(file string, hands, pieces choices) order {
	o := order{variant: file}
	for _, h := range hands.chosen {
		o.options.Hands = append(o.options.Hands, measures.Hand(h))
	}
	for _, p := range pieces.chosen {
		o.options.Pieces = append(o.options.Pieces, buck.PieceKind(p))
	}
	return o
}

// product is what came of an order.
type product struct {
	*buck.Made
	Changes *record.Report // against what was made before; nil: there is no record of that
}

// forceHelp explains the flag --force of make and watch.
const forceHelp = "overwrite files in DIR that formbuck did not write, and the job of another variant file"

// makeFlags are the flags of make.
type makeFlags struct {
	dir    string
	hands  choices
	pieces choices
	paper  choices
	force  bool
	ascii  bool
	knife  bool
	close  millimetres
	json   bool

	unfinished bool
}

// pieceNames are the pieces that can be asked for.
func pieceNames() []string {
	var names []string
	for _, k := range buck.PieceKinds() {
		names = append(names, string(k))
	}
	return names
}

func handNames() []string {
	var names []string
	for _, h := range measures.Hands() {
		names = append(names, string(h))
	}
	return names
}

func newMake(a *app) *cobra.Command {
	f := newMakeFlags()
	cmd := &cobra.Command{
		Use:     "make [VARIANT.toml]",
		Short:   "Make the pieces of a variant: print files and pictures",
		Long:    makeLong,
		Example: makeExample,
		Args:    positional("VARIANT.toml", 0, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			var file string
			if len(args) > 0 {
				file = args[0]
			}
			return a.make(cmd.Context(), f.order(file, a.verbose), f)
		},
	}
	f.bind(cmd)
	cmd.Flags().BoolVar(&f.json, "json", false, "answer with one line of JSON")
	return cmd
}

// newMakeFlags are the flags of make with nothing given.
func newMakeFlags() makeFlags {
	return makeFlags{
		hands: choices{of: handNames()}, pieces: choices{of: pieceNames()},
		paper: choices{of: paperNames(), single: true},
		close: millimetres{min: 0.001, max: 0.2},
	}
}

// order is what the flags ask of a variant's file.
func (f *makeFlags) order(file string, measure bool) order {
	o := orderOf(file, f.hands, f.pieces)
	o.dir = f.dir
	to := &o.options
	to.ASCII, to.Tolerance, to.Unfinished, to.Measure = f.ascii, f.close.length, f.unfinished, measure
	if f.knife {
		to.Place = buck.OnKnife
	}
	to.Paper = paperOf(f.paper)
	return o
}

// bind gives a verb that makes jobs these flags.
func (f *makeFlags) bind(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringVarP(&f.dir, "output", "o", "", "write into the folder `DIR` (default: the variant's name)")
	flags.Var(&f.hands, "hand", "make this hand only: "+oneOf(handNames())+"; may be repeated")
	flags.Var(&f.pieces, "piece", "make this piece only: "+oneOf(pieceNames())+"; may be repeated")
	flags.Var(&f.paper, "paper", "lay drawings and set-up sheets out for this paper: "+oneOf(paperNames())+" (default a4)")
	flags.BoolVar(&f.force, "force", false, forceHelp)
	flags.BoolVar(&f.ascii, "ascii", false, "write the STL files as text")
	flags.BoolVar(&f.knife, "on-knife", false, "leave the pieces where they sit on the knife, not as they are printed")
	flags.BoolVar(&f.unfinished, "unfinished", false, unfinishedHelp)
	flags.Var(&f.close, "tolerance", "let meshes lie up to this many `MM` off the pieces, 0.001 to 0.2 (default 0.01)")
	complete(cmd, "hand", handNames())
	complete(cmd, "piece", pieceNames())
	complete(cmd, "paper", paperNames())
}

// paperOf is the paper that was chosen.
func paperOf(c choices) shop.Paper {
	if len(c.chosen) > 0 {
		return shop.Paper(c.chosen[0])
	}
	return shop.A4
}

func paperNames() []string {
	var names []string
	for _, p := range shop.Papers() {
		names = append(names, string(p))
	}
	return names
}

// made is an order that was carried out.
type made struct {
	name, dir string
	product   *product
	report    folder.Report
}

// make carries the order out and says what came of it.
func (a *app) make(ctx context.Context, o order, f makeFlags) error {
	m, err := a.produce(ctx, o, f)
	if err != nil {
		return err
	}
	p := m.product
	for _, w := range m.warnings() {
		a.warn(w)
	}
	a.notes(m.notes()...)
	if f.json {
		return a.answerJSON(makeAnswerOf(m.name, m.dir, p, m.report))
	}
	a.done("%s\n", table(p.Pieces))
	if p.Changes != nil && p.Changes.Changed() {
		a.done("%s\n", strings.Join(p.Changes.Lines(), "\n"))
	}
	for _, line := range []string{following(p, m.report), standing(p, m.report)} {
		if line != "" {
			a.done("%s\n", line)
		}
	}
	a.done("%s\n", summary(m.dir, m.report))
	return nil
}

// produce builds the order and puts it into its folder.
func (a *app) produce(ctx context.Context, o order, f makeFlags) (*made, error) {
	w, err := a.load(o)
	if err != nil {
		return nil, err
	}
	dir := f.dir
	if dir == "" {
		dir = w.Name()
	}
	if !f.force {
		if err := taken(o, dir); err != nil {
			return nil, err
		}
	}
	o.options.Origin = origin(o.variant, o.dir, w.Name())
	var changes *record.Report
	m, report, err := a.built(ctx, w, o.options, dir, folder.Options{Force: f.force}, func(m *buck.Made) {
		changes = recall(ctx, w, m, o.options, dir)
	})
	if err != nil {
		return nil, err
	}
	return &made{name: w.Name(), dir: dir, product: &product{Made: m, Changes: changes}, report: report}, nil
}

// built makes a work and, when finish has seen what came of it, puts it into its folder, which is locked all along.
func (a *app) built(ctx context.Context, w work, o buck.Options, dir string, how folder.Options, finish func(*buck.Made)) (m *buck.Made, r folder.Report, err error) {
	if err := folderName(dir); err != nil {
		return nil, r, err
	}
	defer a.hold()()
	target, err := folder.Open(dir, how)
	if err != nil {
		return nil, r, err
	}
	defer func() { err = errors.Join(err, target.Close()) }()
	go itself() // is ready before it is asked for
	g := again{job: target, program: itself}
	o.Earlier = g.earlier
	type answer struct {
		made *buck.Made
		err  error
	}
	built := make(chan answer, 1)
	go func() { // an interrupt does not wait for it
		m, err := w.Make(ctx, o)
		if err == nil && ctx.Err() == nil {
			finish(m)
		}
		built <- answer{m, passable(err)}
	}()
	select {
	case a := <-built:
		m, err = a.made, a.err
	case <-ctx.Done():
	}
	if ctx.Err() != nil {
		return nil, r, &folder.Fault{Path: dir, Kind: folder.Interrupted, Err: ctx.Err()}
	}
	if err == nil {
		r, err = target.Write(ctx, g.files(m))
	}
	return m, r, err
}

// recall compares what was made with what the folder's record tells of before; nil: there is no record of that.
func recall(ctx context.Context, w work, m *buck.Made, o buck.Options, dir string) *record.Report {
	d, ok := w.(*buck.Design)
	if !ok || m.Record == nil {
		return nil
	}
	older, err := earlier(dir, w.Name())
	if err != nil {
		m.Warnings = append(m.Warnings, err.Error()+"; what changed since is not told")
	}
	if older == nil {
		return nil
	}
	return d.Since(ctx, older, m.Record, o)
}

// warnings are what the user should know of what was made.
func (m *made) warnings() []string {
	all := slices.Clone(m.product.Warnings)
	for _, name := range m.report.Kept {
		all = append(all, fmt.Sprintf("%s: was changed since formbuck wrote it and is no part of this job any more; it was left", filepath.Join(m.dir, name)))
	}
	return all
}

// notes are what was decided and what became of each file.
func (m *made) notes() []string {
	all := slices.Clone(m.product.Notes)
	for _, files := range []struct {
		what  string
		names []string
	}{{"wrote", m.report.Written}, {"already there", m.report.Unchanged}, {"removed", m.report.Removed}} {
		for _, name := range files.names {
			all = append(all, files.what+" "+filepath.Join(m.dir, name))
		}
	}
	return all
}

// summary is the last line of make.
func summary(dir string, r folder.Report) string {
	s := fmt.Sprintf("%s: %s written", dir, count(len(r.Written), "file"))
	if n := len(r.Unchanged); n > 0 {
		s += fmt.Sprintf(", %d unchanged", n)
	}
	if n := len(r.Removed); n > 0 {
		s += fmt.Sprintf(", %d removed", n)
	}
	return s
}

// makeAnswer is what make says as JSON.
type makeAnswer struct {
	Variant   string       `json:"variant"`
	Folder    string       `json:"folder"`
	Pieces    []pieceEntry `json:"pieces"`
	Written   []string     `json:"written"`
	Unchanged []string     `json:"unchanged"`
	Removed   []string     `json:"removed"`
	Kept      []string     `json:"kept"`
	Warnings  []string     `json:"warnings"`
	Since     *sinceAnswer `json:"since"`   // against what was made before; null: there is no record of that
	Reasons   []fileReason `json:"reasons"` // why each file was written anew, after a change
}

type pieceEntry struct {
	Piece    string      `json:"piece"`
	Hand     string      `json:"hand"`
	File     string      `json:"file"`
	Picture  string      `json:"picture"`
	Size     [3]float64  `json:"size_mm"`
	Volume   float64     `json:"volume_mm3"`
	Mass     float64     `json:"mass_g"`
	Governed string      `json:"governed"`
	Printing buck.Advice `json:"printing"`
}

func makeAnswerOf(variant, dir string, p *product, r folder.Report) makeAnswer {
	m := makeAnswer{
		Variant: variant, Folder: dir, Pieces: []pieceEntry{},
		Written: list(r.Written), Unchanged: list(r.Unchanged), Removed: list(r.Removed), Kept: list(r.Kept),
		Warnings: list(p.Warnings), Reasons: reasons(p, r),
	}
	if p.Changes != nil {
		m.Since = sinceOf(p.Changes)
	}
	for _, row := range p.Pieces {
		m.Pieces = append(m.Pieces, pieceEntry{
			Piece: row.Piece, Hand: row.Hand, File: row.File, Picture: row.Picture,
			Size: vector(row.Size), Volume: figure(row.Volume), Mass: figure(row.Mass), Governed: row.Governed,
			Printing: rounded(row.Printing),
		})
	}
	return m
}

// rounded is the advice with its figures as JSON has them.
func rounded(a buck.Advice) buck.Advice {
	a.FirstLayer, a.Hangs = figure(a.FirstLayer), figure(a.Hangs)
	return a
}

// list is the strings, never null in JSON.
func list(s []string) []string { return append([]string{}, s...) }

// count is a number with its noun, in the plural where that is due.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// oneOf lists choices as a sentence does.
func oneOf(names []string) string {
	last := len(names) - 1
	if last < 1 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:last], ", ") + " or " + names[last]
}
