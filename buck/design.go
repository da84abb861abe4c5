// Package buck is the front door: from a variant file, or from measures and a drawing that a program
// has, to everything that the job needs. Open reads a [Design]; [Design.Check] says what is wrong with
// it, [Design.Make] makes the pieces and papers, [Design.Layout] the sheath and its programs,
// [Design.Draw] tells whether the knife comes out, and [Compare] what a change changes. A list of
// orders is opened with [Source.OpenBatch].
//
// Every gate is inside: what the command refuses, Make refuses, unless [Options].Unfinished says
// otherwise. Nothing is written, printed or read but through what the caller hands over; the same
// input gives the same bytes. Lengths are mm, angles degrees, in the blade's frame: x from the butt to
// the tip, y from the edge to the spine, z out of the right face.
//
// An error about the input can be taken apart with [Faults].
package buck

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"

	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/buck/variant"
	"formbuck/profile"
	"formbuck/profile/dxf"
)

// Design is a variant that was read and understood: its measures, its drawing, and the knife that comes
// of both.
type Design struct {
	file    string // of the variant
	variant *variant.Variant
	drawing string // path of the drawing
	drawn   []byte // what it holds
	profile *profile.Profile
	plan    *profile.Plan
	knife   *pieces.Buck
}

// Source is where the files of a variant are found, and how strictly they are read.
type Source struct {
	// Read reads a whole file. Paths that a file gives are seen from its folder, and are the system's own.
	// Its errors name the path.
	Read func(path string) ([]byte, error)

	// Unfinished takes an outline of a size that no knife has, with a warning.
	Unfinished bool
}

// Open reads a variant file of a file system, with the files that it builds on and its drawing.
func Open(fsys fs.FS, file string) (*Design, error) { return From(fsys).Open(file) }

// From is the source that reads from a file system, such as an embedded one or os.DirFS.
func From(fsys fs.FS) Source {
	return Source{Read: func(path string) ([]byte, error) {
		data, err := fs.ReadFile(fsys, filepath.ToSlash(path))
		var system *fs.PathError
		if errors.As(err, &system) {
			return nil, fmt.Errorf("%s: %w", path, system.Err)
		}
		return data, err
	}}
}

// Open reads a variant file, with the files that it builds on and its drawing.
func (s Source) Open(file string) (*Design, error) {
	v, err := variant.Load(file, s.Read)
	if err != nil {
		return nil, err
	}
	d := &Design{file: file, variant: v}
	d.drawing = seenFrom(v.Where("drawing.file").File, filepath.FromSlash(v.Drawing.File))
	if d.drawn, err = s.Read(d.drawing); err != nil {
		return nil, fmt.Errorf("%s: drawing.file: %w", v.Where("drawing.file"), err)
	}
	return checked(d, d.read(s.Unfinished))
}

// checked is the design where there is no error.
func checked(d *Design, err error) (*Design, error) {
	if err != nil {
		return nil, err
	}
	return d, nil
}

// New is a design of measures and a drawing of lines, arcs and polylines that come out of no file:
// [variant.Default] has measures to begin with. Both are held to what those of files are held to.
func New(spec measures.Spec, drawing *dxf.Drawing) (*Design, error) {
	v, err := variant.Of(spec)
	if err != nil {
		return nil, err
	}
	d := &Design{file: v.Spec.Name, variant: v, drawing: v.Spec.Name + ".dxf"}
	var b bytes.Buffer
	if err := dxf.Encode(&b, drawing); err != nil {
		return nil, fmt.Errorf("%s: %w", d.drawing, err)
	}
	d.drawn = b.Bytes()
	return checked(d, d.read(false))
}

// read turns the drawing into the blade's frame, and drawing and measures into the knife.
func (d *Design) read(unfinished bool) error {
	entities, err := dxf.Parse(d.drawn, d.drawing)
	if err != nil {
		return err
	}
	from := d.variant.Drawing
	d.profile, err = profile.Read(entities, profile.Options{
		Units: from.Units, Layer: from.Layers.Outline, Gap: from.JoinGap, Layers: marksOf(from.Layers), Unfinished: unfinished,
	})
	if err != nil {
		return err
	}
	if d.plan, err = d.profile.Plan(d.variant.Hints()); err != nil {
		return err
	}
	if d.knife, err = pieces.NewBuck(d.plan, d.variant.Spec); err != nil {
		return d.placed(err)
	}
	return nil
}

// with is the design with another variant of the same drawing.
func (d *Design) with(v *variant.Variant, unfinished bool) (*Design, error) {
	other := &Design{file: d.file, variant: v, drawing: d.drawing, drawn: d.drawn}
	return checked(other, other.read(unfinished))
}

// marksOf are the names of the layers on which reference lines are looked for.
func marksOf(l variant.Layers) map[profile.MarkKind]string {
	return map[profile.MarkKind]string{
		profile.Handle: l.Handle, profile.Grind: l.Grind, profile.Throat: l.Throat,
		profile.Edge: l.Edge, profile.Tip: l.Tip, profile.Guard: l.Guard, profile.Swedge: l.Swedge,
	}
}

// Name is the variant's name, fit for file names.
func (d *Design) Name() string { return d.variant.Spec.Name }

// File is the path of the variant's file; without one, the variant's name.
func (d *Design) File() string { return d.file }

// Spec are the variant's measures, with the defaults filled in.
func (d *Design) Spec() measures.Spec { return d.variant.Spec }

// Knife is the knife of the design.
func (d *Design) Knife() *pieces.Buck { return d.knife }

// Hands are those that the variant names, else all.
func (d *Design) Hands() []measures.Hand {
	if len(d.variant.Spec.Hands) > 0 {
		return slices.Clone(d.variant.Spec.Hands)
	}
	return measures.Hands()
}

// Notes say how the drawing was turned into the blade's frame, a line each.
func (d *Design) Notes() []string {
	f := d.plan.Frame
	var notes []string
	for _, why := range []struct{ what, text string }{
		{"tip", f.Tip}, {"edge", f.Edge}, {"axis", f.Axis}, {"throat", f.Throat}, {"handle", f.Handle}, {"heel", f.Heel},
	} {
		if why.text != "" {
			notes = append(notes, fmt.Sprintf("%s: %s: %s", d.drawing, why.what, why.text))
		}
	}
	return notes
}

// states tells whether the variant gives a key, rather than taking what is usual.
func (d *Design) states(key string) bool {
	return slices.ContainsFunc(d.variant.Settings(), func(s variant.Setting) bool { return s.Key.Path == key && s.Given })
}

// seenFrom is a path that a file gives, seen from the folder of the file.
func seenFrom(file, path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(filepath.Dir(file), path)
}

// stem is the last part of a path without its ending.
func stem(file string) string {
	base := path.Base(filepath.ToSlash(file))
	return base[:len(base)-len(path.Ext(base))]
}
