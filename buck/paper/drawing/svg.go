package drawing

import (
	"bufio"
	"fmt"
	"html"
	"image/color"
	"io"
	"math"
	"strconv"
	"strings"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// SVG writes the drawing so that it prints 1:1: one unit is 1 mm. Texts are texts, held to the width that
// they have in the other forms.
func (d *Drawing) SVG(to io.Writer) error {
	w := &svg{Writer: bufio.NewWriter(to), height: d.Size.Y}
	w.printf(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s">`+"\n", num(d.Size.X), num(d.Size.Y), num(d.Size.X), num(d.Size.Y))
	w.printf("<title>%s</title>\n", html.EscapeString(d.Title))
	w.printf(`<rect width="%s" height="%s" fill="#ffffff"/>`+"\n", num(d.Size.X), num(d.Size.Y))
	for _, it := range d.shown() {
		switch {
		case it.text != "":
			w.text(it)
		case it.filled:
			w.printf(`<path d="%s" fill="%s" fill-rule="evenodd"/>`+"\n", w.data(it.paths), hex(it.fill))
		default:
			dash := ""
			for i, l := range it.pen.Dash {
				if i > 0 {
					dash += " "
				}
				dash += num(l)
			}
			if dash != "" {
				dash = fmt.Sprintf(` stroke-dasharray="%s"`, dash)
			}
			w.printf(`<path d="%s" fill="none" stroke="%s" stroke-width="%s" stroke-linecap="round" stroke-linejoin="round"%s/>`+"\n",
				w.data(it.paths), hex(it.pen.Colour), num(it.pen.width()), dash)
		}
	}
	w.printf("</svg>\n")
	return w.Flush()
}

type svg struct {
	*bufio.Writer
	height float64
}

func (w *svg) printf(format string, args ...any) { fmt.Fprintf(w, format, args...) }

func (w *svg) text(it item) {
	t := it.type_
	weight := ""
	if t.Bold {
		weight = ` font-weight="bold"`
	}
	turn := ""
	if t.TurnDeg != 0 {
		turn = fmt.Sprintf(` transform="rotate(%s %s %s)"`, num(-t.TurnDeg), num(it.at.X), num(w.height-it.at.Y))
	}
	w.printf(`<text x="%s" y="%s" font-family="Go, sans-serif" font-size="%s"%s fill="%s" text-anchor="%s" textLength="%s" lengthAdjust="spacingAndGlyphs"%s>%s</text>`+"\n",
		num(it.at.X), num(w.height-it.at.Y), num(t.size()), weight, hex(t.Colour),
		[...]string{"start", "middle", "end"}[t.Align], num(Width(t, it.text)), turn, html.EscapeString(it.text))
}

// data is the paths in SVG's words. A whole path that ends where it begins is closed.
func (w *svg) data(paths []profile.Path) string {
	var text strings.Builder
	put := func(letter string, p r2.Vec) { text.WriteString(letter + num(p.X) + " " + num(w.height-p.Y)) }
	for _, p := range paths {
		for i, s := range p {
			if i == 0 {
				put("M", s.A)
			}
			if s.Bulge == 0 {
				put("L", s.B)
				continue
			}
			_, r, _, sweep := s.Arc()
			large, way := 0, 1
			if math.Abs(sweep) > math.Pi {
				large = 1
			}
			if sweep > 0 {
				way = 0 // y runs down in SVG
			}
			put(fmt.Sprintf("A%s %s 0 %d %d ", num(r), num(r), large, way), s.B)
		}
		if p.Closed() {
			text.WriteString("Z")
		}
	}
	return text.String()
}

// num is a number to a tenth of a micrometre.
func num(v float64) string {
	v = math.Round(v*1e4) / 1e4
	if v == 0 {
		v = 0 // no -0
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func hex(c color.NRGBA) string { return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B) }
