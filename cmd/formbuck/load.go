package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"

	"formbuck/buck"
	"formbuck/buck/job"
	"formbuck/buck/variant"
	"formbuck/cmd/internal/folder"
	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/testdata"

	"gonum.org/v1/gonum/spatial/r3"
)

// demo is the variant that make makes without a file.
const demo = "thistle.toml"

// loaded is a variant read with its drawing.
type loaded struct {
	order   order
	variant *variant.Variant
	drawing string // its path
	profile *profile.Profile
}

// loadWork reads the order's variant file and the drawing it names, or the demo's.
func loadWork(o order) (work, error) {
	open := input[*variant.Variant]
	draw := input[*profile.Profile]
	file := o.variant
	if file == "" {
		open, draw, file = embedded[*variant.Variant], embedded[*profile.Profile], demo
	}
	v, err := open(file, func(r io.Reader) (*variant.Variant, error) { return variant.Decode(file, r) })
	if err != nil {
		return nil, err
	}
	w := &loaded{order: o, variant: v, drawing: v.Drawing.File}
	if o.variant != "" && !filepath.IsAbs(w.drawing) {
		w.drawing = filepath.Join(filepath.Dir(o.variant), w.drawing)
	}
	w.profile, err = draw(w.drawing, w.readDrawing)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			err = w.at("drawing.file", err)
		}
		return nil, err
	}
	return w, nil
}

// embedded reads one of the files within the program.
func embedded[T any](name string, decode func(io.Reader) (T, error)) (T, error) {
	f, err := testdata.FS.Open(name)
	if err != nil {
		var none T
		return none, err
	}
	defer f.Close() //nolint:errcheck // only read from
	return decode(f)
}

// readDrawing reads the drawing as the variant says.
func (w *loaded) readDrawing(r io.Reader) (*profile.Profile, error) {
	d, err := dxf.Decode(r, w.drawing)
	if err != nil {
		return nil, err
	}
	say := w.variant.Drawing
	return profile.Read(d, profile.Options{
		Units: say.Units,
		Layer: say.Layers.Outline,
		Gap:   say.JoinGap,
		Layers: map[profile.MarkKind]string{
			profile.Handle: say.Layers.Handle,
			profile.Grind:  say.Layers.Grind,
			profile.Throat: say.Layers.Throat,
			profile.Edge:   say.Layers.Edge,
			profile.Tip:    say.Layers.Tip,
		},
	})
}

// at puts the place of a variant's key before an error.
func (w *loaded) at(key string, err error) error {
	return fmt.Errorf("%v: %s: %w", w.variant.Where(key), key, err)
}

// Name is the variant's name.
func (w *loaded) Name() string { return w.variant.Spec.Name }

// hands are those that were asked for, else those of the variant, else all.
func (w *loaded) hands() []buck.Hand {
	switch {
	case len(w.order.hands) > 0:
		return w.order.hands
	case len(w.variant.Spec.Hands) > 0:
		return w.variant.Spec.Hands
	default:
		return buck.Hands()
	}
}

// Build makes the pieces, their files and pictures.
func (w *loaded) Build(ctx context.Context) (*product, error) {
	set, plan, err := w.make(ctx)
	if err != nil {
		return nil, w.placed(err)
	}
	files, err := set.Files(ctx, job.Format{ASCII: w.order.ascii, Place: w.order.place}, w.hands())
	if err != nil {
		return nil, err
	}
	p := &product{Warnings: w.warnings(plan, set), Notes: append(frameNotes(plan.Frame), set.Notes...)}
	for _, f := range files {
		p.Files = append(p.Files, folder.File{Name: f.Name, Data: f.Data})
	}
	for _, piece := range set.Pieces {
		p.Pieces = append(p.Pieces, w.row(piece))
	}
	return p, nil
}

// make goes from the drawing to the meshes.
func (w *loaded) make(ctx context.Context) (*job.Set, *profile.Plan, error) {
	v := w.variant
	plan, err := w.profile.Plan(profile.Hints{
		TipDeg:      v.Drawing.TipDeg,
		EdgeDeg:     v.Drawing.EdgeDeg,
		HandleFront: v.Spec.Handle.Front,
		ThroatDepth: v.Spec.Throat.Depth,
	})
	if err != nil {
		return nil, nil, err
	}
	knife, err := buck.NewKnife(plan, v.Spec)
	if err != nil {
		return nil, nil, err
	}
	r := job.Request{Hands: w.hands()}
	for _, k := range w.order.pieces {
		r.Kinds = append(r.Kinds, job.Kind(k))
	}
	set, err := job.Make(ctx, knife, r)
	return set, plan, err
}

// placed gives an error the place in the variant file that it comes from.
func (w *loaded) placed(err error) error {
	var f *buck.Fault
	if errors.As(err, &f) {
		return w.at(f.Key, err)
	}
	var drawing *dxf.Fault
	var drawings dxf.Faults
	if errors.As(err, &drawing) || errors.As(err, &drawings) {
		return err // says its own file
	}
	return fmt.Errorf("%v: %w", w.variant.Where(""), err)
}

// warnings are those of the drawing, of its plan and of the pieces.
func (w *loaded) warnings(plan *profile.Plan, set *job.Set) []string {
	var all []string
	for _, list := range [][]profile.Warning{w.profile.Warnings, plan.Warnings} {
		for _, x := range list {
			all = append(all, w.drawing+": "+x.String())
		}
	}
	return append(all, set.Warnings...)
}

// frameNotes are what was decided about the drawing, a line each.
func frameNotes(f profile.Frame) []string {
	var notes []string
	for _, s := range []string{f.Tip, f.Edge, f.Axis, f.Throat, f.Handle, f.Heel} {
		if s != "" {
			notes = append(notes, "drawing: "+s)
		}
	}
	return notes
}

// row is the piece's line in the summary.
func (w *loaded) row(p *job.Piece) pieceRow {
	stem := w.Name() + "-" + p.Name
	b := p.Printed().Bounds()
	volume := p.Mesh.Volume()
	return pieceRow{
		Piece: string(p.Kind), Hand: p.Hand,
		File: stem + ".stl", Picture: stem + ".png",
		Size:     r3.Sub(b.Max, b.Min),
		Volume:   volume,
		Mass:     volume / 1000 * job.Density,
		Governed: p.Governed,
	}
}
