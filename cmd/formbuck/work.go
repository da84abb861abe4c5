package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"formbuck/buck"
	"formbuck/buck/job"
	"formbuck/buck/path"
	"formbuck/buck/sound"
	"formbuck/buck/variant"
	"formbuck/cmd/internal/folder"
	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/testdata"
)

// demo is the variant that is made when none is given.
const demo = "thistle.toml"

// knifeWork is a variant whose files have been read and found sound.
type knifeWork struct {
	order   order
	variant *variant.Variant
	file    string // of the variant
	profile *profile.Profile
	plan    *profile.Plan
	drawing string // path of the drawing
	drawn   []byte // what it holds
	knife   *buck.Knife
}

// loadWork reads the variant and its drawing, or the demo's.
func loadWork(o order) (work, error) {
	file, read := o.variant, readFile
	switch {
	case file == "":
		file, read = demo, testdata.FS.ReadFile
	case o.read != nil:
		read = o.read
	}
	if err := mistaken(file, ".toml"); err != nil {
		return nil, err
	}
	v, err := variant.Load(file, read)
	if err != nil {
		return nil, err
	}
	w := &knifeWork{order: o, file: file, variant: v}
	w.drawing = seenFrom(v.Where("drawing.file").File, filepath.FromSlash(v.Drawing.File))
	if w.drawn, err = read(w.drawing); err != nil {
		return nil, fmt.Errorf("%s: drawing.file: %w", v.Where("drawing.file"), err)
	}
	return w, w.understand()
}

// with is the same work with another variant of the same drawing.
func (w *knifeWork) with(v *variant.Variant) (*knifeWork, error) {
	other := &knifeWork{order: w.order, file: w.file, variant: v, drawing: w.drawing, drawn: w.drawn}
	return other, other.understand()
}

// readFile reads a whole file of the disk, up to the size of a drawing.
func readFile(path string) ([]byte, error) {
	data, err := input(path, func(r io.Reader) ([]byte, error) { return io.ReadAll(io.LimitReader(r, dxf.MaxBytes+1)) })
	if len(data) > dxf.MaxBytes {
		return nil, fmt.Errorf("%s: has more than %d MB, more than is read of a drawing or a file of measures", path, dxf.MaxBytes>>20)
	}
	return data, err
}

// understand turns the drawing into the blade's frame, and drawing and measures into the knife.
func (w *knifeWork) understand() error {
	d := w.variant.Drawing
	entities, err := dxf.Parse(w.drawn, w.drawing)
	if err != nil {
		return err
	}
	w.profile, err = readProfile(entities, profile.Options{
		Units: d.Units, Layer: d.Layers.Outline, Gap: d.JoinGap, Layers: marksOf(d.Layers), Unfinished: w.order.unfinished,
	})
	if err != nil {
		return err
	}
	w.plan, err = w.profile.Plan(w.variant.Hints())
	if err != nil {
		return err
	}
	if w.knife, err = buck.NewKnife(w.plan, w.variant.Spec); err != nil {
		return w.placed(err)
	}
	return nil
}

// marksOf are the names of the layers on which reference lines are looked for.
func marksOf(l variant.Layers) map[profile.MarkKind]string {
	return map[profile.MarkKind]string{
		profile.Handle: l.Handle, profile.Grind: l.Grind, profile.Throat: l.Throat,
		profile.Edge: l.Edge, profile.Tip: l.Tip, profile.Guard: l.Guard, profile.Swedge: l.Swedge,
	}
}

// placed gives a fault of the measures its place in the variant file, and one of the program's own the digest of what it was
// found with.
func (w *knifeWork) placed(err error) error {
	var own sound.Fault
	if errors.As(err, &own) {
		return fmt.Errorf("%s: %w (digest of the variant: %s)", w.file, err, w.inputs()[:16])
	}
	var f *buck.Fault
	if !errors.As(err, &f) || f.Key == "" {
		return fmt.Errorf("%s: %w", w.file, err)
	}
	return fmt.Errorf("%s: %s: %w", w.variant.Where(f.Key), f.Key, err)
}

// Name is the variant's name.
func (w *knifeWork) Name() string { return w.variant.Spec.Name }

// hands are those that the command line asks for, else those that the variant names, else all.
func (w *knifeWork) hands() []buck.Hand {
	switch {
	case len(w.order.hands) > 0:
		return w.order.hands
	case len(w.variant.Spec.Hands) > 0:
		return w.variant.Spec.Hands
	default:
		return buck.Hands()
	}
}

// request is what is asked of the job.
func (w *knifeWork) request() job.Request {
	r := job.Request{Hands: w.hands(), Tolerance: w.order.close}
	for _, name := range w.order.pieces {
		r.Kinds = append(r.Kinds, job.Kind(name))
	}
	return r
}

// Build makes the pieces and their files, but for what is there again.
func (w *knifeWork) Build(ctx context.Context, g again) (*product, error) {
	request := w.request()
	edge := w.edge(request.Hands)
	set, err := job.Make(ctx, w.knife, request)
	if err != nil {
		return nil, w.placed(err)
	}
	study, left, bound := edge()
	if bound != nil && !w.order.unfinished {
		return nil, fmt.Errorf("%w; nothing was written (--unfinished makes the pieces all the same)", bound)
	}
	if len(set.Pieces) == 0 && set.NoLocator != "" && len(w.order.pieces) == 1 {
		return nil, fmt.Errorf("%s: nothing to make: %s", w.file, set.NoLocator)
	}
	if len(set.Pieces) == 0 {
		return nil, fmt.Errorf("%s: nothing to make: a plain sheath has no boss, and so neither standoff nor nub, and a knife that draws freely needs no ramp", w.file)
	}
	format := job.Format{ASCII: w.order.ascii, Place: w.order.place, Earlier: g.earlier}
	if len(w.order.pieces) == 0 {
		format.Paper, format.Draw = w.order.paper, study
	}
	files, err := set.Files(ctx, format, request.Hands)
	if err != nil {
		return nil, w.placed(err)
	}
	p := &product{Sheath: set.Sheath, Programs: set.Programs, Notes: append(w.frame(), set.Notes...)}
	for _, f := range files {
		p.Files = append(p.Files, folder.File{Name: f.Name, Data: f.Data, MadeOf: g.madeOf(f.Inputs)})
	}
	w.warn(p, set, left, bound)
	for i, piece := range set.Pieces {
		m, err := format.InFile(piece)
		if err != nil {
			return nil, w.placed(err)
		}
		p.Pieces = append(p.Pieces, pieceRow{
			Piece: piece.Label(), Hand: piece.Hand, File: files[2*i].Name, Picture: files[2*i+1].Name,
			Size: m.Bounds().Size(), Volume: m.Volume(), Mass: m.Volume() * job.Density / 1000, Governed: piece.Governed,
			Printing: piece.Advice(), Hands: slices.DeleteFunc(buck.Hands(), func(h buck.Hand) bool { return !piece.Serves(h) }),
		})
		p.Notes = append(p.Notes, fmt.Sprintf("%s: %s", piece.Name, p.Pieces[i].Printing))
	}
	if w.order.measure {
		measured, err := set.Measure()
		if err != nil {
			return nil, w.placed(err)
		}
		for _, m := range measured {
			p.Notes = append(p.Notes, m.String())
		}
	}
	return p, w.keep(p, set)
}

// warn takes up what the user should know: of drawing and measures, where the sheath binds elsewhere than on the edge, and
// where on it (nil: nowhere).
func (w *knifeWork) warn(p *product, set *job.Set, left []string, bound error) {
	for _, warning := range slices.Concat(w.profile.Warnings, w.plan.Warnings) {
		p.Warnings = append(p.Warnings, warningAt(w.drawing, warning))
	}
	if w.request().Wants(job.Standoff) {
		w.thinning(p)
	}
	if bound != nil {
		said := bound.Error() + "; the pieces are not finished"
		p.Warnings, p.Grave = append(p.Warnings, said), append(p.Grave, said)
	}
	for _, warning := range slices.Concat(left, set.Warnings) {
		p.Warnings = append(p.Warnings, w.file+": "+warning)
	}
	for _, warning := range slices.Concat(left, set.Grave) {
		p.Grave = append(p.Grave, w.file+": "+warning)
	}
}

// edge looks, beside other work, where the sheath would bind, and gives what waits for the answer: what to
// say of places elsewhere than on the cutting edge, and an error for these. Beside it what was studied.
func (w *knifeWork) edge(hands []buck.Hand) (answer func() (study *path.Study, left []string, err error)) {
	type found struct {
		study *path.Study
		err   error
	}
	answered := make(chan found, 1)
	go func() {
		study, err := path.Checked(w.knife, hands)
		answered <- found{study, err}
	}()
	return func() (study *path.Study, left []string, err error) {
		f := <-answered
		if f.study != nil {
			left = bindsElsewhere(f.study.Verdict())
		}
		if f.err != nil {
			err = w.placed(f.err)
		}
		return f.study, left, err
	}
}

// bindsElsewhere is what to say of what binds elsewhere than on the cutting edge.
func bindsElsewhere(r *path.Report) (warnings []string) {
	for _, b := range path.Paired(r.Binds) {
		if b.Side != path.AtEdge {
			key, why := r.Advice(b.Bind)
			warnings = append(warnings, fmt.Sprintf("%s: the sheath binds %s: %s", key, b, why))
		}
	}
	return warnings
}

// thinning tells where the sheet over the boss, whose thickness is not stated, is reckoned with thicker
// than the draw of so high a boss leaves it: it warns where that costs more than half the clip's clearance.
func (w *knifeWork) thinning(p *product) {
	const key = "sheet.boss_thickness"
	all, err := buck.NewStandoffs(w.knife)
	if w.states(key) || err != nil {
		return
	}
	b := path.NewBoss(path.Highest(all))
	lower := b.Taken - b.Best
	if lower <= 0 {
		return
	}
	say := fmt.Sprintf("%s: %s: %.2f mm is reckoned with, as over a low boss; drawn %.1f mm high the sheet is %.2f mm at most, so that the clip sits %.2f mm lower and more: state what you measure",
		w.file, key, b.Taken, b.Height, b.Best, lower)
	if lower > w.knife.Spec.Clip.Clearance/2 {
		p.Warnings = append(p.Warnings, say)
	} else {
		p.Notes = append(p.Notes, say)
	}
}

// frame says how the drawing was turned into the blade's frame.
func (w *knifeWork) frame() []string {
	f := w.plan.Frame
	var notes []string
	for _, why := range []struct{ what, text string }{
		{"tip", f.Tip}, {"edge", f.Edge}, {"axis", f.Axis}, {"throat", f.Throat}, {"handle", f.Handle}, {"heel", f.Heel},
	} {
		if why.text != "" {
			notes = append(notes, fmt.Sprintf("%s: %s: %s", w.drawing, why.what, why.text))
		}
	}
	return notes
}
