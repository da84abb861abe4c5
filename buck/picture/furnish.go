package picture

import (
	"image"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// furnish writes what stands about the panes: title, legend, caption, scale bar, axes.
func (s *sheet) furnish() {
	u, left := s.u, margin*s.u
	if s.title != "" {
		s.text(s.title, left, (margin+titleText*0.74)*u, titleText*u, ink)
	}
	for _, e := range s.legend {
		s.swatch(e)
		s.text(e.name, e.x+26*u, e.y+0.36*legendText*u, legendText*u, ink)
	}
	right := float64(s.o.Width) - left
	s.line(r2.Vec{X: left, Y: s.foot}, r2.Vec{X: right, Y: s.foot}, 1, hair)
	for i, t := range s.caption {
		s.text(t, left, s.foot+(14+captionLine*float64(i)+captionText*0.8)*u, captionText*u, quiet)
	}
	y := s.foot
	if s.stacked {
		y += float64(len(s.caption)) * captionLine * u
	}
	s.axes(right-104*u, y+64*u)
	s.scaleBar(right-footWidth*u, y+52*u)
}

// swatch is the spot of colour before a name; a faint part's is an open frame.
func (s *sheet) swatch(e entry) {
	d, w := 16*s.u, 1.2*s.u
	square := func(x0, y0, x1, y1 float64) []r2.Vec {
		return []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	}
	s.polygon(quiet, square(e.x, e.y-d/2, e.x+d, e.y+d/2)...)
	c := e.colour
	c.A = 255
	if e.faint {
		mix := func(a, b uint8) uint8 { return uint8((int(a)*35 + int(b)*65) / 100) }
		c.R, c.G, c.B = mix(c.R, paper.R), mix(c.G, paper.G), mix(c.B, paper.B)
	}
	s.polygon(c, square(e.x+w, e.y-d/2+w, e.x+d-w, e.y+d/2-w)...)
}

// scaleBar draws a bar of a round length as the pane shows it along x (or along y, where x is
// seen nearly end on), with ticks at its tenths or fifths.
func (s *sheet) scaleBar(x, y float64) {
	axis, along := r3.Vec{X: 1}, "x"
	ux, uy := s.main.unitSeen(axis)
	if math.Hypot(ux, uy) < 0.3*s.main.scale {
		axis, along = r3.Vec{Y: 1}, "y"
		ux, uy = s.main.unitSeen(axis)
	}
	if ux < 0 {
		ux, uy = -ux, -uy
	}
	per := math.Hypot(ux, uy) // pixels per mm along the axis
	mm, parts := roundLength(barLength * s.u / per)
	dir := r2.Vec{X: ux / per, Y: uy / per}
	a := r2.Vec{X: x, Y: y - mm*per*dir.Y/2}
	up := r2.Vec{X: dir.Y, Y: -dir.X}
	for i := range parts {
		p := r2.Add(a, r2.Scale(mm*per*float64(i)/float64(parts), dir))
		q := r2.Add(a, r2.Scale(mm*per*float64(i+1)/float64(parts), dir))
		c := ink
		if i%2 == 1 {
			c = paper
		}
		t := r2.Scale(7*s.u, up)
		s.polygon(c, p, q, r2.Add(q, t), r2.Add(p, t))
		s.line(p, q, 1, ink)
		s.line(r2.Add(p, t), r2.Add(q, t), 1, ink)
	}
	for _, e := range [2]r2.Vec{a, r2.Add(a, r2.Scale(mm*per, dir))} {
		s.line(e, r2.Add(e, r2.Scale(7*s.u, up)), 1, ink)
	}
	label := strconv.FormatFloat(mm, 'f', -1, 64) + " mm"
	if s.main.foreshortens(axis) {
		label += " along " + along
	}
	mid, size := r2.Add(a, r2.Scale(mm*per/2, dir)), 16*s.u
	below := size + s.width(label, size)/2*math.Abs(dir.Y)/max(dir.X, 0.5)
	s.textAt(label, mid.X, mid.Y+below, size, quiet)
}

// foreshortens tells whether the pane shows an axis shorter than it is.
func (p *pane) foreshortens(axis r3.Vec) bool {
	x, y := p.unitSeen(axis)
	return math.Hypot(x, y) < 0.9999*p.scale
}

// roundLength is the largest of 1, 2, 5, 10 ... mm not above the most, and its number of parts.
func roundLength(most float64) (mm float64, parts int) {
	p := math.Pow(10, math.Floor(math.Log10(most)))
	switch {
	case most >= 5*p:
		return 5 * p, 5
	case most >= 2*p:
		return 2 * p, 4
	default:
		return p, 5
	}
}

// axes draws the knife's frame as the main pane sees it, about the middle (x, y).
func (s *sheet) axes(x, y float64) {
	_, spine := s.o.sides()
	names := [3]string{"x tip", "y " + spine, "z right face"}
	size := 15 * s.u
	var arms [3]r2.Vec
	top, bottom := 0.0, 0.0
	for i, axis := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		dx, dy := s.main.unitSeen(axis)
		arms[i] = r2.Scale(50*s.u/s.main.scale, r2.Vec{X: dx, Y: dy})
		top, bottom = min(top, arms[i].Y), max(bottom, arms[i].Y)
	}
	o := r2.Vec{X: x, Y: y - (top+bottom)/2}
	for i, v := range arms {
		l := r2.Norm(v)
		if l < 6*s.u {
			s.endOn(o, r3.Dot([3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[i], s.main.cam.toward) > 0)
			below := 25.0
			if bottom > -top {
				below = -14
			}
			s.text(names[i], o.X-2*s.u, o.Y+below*s.u, size, quiet)
			continue
		}
		along := r2.Scale(1/l, v)
		tip := r2.Add(o, v)
		s.line(o, r2.Sub(tip, r2.Scale(6*s.u, along)), 1.6, ink)
		s.arrow(tip, along, 12*s.u, ink)
		side := along.X
		if math.Abs(along.X) < 0.3 { // upright: beside the head, on the left when it points up
			side = along.Y
		}
		at := r2.Vec{X: tip.X + math.Copysign(s.width(names[i], size)/2+8*s.u, side), Y: tip.Y + 3*along.Y*s.u}
		s.textAt(names[i], at.X, at.Y, size, quiet)
	}
}

// endOn marks an axis seen end on: a dot points towards the reader, a cross away from him.
func (s *sheet) endOn(o r2.Vec, toward bool) {
	s.ring(o.X, o.Y, 6*s.u, 1.5*s.u, 0, ink)
	if toward {
		s.ring(o.X, o.Y, 0.8*s.u, 1.8*s.u, 0, ink)
		return
	}
	d := 4 * s.u
	s.line(r2.Vec{X: o.X - d, Y: o.Y - d}, r2.Vec{X: o.X + d, Y: o.Y + d}, 1.3, ink)
	s.line(r2.Vec{X: o.X - d, Y: o.Y + d}, r2.Vec{X: o.X + d, Y: o.Y - d}, 1.3, ink)
}

// labelBeside writes a mark's label next to a point, on the side where there is room.
func (s *sheet) labelBeside(t string, x, y float64, r image.Rectangle) {
	size := 16 * s.u
	w := s.width(t, size)
	left := x + 16*s.u
	if left+w > float64(r.Max.X) {
		left = x - 16*s.u - w
	}
	s.polygon(paper, r2.Vec{X: left - 4, Y: y - size*0.7}, r2.Vec{X: left + w + 4, Y: y - size*0.7}, r2.Vec{X: left + w + 4, Y: y + size*0.7}, r2.Vec{X: left - 4, Y: y + size*0.7})
	s.text(t, left, y+0.36*size, size, red)
}
