package buck

import (
	"cmp"
	"errors"
	"fmt"

	"formbuck/buck/fixture"
	"formbuck/buck/layout"
)

// Plate is a plate that the sheaths of several designs of one outline are drilled and trimmed on.
type Plate struct {
	*fixture.Design
	Programs []fixture.Program // that make it
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

// Files are the plate's file for variants to name, its drawings, lists and papers, and its programs.
func (p *Plate) Files() (Files, error) {
	written, err := p.Design.Files(p.options.paper(), p.Programs)
	var all Files
	for _, f := range written {
		all = append(all, File{Name: f.Name, Data: f.Data})
	}
	return all, err
}
