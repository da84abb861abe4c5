package drawing

import (
	"fmt"

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
	overlap  = 12.0 // of two pages side by side, at least
	foot     = 22.0 // of a page, for the bars and what is said of the page
	sideBars = 9.0  // the width that the upright bars take beside the field
	air      = 0.5  // between what is drawn and the field's border, at least
	mostAir  = 4.0  // and where there is room
	apartBy  = 6.0  // from one thing on a page to the next
)

// margin is what printers may leave white of a page, mm: common practice, no source. Letter is shorter than A4 by 17.6 mm, and takes
// as long a knife with less of it, which printers of today can do without.
func (p Paper) margin() float64 {
	if p == Letter {
		return 25.4 / 6 // mm
	}
	return 10
}

// sheet is a page on which things are drawn at 1:1: lying, or upright.
type sheet struct {
	size, field r2.Vec
	margin      float64
	corner      r2.Vec   // of the field, its lower left one
	items       []item   // on the page
	taken       []r2.Box // what of the field is taken, from its corner
	crosses     []r2.Vec // to lay pages on each other by, from its corner
}

// newSheet is an empty one.
func newSheet(p Paper, upright bool) *sheet {
	size := p.Size()
	if !upright {
		size.X, size.Y = size.Y, size.X
	}
	margin := p.margin()
	return &sheet{
		size: size, margin: margin, corner: r2.Vec{X: margin + sideBars, Y: margin + foot},
		field: r2.Vec{X: size.X - 2*margin - sideBars, Y: size.Y - 2*margin - foot},
	}
}

// room finds a place for something of a size beside what is there, from the field's corner: as far up as it goes, and then
// as far to the left.
func (s *sheet) room(size r2.Vec) (corner r2.Vec, ok bool) {
	left, over := clear(s.field.X-size.X), clear(s.field.Y-size.Y)
	xs, tops := []float64{left}, []float64{s.field.Y - over}
	for _, b := range s.taken {
		xs, tops = append(xs, b.Max.X+apartBy), append(tops, b.Min.Y-apartBy)
	}
	for _, top := range tops {
		for _, x := range xs {
			at := r2.Vec{X: x, Y: top - size.Y}
			if s.free(r2.Box{Min: at, Max: r2.Add(at, size)}) && (!ok || top > corner.Y+size.Y || top == corner.Y+size.Y && x < corner.X) {
				corner, ok = at, true
			}
		}
	}
	return corner, ok
}

// clear is how far something stays off the field's border where it leaves so much free.
func clear(left float64) float64 { return min(max(left/2, air), mostAir) }

// free tells whether a box is on the field, and far enough from what is there.
func (s *sheet) free(b r2.Box) bool {
	const slack = 1e-6
	if b.Min.X < air-slack || b.Min.Y < air-slack || b.Max.X > s.field.X-air+slack || b.Max.Y > s.field.Y-air+slack {
		return false
	}
	for _, t := range s.taken {
		if b.Min.X < t.Max.X+apartBy-slack && t.Min.X < b.Max.X+apartBy-slack && b.Min.Y < t.Max.Y+apartBy-slack && t.Min.Y < b.Max.Y+apartBy-slack {
			return false
		}
	}
	return true
}

// put draws items that take a box with the box's lower left corner at a place.
func (s *sheet) put(items []item, box r2.Box, at r2.Vec) {
	by := r2.Add(s.corner, r2.Sub(at, box.Min))
	for _, it := range items {
		s.items = append(s.items, it.moved(by))
	}
	s.taken = append(s.taken, r2.Box{Min: at, Max: r2.Add(at, box.Size())})
}

// page is the sheet as a drawing, with its frame, bars of 100 mm and 4 in both ways, and what it is.
func (s *sheet) page(title string) *Drawing {
	page := New(title, s.size)
	page.items = append(page.items, s.items...)
	page.Box(Pen{Width: 0.13, Colour: Hair}, r2.Box{Min: s.corner, Max: r2.Add(s.corner, s.field)})
	for _, at := range s.crosses {
		page.cross(r2.Add(s.corner, at))
	}
	margin := s.margin
	page.Bars(r2.Vec{X: margin, Y: margin})
	page.Text(r2.Vec{X: s.size.X - margin, Y: margin + 9}, Type{Size: 4, Bold: true, Align: Right}, title)
	page.Text(r2.Vec{X: s.size.X - margin, Y: margin + 3}, Type{Size: 3.2, Align: Right, Colour: Quiet}, "print at actual size (100 %), then measure the bars both ways")
	page.Text(r2.Vec{X: s.size.X - margin, Y: margin + 14.5}, Type{Size: 3.2, Align: Right, Colour: Quiet}, "before you begin: the cautions on the job's set-up sheet")
	return page
}

// crossed puts crosses on the sheet.
func (s *sheet) crossed(at []r2.Vec) {
	s.crosses = at
	for _, p := range at {
		s.taken = append(s.taken, r2.Box{Min: r2.Sub(p, r2.Vec{X: 3, Y: 3}), Max: r2.Add(p, r2.Vec{X: 3, Y: 3})})
	}
}

// cross is a mark to lay pages on each other by.
func (d *Drawing) cross(p r2.Vec) {
	pen := Pen{Width: 0.18}
	d.Line(pen, r2.Add(p, r2.Vec{X: -3}), r2.Add(p, r2.Vec{X: 3}))
	d.Line(pen, r2.Add(p, r2.Vec{Y: -3}), r2.Add(p, r2.Vec{Y: 3}))
	d.Circle(pen, p, 1.5)
}

// paged are sheets as the pages of one thing.
func paged(title string, sheets []*sheet) []*Drawing {
	var pages []*Drawing
	for i, s := range sheets {
		said := title
		if len(sheets) > 1 {
			said = fmt.Sprintf("%s, page %d of %d", title, i+1, len(sheets))
		}
		pages = append(pages, s.page(said))
	}
	return pages
}
