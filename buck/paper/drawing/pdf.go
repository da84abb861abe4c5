package drawing

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"time"

	"formbuck/buck/internal/lettering"
	"formbuck/profile"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"gonum.org/v1/gonum/spatial/r2"
)

// PDF writes drawings as the pages of one document that prints 1:1. The title is the document's.
func PDF(to io.Writer, title string, pages ...*Drawing) error {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm"})
	// No clock: the same drawing gives the same bytes.
	doc.SetCreationDate(time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC))
	doc.SetModificationDate(time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC))
	doc.SetCatalogSort(true)
	doc.SetTitle(lettering.Legible(title), true)
	doc.SetCreator("formbuck", true)
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.SetLineCapStyle("round")
	doc.SetLineJoinStyle("round")
	doc.AddUTF8FontFromBytes("go", "", goregular.TTF)
	doc.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	for _, d := range pages {
		orientation := "P"
		size := fpdf.SizeType{Wd: d.Size.X, Ht: d.Size.Y}
		if size.Wd > size.Ht {
			orientation, size.Wd, size.Ht = "L", size.Ht, size.Wd
		}
		doc.AddPageFormat(orientation, size)
		p := pdf{doc, d.Size.Y}
		for _, it := range d.shown() {
			p.put(it)
		}
	}
	var b bytes.Buffer
	if err := doc.Output(&b); err != nil {
		return fmt.Errorf("pdf: %w", err)
	}
	text, err := unscaled(b.Bytes())
	if err != nil {
		return err
	}
	_, err = to.Write(text)
	return err
}

// unscaled asks viewers to print a document at its own size, not fitted to the paper: ViewerPreferences with PrintScaling None
// (ISO 32000-1:2008, 12.2, table 150), which the library has no word for. The catalog is the last object, so that its entry moves
// nothing but the table behind it, whose place is told at the end.
func unscaled(text []byte) ([]byte, error) {
	const kind, wish = "/Type /Catalog\n", "/Version /1.7\n/ViewerPreferences << /PrintScaling /None >>\n"
	at := bytes.LastIndex(text, []byte(kind))
	head, told, found := bytes.Cut(text, []byte("\nstartxref\n"))
	number, end, _ := bytes.Cut(told, []byte("\n"))
	table, err := strconv.Atoi(string(number))
	if at < 0 || !found || err != nil || table <= at || bytes.Contains(text[at:table], []byte(" obj\n")) {
		return nil, errors.New("pdf: the catalog is not the last object")
	}
	at += len(kind)
	return slices.Concat(head[:at], []byte(wish), head[at:], fmt.Appendf(nil, "\nstartxref\n%d\n", table+len(wish)), end), nil
}

// pdf is a page being written.
type pdf struct {
	*fpdf.Fpdf
	height float64
}

func (p pdf) put(it item) {
	switch {
	case it.text != "":
		p.text(it)
	case it.filled:
		p.SetFillColor(int(it.fill.R), int(it.fill.G), int(it.fill.B))
		p.trace(it.paths)
		p.DrawPath("f*")
	default:
		c := it.pen.Colour
		p.SetDrawColor(int(c.R), int(c.G), int(c.B))
		p.SetLineWidth(it.pen.width())
		p.SetDashPattern(it.pen.Dash, 0)
		p.trace(it.paths)
		p.DrawPath("D")
	}
}

// point is a point on the page, y down.
func (p pdf) point(v r2.Vec) (x, y float64) { return v.X, p.height - v.Y }

func (p pdf) trace(paths []profile.Path) {
	for _, path := range paths {
		for i, s := range path {
			if i == 0 {
				p.MoveTo(p.point(s.A))
			}
			if s.Bulge == 0 {
				p.LineTo(p.point(s.B))
				continue
			}
			p.arc(s)
		}
		if path.Closed() {
			p.ClosePath()
		}
	}
}

// arc draws an arc as cubics of at most 45 degrees each, which miss it by 4e-6 of its radius at most (de Boor,
// Höllig & Sabin, "High accuracy geometric Hermite interpolation", 1987, from memory; measured in the tests).
func (p pdf) arc(s profile.Segment) {
	centre, r, start, sweep := s.Arc()
	n := math.Ceil(math.Abs(sweep) / (math.Pi / 4))
	step := sweep / n
	k := 4.0 / 3 * math.Tan(step/4)
	at := func(a float64) r2.Vec { return r2.Vec{X: math.Cos(a), Y: math.Sin(a)} }
	for i := range int(n) {
		a, b := start+float64(i)*step, start+float64(i+1)*step
		c0 := r2.Add(at(a), r2.Scale(k, r2.Vec{X: -math.Sin(a), Y: math.Cos(a)}))
		c1 := r2.Sub(at(b), r2.Scale(k, r2.Vec{X: -math.Sin(b), Y: math.Cos(b)}))
		end := at(b)
		x0, y0 := p.point(r2.Add(centre, r2.Scale(r, c0)))
		x1, y1 := p.point(r2.Add(centre, r2.Scale(r, c1)))
		x, y := p.point(r2.Add(centre, r2.Scale(r, end)))
		p.CurveBezierCubicTo(x0, y0, x1, y1, x, y)
	}
}

func (p pdf) text(it item) {
	t := it.type_
	style := ""
	if t.Bold {
		style = "B"
	}
	p.SetFont("go", style, 0)
	p.SetFontUnitSize(t.size())
	p.SetTextColor(int(t.Colour.R), int(t.Colour.G), int(t.Colour.B))
	x, y := p.point(it.at)
	if t.TurnDeg != 0 {
		p.TransformBegin()
		p.TransformRotate(t.TurnDeg, x, y)
		defer p.TransformEnd()
	}
	p.Text(x-t.Align.shift()*Width(t, it.text), y, it.text)
}
