package buck

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"strings"

	"formbuck/buck/fixture"
	"formbuck/buck/fixture/printed"
	"formbuck/buck/layout"
	"formbuck/buck/picture"
	"formbuck/mesh/stl"
	"formbuck/mesh/threemf"
)

// Plate is a plate that the sheaths of several designs of one outline are drilled and trimmed on.
type Plate struct {
	*fixture.Design
	Programs []fixture.Program // that make it
	Printed  []printed.Piece   // that go with it, or do without a mill
	Warnings []string          // a line each, with the variant's file
	options  Options
}

// NewPlate plans one plate for all designs given, named for the first. They are of one outline and have the measures of
// eyelets, layout, mouth, mill and fixture alike. Of the options, hands and paper count.
func NewPlate(family []*Design, o Options) (*Plate, error) {
	if len(family) == 0 {
		return nil, errors.New("a plate is planned for one design at the least")
	}
	first := family[0]
	var members []layout.Member
	for _, d := range family {
		if err := first.alike(d); err != nil {
			return nil, err
		}
		members = append(members, layout.Member{Knife: d.knife, Hands: o.hands(d)})
	}
	made, err := fixture.New(members, first.Name(), Version())
	if err != nil {
		return nil, first.placed(err)
	}
	p := &Plate{Design: made, options: o}
	if p.Programs, err = made.Programs(); err != nil {
		return nil, first.placed(err)
	}
	if p.Printed, err = printed.All(made); err != nil {
		return nil, first.placed(err)
	}
	for _, w := range made.Sheath.Warnings {
		p.Warnings = append(p.Warnings, first.file+": "+w)
	}
	return p, nil
}

// alike refuses a design that cannot lie on one plate with another.
func (d *Design) alike(other *Design) error {
	if key, was, is := fixture.Alike(d.variant, other.variant); key != "" {
		return fmt.Errorf("%s: %s: %s, and %s in %s: variants on one plate have this alike",
			other.variant.Where(key), key, cmp.Or(is, "not given"), cmp.Or(was, "not given"), d.file)
	}
	if layout.OutlineOf(d.knife) != layout.OutlineOf(other.knife) {
		return fmt.Errorf("%s: %s is another outline, or has its mouth elsewhere, than %s of %s: a plate is for one", other.file, other.drawing, d.drawing, d.file)
	}
	return nil
}

// Files are the plate's file for variants to name, its drawings, lists and papers, its programs, and the print files and
// pictures of what is printed.
func (p *Plate) Files() (Files, error) {
	written, err := p.Design.Files(p.options.paper(), p.Programs)
	if err != nil {
		return nil, err
	}
	var all Files
	for _, f := range written {
		all = append(all, File{Name: f.Name, Data: f.Data})
	}
	return p.prints(all)
}

// prints adds the files of what is printed: for each piece a print file and a picture, and print files of all side by side.
func (p *Plate) prints(all Files) (Files, error) {
	bed := p.Design.Sheath.Knife.Spec.Whole.Bed
	set := &threemf.Package{Title: p.Plate.Knife + ", for the plate", Application: "formbuck", Bed: bed}
	add := func(name string, write func(io.Writer) error) error {
		var b bytes.Buffer
		err := write(&b)
		all = append(all, File{Name: name, Data: b.Bytes()})
		return err
	}
	for _, piece := range p.Printed {
		m := piece.Bed()
		set.Objects = append(set.Objects, threemf.Object{Name: piece.Name, Mesh: m})
		o := picture.Options{Title: p.Plate.Knife + ": " + piece.Name, Caption: strings.Join(piece.Notes, "\n")}
		if b := p.Design.Sheath.Knife.Spec.Blade; b.Edges > 1 {
			o.Edge, o.Spine = b.Told("edge"), b.Told("spine")
		}
		im, err := picture.Views([]picture.Part{{Mesh: piece.Mesh}}, o)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", piece.Name, err)
		}
		for _, err := range []error{
			add(piece.Name+".stl", func(to io.Writer) error { return stl.Encode(to, m, piece.Name) }),
			add(piece.Name+".png", func(to io.Writer) error { return picture.EncodePNG(to, im) }),
		} {
			if err != nil {
				return nil, fmt.Errorf("%s: %w", piece.Name, err)
			}
		}
	}
	for i, one := range set.Plates() {
		if err := add(fmt.Sprintf("print-%d.3mf", i+1), func(to io.Writer) error { return threemf.Encode(to, one) }); err != nil {
			return nil, err
		}
	}
	return all, nil
}
