// Package picture draws what a drawing was understood to hold, as SVG in the drawing's own axes:
// outline and holes, reference lines, landmarks, what was left out (faint), and every fault at its
// place with its number.
//
// One unit of the picture is 1 mm, so that it prints 1:1.
package picture

import (
	"bufio"
	"fmt"
	"html"
	"io"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/profile/plain"
)

// Picture is what to draw.
type Picture struct {
	Profile *profile.Profile // must not be nil
	Plan    *profile.Plan    // its landmarks; nil: none
	Faults  dxf.Faults       // marked where they have a point, listed in any case
}

// Layout of the page, in mm.
const (
	margin   = 12.0
	row      = 5.0
	fontSize = 3.5
	widest   = 0.35 // stroke
	charWide = 0.55 // of a character, in font sizes
)

// colours of the marks, by kind.
var colours = map[profile.MarkKind]string{
	profile.Handle: "#8a5a2b", profile.Grind: "#2e7d32", profile.Throat: "#a0359c", profile.Edge: "#c62828", profile.Tip: "#c62828", profile.Guard: "#5d4037", profile.Swedge: "#00695c",
}

// WriteSVG writes the picture. The same picture gives the same bytes.
func WriteSVG(w io.Writer, c Picture) error {
	p := &page{out: bufio.NewWriter(w)}
	lines := c.captions()
	box := c.bounds()
	width := box.Max.X - box.Min.X + 2*margin
	for _, l := range lines {
		width = max(width, 2*margin+charWide*fontSize*float64(len([]rune(l.text))))
	}
	height := box.Max.Y - box.Min.Y + 2*margin
	full := height + row*float64(len(lines)+1)
	p.printf(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="%s %s %s %s" font-family="sans-serif" font-size="%s">`+"\n",
		num(width), num(full), num(box.Min.X-margin), num(-box.Max.Y-margin), num(width), num(full), num(fontSize))
	p.printf("<title>%s</title>\n", html.EscapeString(plain.Text(c.Profile.File)))
	p.printf(`<rect x="%s" y="%s" width="%s" height="%s" fill="#ffffff"/>`+"\n", num(box.Min.X-margin), num(-box.Max.Y-margin), num(width), num(full))
	p.printf(`<g transform="scale(1,-1)" fill="none" stroke-width="%s" stroke-linejoin="round" stroke-linecap="round">`+"\n", num(widest))
	c.shapes(p)
	p.printf("</g>\n")
	c.landmarks(p)
	c.faults(p)
	for i, l := range lines {
		p.printf(`<text x="%s" y="%s" fill="%s">%s</text>`+"\n", num(box.Min.X), num(-box.Max.Y-margin+height+row*float64(i)), l.colour, html.EscapeString(plain.Text(l.text)))
	}
	p.printf("</svg>\n")
	if p.err != nil {
		return p.err
	}
	return p.out.Flush()
}

// page is the text of the picture as it grows, and the first error of writing it.
type page struct {
	out *bufio.Writer
	err error
}

func (p *page) printf(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.out, format, args...)
	}
}

// num is a length with as many figures as it needs, up to a thousandth of a mm.
func num(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64)
}

// bounds is the box of everything that is drawn; a small one where nothing is.
func (c Picture) bounds() r2.Box {
	var all []profile.Path
	all = append(all, profile.Path(c.Profile.Outline))
	for _, m := range c.Profile.Marks {
		all = append(all, m.Path)
	}
	if len(c.Profile.Outline) == 0 || len(c.Faults) > 0 {
		all = append(all, c.Profile.Left...)
	}
	var box r2.Box
	first := true
	take := func(b r2.Box) {
		if first {
			box, first = b, false
		}
		box.Min.X, box.Min.Y = min(box.Min.X, b.Min.X), min(box.Min.Y, b.Min.Y)
		box.Max.X, box.Max.Y = max(box.Max.X, b.Max.X), max(box.Max.Y, b.Max.Y)
	}
	for _, p := range all {
		if len(p) > 0 {
			take(p.Bounds())
		}
	}
	for _, f := range c.Faults {
		if f.At != nil {
			take(r2.Box{Min: *f.At, Max: *f.At})
		}
	}
	return box
}

// shapes draws all lines.
func (c Picture) shapes(p *page) {
	for _, l := range c.Profile.Left {
		p.path(l, "#c9c9c9", "none")
	}
	p.path(profile.Path(c.Profile.Outline), "#111111", "#f4f1ea")
	for _, h := range c.Profile.Holes {
		p.path(profile.Path(h), "#111111", "#ffffff")
	}
	for _, m := range c.Profile.Marks {
		p.path(m.Path, colours[m.Kind], "none")
	}
}

// path draws a path, arcs as arcs.
func (p *page) path(l profile.Path, stroke, fill string) {
	if len(l) == 0 {
		return
	}
	p.printf(`<path stroke="%s" fill="%s" d="M%s %s`, stroke, fill, num(l[0].A.X), num(l[0].A.Y))
	for _, s := range l {
		if s.Straight() {
			p.printf("L%s %s", num(s.B.X), num(s.B.Y))
			continue
		}
		_, r, _, sweep := s.Arc()
		p.printf("A%s %s 0 %d %d %s %s", num(r), num(r), flag(math.Abs(sweep) > math.Pi), flag(sweep > 0), num(s.B.X), num(s.B.Y))
	}
	if l.Closed() {
		p.printf("Z")
	}
	p.printf("\"/>\n")
}

func flag(b bool) int {
	if b {
		return 1
	}
	return 0
}

// landmarks names the places that the plan found.
func (c Picture) landmarks(p *page) {
	if c.Plan == nil {
		return
	}
	middle := c.Profile.Outline.Centroid()
	for _, m := range []struct {
		name string
		at   r2.Vec
	}{
		{"tip", c.Plan.Tip},
		{"heel", c.Plan.Heel},
		{"butt", c.Plan.Butt},
		{"throat, edge", c.Plan.ThroatEdge},
		{"throat, spine", c.Plan.ThroatSpine},
		{"origin", r2.Vec{}},
	} {
		at := c.Plan.Frame.ToDrawing(m.at)
		p.printf(`<circle cx="%s" cy="%s" r="0.9" fill="#1565c0"/><text x="%s" y="%s" fill="#1565c0">%s</text>`+"\n",
			num(at.X), num(-at.Y), num(at.X+1.5), num(-at.Y+label(at.Y < middle.Y)), m.name)
	}
}

// label is where a label lies beside its point, in mm downwards: outwards from the knife.
func label(below bool) float64 {
	if below {
		return 1.5 + fontSize
	}
	return -1.5
}

// faults marks each fault that has a place with its number in the list below.
func (c Picture) faults(p *page) {
	for i, f := range c.Faults {
		if f.At == nil {
			continue
		}
		p.printf(`<circle cx="%s" cy="%s" r="3" fill="none" stroke="#d50000" stroke-width="0.6"/><text x="%s" y="%s" fill="#d50000" font-weight="bold">%d</text>`+"\n",
			num(f.At.X), num(-f.At.Y), num(f.At.X+3.5), num(-f.At.Y-2), i+1)
	}
}

// caption is one line of text under the picture.
type caption struct{ text, colour string }

// captions say what the picture shows.
func (c Picture) captions() []caption {
	q := c.Profile
	out := []caption{{fmt.Sprintf("%s: units %s (%s), layer %s", q.File, q.Units, q.UnitsBy, q.Layer), "#111111"}}
	if len(q.Outline) > 0 {
		b := q.Outline.Bounds()
		out = append(out, caption{fmt.Sprintf("outline %.2f x %.2f mm, %.2f mm2, %.2f mm round; holes: %d", b.Max.X-b.Min.X, b.Max.Y-b.Min.Y, q.Outline.Area(), q.Outline.Perimeter(), len(q.Holes)), "#111111"})
	}
	for _, k := range profile.MarkKinds() {
		n := 0
		for _, m := range q.Marks {
			if m.Kind == k {
				n++
			}
		}
		if n > 0 {
			out = append(out, caption{fmt.Sprintf("%s: %d", k, n), colours[k]})
		}
	}
	for _, s := range q.Skipped {
		out = append(out, caption{fmt.Sprintf("left out: %d %s on layer %s (%s)", s.Count, s.Kind, s.Layer, s.Why), "#8a8a8a"})
	}
	for _, w := range q.Warnings {
		out = append(out, caption{w.String(), "#b26a00"})
	}
	for i, f := range c.Faults {
		out = append(out, caption{fmt.Sprintf("%d  %s", i+1, f.Error()), "#d50000"})
	}
	return out
}
