package drawing

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// List fills upright pages with headings, rows, boxes to tick and drawings, from the top down.
type List struct {
	paper Paper
	title string
	pages []*Drawing
	y     float64

	part string // heading of the part that is being filled
	over bool   // a page was begun within it, whose heading is still to be set
}

const (
	sideMargin = 18.0
	topMargin  = 16.0
	lineGap    = 4.6 // from a line to the next, mm
	body       = 3.3 // size of the text, mm
	column     = 46.0
)

// NewList is a list with nothing but its title.
func NewList(title string, p Paper) *List {
	l := &List{paper: p, title: title}
	l.Page()
	return l
}

// Pages are the list's pages, numbered. Nothing is added afterwards.
func (l *List) Pages() []*Drawing {
	at := r2.Vec{X: l.paper.Size().X - sideMargin, Y: 9}
	for i, page := range l.pages {
		page.Text(at, Type{Size: 3, Align: Right, Colour: Quiet}, fmt.Sprintf("page %d of %d", i+1, len(l.pages)))
	}
	return l.pages
}

// Width is that of what fits between the margins, mm.
func (l *List) Width() float64 { return l.paper.Size().X - 2*sideMargin }

// Page begins a page.
func (l *List) Page() {
	size := l.paper.Size()
	d := New(l.title, size)
	l.pages = append(l.pages, d)
	l.y = size.Y - topMargin
	d.Text(r2.Vec{X: sideMargin, Y: l.y}, Type{Size: 6, Bold: true}, l.title)
	l.y -= 8
	l.over = l.part != ""
}

// goOn repeats the heading of a part that goes on on another page, as far as its colon.
func (l *List) goOn() {
	if l.over {
		short, _, _ := strings.Cut(l.part, ": ")
		l.headed(short + ", continued")
	}
}

func (l *List) now() *Drawing { return l.pages[len(l.pages)-1] }

// space begins a new page where less than so much is left.
func (l *List) space(needed float64) {
	if l.y-needed < topMargin {
		l.Page()
	}
}

// Keep begins a new page where fewer lines than so many are left on this one.
func (l *List) Keep(lines int) { l.space(float64(lines) * lineGap) }

// Left is how many mm are left on the page.
func (l *List) Left() float64 { return l.y - topMargin }

// Room begins a new page where less than so many mm are left on this one.
func (l *List) Room(height float64) { l.space(height) }

// Heading begins a part.
func (l *List) Heading(text string) {
	l.space(16)
	l.part = text
	l.headed(text)
}

// headed sets a heading.
func (l *List) headed(text string) {
	l.over = false
	l.y -= 2.4
	l.now().Text(r2.Vec{X: sideMargin, Y: l.y}, Type{Size: 4, Bold: true}, text)
	l.y -= 1.6
	l.now().Line(Pen{Width: 0.25}, r2.Vec{X: sideMargin, Y: l.y}, r2.Vec{X: sideMargin + l.Width(), Y: l.y})
	l.y -= lineGap
}

// Row states a thing by its name, over as many lines as it takes.
func (l *List) Row(name, text string) {
	l.lines(column, text, func() {
		l.now().Text(r2.Vec{X: sideMargin, Y: l.y}, Type{Size: body, Colour: Quiet}, name)
	})
}

// Tick is a text with a box to be ticked.
func (l *List) Tick(text string) {
	l.lines(6, text, func() {
		l.now().Box(Pen{Width: 0.25}, r2.Box{Min: r2.Vec{X: sideMargin, Y: l.y - 0.3}, Max: r2.Vec{X: sideMargin + 2.8, Y: l.y + 2.5}})
	})
}

// lines sets a text at an indent; what stands before its first line is drawn by lead.
func (l *List) lines(indent float64, text string, lead func()) {
	t := Type{Size: body}
	all := Wrap(text, t, l.Width()-indent)
	l.space(float64(len(all)) * lineGap)
	l.goOn()
	lead()
	for _, line := range all {
		l.now().Text(r2.Vec{X: sideMargin + indent, Y: l.y}, t, line)
		l.y -= lineGap
	}
}

// Place puts a drawing, no wider than Width, below what is there.
func (l *List) Place(d *Drawing) {
	l.space(d.Size.Y)
	l.goOn()
	l.y -= d.Size.Y
	l.now().Add(d, r2.Vec{X: sideMargin, Y: l.y})
	l.y -= lineGap
}

// Wrap cuts a text into lines of at most a width, at blanks.
func Wrap(text string, t Type, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && Width(t, longer) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	return append(lines, line)
}
