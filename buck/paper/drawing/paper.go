package drawing

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Paper is a size of paper, upright (ISO 216; ANSI/ASME Y14.1, from memory).
type Paper string

// The papers.
const (
	A4     Paper = "a4"
	Letter Paper = "letter"
)

// Papers are all papers.
func Papers() []Paper { return []Paper{A4, Letter} }

// Size is the paper's width and height upright, mm.
func (p Paper) Size() r2.Vec {
	if p == Letter {
		return r2.Vec{X: 215.9, Y: 279.4}
	}
	return r2.Vec{X: 210, Y: 297}
}

const (
	margin  = 10.0 // of a page, that printers may leave white
	overlap = 12.0 // of two pages side by side
	foot    = 22.0 // of a page, for the bars and what is said of the page
)

// Tiles puts a drawing that may be larger than the paper on as many pages as it takes, lying, at 1:1.
// Pages overlap by 12 mm, with crosses to lay them on each other by, and every page has bars of 100 mm
// and 4 in both ways.
func (d *Drawing) Tiles(p Paper) []*Drawing {
	size := p.Size()
	size.X, size.Y = size.Y, size.X
	field := r2.Vec{X: size.X - 2*margin - sideBars, Y: size.Y - 2*margin - foot}
	nx, ny := tiles(d.Size.X, field.X), tiles(d.Size.Y, field.Y)
	var pages []*Drawing
	for j := ny - 1; j >= 0; j-- { // from the top left
		for i := range nx {
			lo := r2.Vec{X: float64(i) * (field.X - overlap), Y: float64(j) * (field.Y - overlap)}
			pages = append(pages, d.tile(tile{
				size: size, field: field, lo: lo, number: len(pages) + 1, of: nx * ny, i: i, j: j, nx: nx, ny: ny,
			}))
		}
	}
	return pages
}

// sideBars is the width that the upright bars take beside the field, mm.
const sideBars = 12.0

// tiles is how many fields, overlapping, cover a length.
func tiles(length, field float64) int {
	return 1 + int(math.Ceil(max(0, length-field-1e-6)/(field-overlap)))
}

// tile is one page of many.
type tile struct {
	size, field, lo r2.Vec
	number, of      int
	i, j, nx, ny    int
}

func (d *Drawing) tile(t tile) *Drawing {
	title := d.Title
	if t.of > 1 {
		title = fmt.Sprintf("%s, page %d of %d", d.Title, t.number, t.of)
	}
	page := New(title, t.size)
	corner := r2.Vec{X: margin + sideBars, Y: margin + foot}
	clip := r2.Box{Min: t.lo, Max: r2.Add(t.lo, t.field)}
	for _, it := range d.items {
		page.items = append(page.items, clipped(it, clip, r2.Sub(corner, t.lo))...)
	}
	pen := Pen{Width: 0.13, Colour: Hair}
	page.Box(pen, r2.Box{Min: corner, Max: r2.Add(corner, t.field)})
	page.crosses(t, corner)
	page.Bars(r2.Vec{X: margin, Y: margin})
	page.Text(r2.Vec{X: t.size.X - margin, Y: margin + 9}, Type{Size: 4, Bold: true, Align: Right}, title)
	page.Text(r2.Vec{X: t.size.X - margin, Y: margin + 3}, Type{Size: 3.2, Align: Right, Colour: Quiet}, "print at actual size (100 %), then measure the bars both ways")
	return page
}

// crosses mark the corners of what two neighbouring pages share.
func (d *Drawing) crosses(t tile, corner r2.Vec) {
	xs, ys := []float64{}, []float64{}
	if t.i > 0 {
		xs = append(xs, overlap/2)
	}
	if t.i < t.nx-1 {
		xs = append(xs, t.field.X-overlap/2)
	}
	if t.j > 0 {
		ys = append(ys, overlap/2)
	}
	if t.j < t.ny-1 {
		ys = append(ys, t.field.Y-overlap/2)
	}
	mark := func(x, y float64) {
		p := r2.Add(corner, r2.Vec{X: x, Y: y})
		pen := Pen{Width: 0.18}
		d.Line(pen, r2.Add(p, r2.Vec{X: -3}), r2.Add(p, r2.Vec{X: 3}))
		d.Line(pen, r2.Add(p, r2.Vec{Y: -3}), r2.Add(p, r2.Vec{Y: 3}))
		d.Circle(pen, p, 1.5)
	}
	for _, x := range xs {
		mark(x, overlap)
		mark(x, t.field.Y-overlap)
	}
	for _, y := range ys {
		mark(overlap, y)
		mark(t.field.X-overlap, y)
	}
}
