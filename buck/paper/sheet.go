package paper

import (
	"strings"

	"formbuck/buck/paper/drawing"

	"gonum.org/v1/gonum/spatial/r2"
)

// writer fills upright pages with headings, lines and rows from the top down.
type writer struct {
	paper drawing.Paper
	title string
	pages []*drawing.Drawing
	y     float64
}

const (
	sideMargin = 18.0
	topMargin  = 16.0
	lineGap    = 4.6 // from a line to the next, mm
	body       = 3.3 // size of the text, mm
	column     = 46.0
)

func newWriter(title string, p drawing.Paper) *writer {
	w := &writer{paper: p, title: title}
	w.page()
	return w
}

func (w *writer) size() r2.Vec { return w.paper.Size() }

// page begins a page.
func (w *writer) page() {
	d := drawing.New(w.title, w.size())
	w.pages = append(w.pages, d)
	w.y = w.size().Y - topMargin
	d.Text(r2.Vec{X: sideMargin, Y: w.y}, drawing.Type{Size: 6, Bold: true}, w.title)
	w.y -= 8
}

func (w *writer) now() *drawing.Drawing { return w.pages[len(w.pages)-1] }

// space begins a new page where less than so much is left.
func (w *writer) space(needed float64) {
	if w.y-needed < topMargin {
		w.page()
	}
}

// heading begins a part.
func (w *writer) heading(text string) {
	w.space(16)
	w.y -= 2.4
	w.now().Text(r2.Vec{X: sideMargin, Y: w.y}, drawing.Type{Size: 4, Bold: true}, text)
	w.y -= 1.6
	w.now().Line(drawing.Pen{Width: 0.25}, r2.Vec{X: sideMargin, Y: w.y}, r2.Vec{X: w.size().X - sideMargin, Y: w.y})
	w.y -= lineGap
}

// row states a thing by its name, over as many lines as it takes.
func (w *writer) row(name, text string) {
	t := drawing.Type{Size: body}
	lines := wrap(text, t, w.size().X-2*sideMargin-column)
	w.space(float64(len(lines)) * lineGap)
	w.now().Text(r2.Vec{X: sideMargin, Y: w.y}, drawing.Type{Size: body, Colour: drawing.Quiet}, name)
	for _, line := range lines {
		w.now().Text(r2.Vec{X: sideMargin + column, Y: w.y}, t, line)
		w.y -= lineGap
	}
}

// tick is a line with a box to be ticked.
func (w *writer) tick(text string) {
	t := drawing.Type{Size: body}
	lines := wrap(text, t, w.size().X-2*sideMargin-6)
	w.space(float64(len(lines)) * lineGap)
	w.now().Box(drawing.Pen{Width: 0.25}, r2.Box{Min: r2.Vec{X: sideMargin, Y: w.y - 0.3}, Max: r2.Vec{X: sideMargin + 2.8, Y: w.y + 2.5}})
	for _, line := range lines {
		w.now().Text(r2.Vec{X: sideMargin + 6, Y: w.y}, t, line)
		w.y -= lineGap
	}
}

// wrap cuts a text into lines of at most a width, at blanks.
func wrap(text string, t drawing.Type, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		longer := strings.TrimSpace(line + " " + word)
		if line != "" && drawing.Width(t, longer) > width {
			lines = append(lines, line)
			longer = word
		}
		line = longer
	}
	return append(lines, line)
}

// pageFoot is where the number of a page stands.
func pageFoot(w *writer) r2.Vec { return r2.Vec{X: w.size().X - sideMargin, Y: 9} }
