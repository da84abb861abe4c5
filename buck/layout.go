package buck

import (
	"bytes"
	"io"

	"formbuck/buck/layout"
	"formbuck/buck/mill"
	"formbuck/profile/dxf"
)

// Layout is the sheath round a design's buck, with the mill's programs.
type Layout struct {
	Sheath   *layout.Sheath
	Programs []mill.Program
	Rules    []layout.Rule // the rule of thumb, for comparison
	Warnings []string      // a line each, with the variant's file

	design *Design
}

// Layout lays the sheath out. Of the options, the hands count.
func (d *Design) Layout(o Options) (*Layout, error) {
	s, err := layout.New(d.knife, o.hands(d))
	if err != nil {
		return nil, d.placed(err)
	}
	l := &Layout{Sheath: s, Programs: mill.Programs(s), design: d}
	if l.Rules, err = s.Rules(); err != nil {
		return nil, d.placed(err)
	}
	for _, warning := range append(s.Warnings, mill.Warnings(l.Programs)...) {
		l.Warnings = append(l.Warnings, d.file+": "+warning)
	}
	if len(s.Posts) > 0 {
		l.Warnings = append(l.Warnings, d.thin()...)
	}
	return l, nil
}

// Ways tells what each way to lay the pair on the mill costs; the sheath is laid out anew for each of them.
func (l *Layout) Ways() ([]layout.Cost, error) {
	ways, err := l.Sheath.Ways()
	if err != nil {
		return nil, l.design.placed(err)
	}
	return ways, nil
}

// DXF writes the layout as a drawing for a machine.
func (l *Layout) DXF(to io.Writer) error { return dxf.Encode(to, l.Sheath.Drawing()) }

// SVG writes it as a picture that prints 1:1.
func (l *Layout) SVG(to io.Writer) error { return l.Sheath.Sheet().SVG(to) }

// Files are the drawing, the picture and the programs that could be written.
func (l *Layout) Files() (Files, error) {
	var drawing, picture bytes.Buffer
	if err := l.DXF(&drawing); err != nil {
		return nil, err
	}
	if err := l.SVG(&picture); err != nil {
		return nil, err
	}
	name := l.Sheath.Knife.Spec.Name + "-sheath."
	return append(Files{{Name: name + "dxf", Data: drawing.Bytes()}, {Name: name + "svg", Data: picture.Bytes()}}, l.NGC()...), nil
}

// NGC are the programs for the mill that could be written.
func (l *Layout) NGC() Files {
	var all Files
	for _, p := range l.Programs {
		if p.Err == nil {
			all = append(all, File{Name: p.File(l.Sheath), Data: p.Text})
		}
	}
	return all
}
