package buck

import (
	"errors"
	"fmt"
	"image/png"
	"io"

	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/buck/path/picture"

	"gonum.org/v1/gonum/spatial/r2"
)

// DrawOptions say from which sheath a knife is drawn, and how. The zero value draws it straight from the
// sheath of the design's first hand.
type DrawOptions struct {
	Hand   measures.Hand
	Centre *r2.Vec // of circles to draw it along, in the blade's frame; nil: straight
	Step   float64 // width of the cells that are looked at, mm; 0: 0.1
}

// Draw is what became of a knife that was drawn out of its sheath.
type Draw struct {
	Hand     measures.Hand
	Report   *path.Report
	Warnings []string // a line each, with the variant's file

	name  string
	binds error
}

// Draw tells whether the knife comes out of the sheath that is formed over its buck. That it binds is no
// error: see [Draw.Binds].
func (d *Design) Draw(o DrawOptions) (*Draw, error) {
	hand := o.Hand
	if hand == "" {
		hand = d.Hands()[0]
	}
	on, err := path.Made(d.knife, hand)
	if err != nil {
		return nil, d.placed(err)
	}
	drawn := &Draw{Hand: hand, name: d.Name()}
	drawn.Report = path.NewReport(on, path.Options{Step: o.Step, Centre: o.Centre})
	for _, warning := range drawn.Report.Warnings() {
		drawn.Warnings = append(drawn.Warnings, d.file+": "+warning)
	}
	var all []error
	for _, b := range path.Paired(drawn.Report.Binds) {
		key, why := drawn.Report.Advice(b.Bind)
		all = append(all, d.placed(&measures.Fault{Key: key, What: fmt.Sprintf("binds %s: %s", b, why)}))
	}
	drawn.binds = errors.Join(all...)
	return drawn, nil
}

// Binds is the error of a knife that binds, a line for each place; nil where it draws freely.
func (d *Draw) Binds() error { return d.binds }

// Map writes a plan of where it binds, as a PNG.
func (d *Draw) Map(to io.Writer) error {
	im, err := picture.Map(d.Report, d.name+": where the draw binds")
	if err != nil {
		return err
	}
	return png.Encode(to, im)
}

// Sections writes sections across the blade at some x, or at the telling ones, as a PNG.
func (d *Draw) Sections(to io.Writer, at ...float64) error {
	im, err := picture.Sections(d.Report, d.name+": sections", at)
	if err != nil {
		return err
	}
	return png.Encode(to, im)
}

// Strip writes the knife leaving its sheath, as a PNG.
func (d *Draw) Strip(to io.Writer) error {
	im, err := picture.Strip(d.Report, d.name+": leaving the sheath")
	if err != nil {
		return err
	}
	return png.Encode(to, im)
}
