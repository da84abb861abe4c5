// Package drawing describes a drawing once and writes it as SVG, PDF or PNG.
//
// Lengths are mm on the paper, y runs up, and the lower left corner of the paper is the origin. Arcs
// stay arcs in SVG, are drawn as cubics within 0.001 mm in PDF, and as chords within a tenth of a pixel in
// PNG. Letters are Go Regular and Go Bold; a text's size is that of its line, as a printer's point size
// is, in mm. The same drawing gives the same bytes.
package drawing

import (
	"image/color"
	"math"

	"formbuck/buck/internal/lettering"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// The colours that drawings share: they stay apart when printed in black.
var (
	Ink   = color.NRGBA{R: 24, G: 27, B: 33, A: 255}
	Quiet = color.NRGBA{R: 96, G: 101, B: 110, A: 255}
	Hair  = color.NRGBA{R: 190, G: 190, B: 186, A: 255}
	White = color.NRGBA{R: 255, G: 255, B: 255, A: 255}
)

// Pen draws lines. The zero value draws a hair line in ink.
type Pen struct {
	Width  float64 // mm; 0: 0.18
	Colour color.NRGBA
	Dash   []float64 // lengths of marks and gaps, mm; nil: a whole line
}

func (p Pen) width() float64 {
	if p.Width == 0 {
		return 0.18
	}
	return p.Width
}

func shade(c color.NRGBA) color.NRGBA {
	if c == (color.NRGBA{}) {
		return Ink
	}
	return c
}

// Align is which point of a text lies at its place.
type Align int

// The alignments: the line's left end, its middle, its right end.
const (
	Left Align = iota
	Centre
	Right
)

// Type is how a text is set. The zero value is regular, 3.5 mm, in ink, from its left end.
type Type struct {
	Size    float64 // mm; 0: 3.5
	Bold    bool
	Colour  color.NRGBA
	Align   Align
	TurnDeg float64
	Clear   bool // over all lines and areas, on a white ground of its own
}

func (t Type) size() float64 {
	if t.Size == 0 {
		return 3.5
	}
	return t.Size
}

// Drawing is what is on one sheet of paper.
type Drawing struct {
	Title string
	Size  r2.Vec // of the paper, mm
	items []item
	apart []string // titles of what may be set apart
}

// New is an empty drawing on a paper.
func New(title string, size r2.Vec) *Drawing {
	return &Drawing{Title: lettering.Legible(title), Size: size}
}

// item is one thing on the paper: lines or areas, or a text.
type item struct {
	paths  []profile.Path
	pen    *Pen
	fill   color.NRGBA
	text   string
	at     r2.Vec
	type_  Type
	filled bool

	heading bool // says what the drawing is, which every page of several says by itself
	apart   int  // number of the thing that it is part of and that may be set apart; 0: of none
}

// Stroke draws lines along paths.
func (d *Drawing) Stroke(p Pen, paths ...profile.Path) {
	p.Colour = shade(p.Colour)
	d.items = append(d.items, item{paths: paths, pen: &p})
}

// Fill fills what an odd number of the closed paths goes round.
func (d *Drawing) Fill(c color.NRGBA, paths ...profile.Path) {
	d.items = append(d.items, item{paths: paths, fill: c, filled: true})
}

// Text sets a line of text with its base line at a place, as lettering.Legible has it.
func (d *Drawing) Text(at r2.Vec, t Type, text string) {
	text = lettering.Legible(text)
	if text == "" {
		return
	}
	t.Colour = shade(t.Colour)
	d.items = append(d.items, item{text: text, at: at, type_: t})
}

// Heading sets what the drawing is over it. Where the drawing takes several pages it is left out, since their foot says so.
func (d *Drawing) Heading(at r2.Vec, text string) {
	first := len(d.items)
	d.Text(at, Type{Size: 5, Bold: true}, text)
	for i := first; i < len(d.items); i++ {
		d.items[i].heading = true
	}
}

// Line draws a straight line.
func (d *Drawing) Line(p Pen, a, b r2.Vec) { d.Stroke(p, profile.Path{{A: a, B: b}}) }

// Box draws a rectangle.
func (d *Drawing) Box(p Pen, b r2.Box) { d.Stroke(p, profile.Rectangle(b)) }

// Circle draws a circle.
func (d *Drawing) Circle(p Pen, centre r2.Vec, radius float64) { d.Stroke(p, Round(centre, radius)) }

// Round is a circle, counter-clockwise.
func Round(centre r2.Vec, radius float64) profile.Path {
	a, b := r2.Vec{X: centre.X + radius, Y: centre.Y}, r2.Vec{X: centre.X - radius, Y: centre.Y}
	return profile.Path{{A: a, B: b, Bulge: 1}, {A: b, B: a, Bulge: 1}}
}

// Placed is a path turned about the origin and then moved; bulges stay, since it is not mirrored.
func Placed(p profile.Path, turnDeg float64, by r2.Vec) profile.Path {
	out := make(profile.Path, len(p))
	place := func(v r2.Vec) r2.Vec { return r2.Add(r2.Rotate(v, turnDeg*math.Pi/180, r2.Vec{}), by) }
	for i, s := range p {
		out[i] = profile.Segment{A: place(s.A), B: place(s.B), Bulge: s.Bulge}
	}
	return out
}

// Add puts all of another drawing into this one, moved.
func (d *Drawing) Add(other *Drawing, by r2.Vec) {
	for _, it := range other.items {
		d.items = append(d.items, it.moved(by))
	}
}

// AddApart puts all of another drawing into this one, as Add does, and lets it be set elsewhere where both together are
// too large for a page.
func (d *Drawing) AddApart(other *Drawing, by r2.Vec) {
	first := len(d.items)
	d.Add(other, by)
	d.apart = append(d.apart, other.Title)
	for i := first; i < len(d.items); i++ {
		d.items[i].apart = len(d.apart)
	}
}

// Mirrored is a path seen from behind: x turned to -x, its arcs the other way.
func Mirrored(p profile.Path) profile.Path {
	out := make(profile.Path, len(p))
	for i, s := range p {
		out[i] = profile.Segment{A: r2.Vec{X: -s.A.X, Y: s.A.Y}, B: r2.Vec{X: -s.B.X, Y: s.B.Y}, Bulge: -s.Bulge}
	}
	return out
}
