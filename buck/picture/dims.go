package picture

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// dim is one overall dimension: an edge of the box of all parts, drawn off the box along out.
type dim struct {
	axis  int    // 0 x, 1 y, 2 z
	a, b  r3.Vec // mm
	out   r3.Vec // unit, along an axis
	label string
}

// The dimensions of a picture, in pixels at a scale of 1.
const (
	dimText  = 18
	dimGap   = 7  // from the box to the extension line
	dimOff   = 30 // from the box to the dimension line
	dimPast  = 5  // extension line beyond the dimension line
	dimArrow = 11
	dimAir   = 6 // between the line and its label
)

// overall chooses the dimensions that a camera can show: for each axis not seen end on, the edge
// of the box that lies outermost on the side where a reader looks for it: length below, width on
// the right, height on the left.
func overall(c camera, b box) []dim {
	axes := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	read := [3]r3.Vec{{X: 0.2, Y: -1}, {X: 1, Y: -0.2}, {X: -1, Y: 0.1}}
	off := [3][2]int{{1, 2}, {0, 2}, {0, 1}} // along which axes a dimension may leave the box
	size := b.size()
	lengths := [3]float64{size.X, size.Y, size.Z}
	var dims []dim
	for i, axis := range axes {
		s := c.see(axis)
		n := math.Hypot(s.X, s.Y)
		if n < 0.12 || lengths[i] < 5e-3 {
			continue
		}
		side := r3.Vec{X: s.Y / n, Y: -s.X / n} // across the edge, in view axes
		if r3.Dot(side, read[i]) < 0 {
			side = r3.Scale(-1, side)
		}
		for _, k := range off[i] {
			across := r3.Dot(c.see(axes[k]), side)
			if math.Abs(across) < 0.25 {
				continue
			}
			d := dim{axis: i, out: r3.Scale(math.Copysign(1, across), axes[k]), label: lengthText(lengths[i])}
			d.a, d.b = outermost(c, b, i, side)
			dims = append(dims, d)
			break
		}
	}
	return dims
}

// only keeps the dimensions of one axis.
func only(axis int, dims []dim) []dim {
	return slices.DeleteFunc(slices.Clone(dims), func(d dim) bool { return d.axis != axis })
}

// outermost is the edge of the box along axis i that lies farthest towards side (view axes).
func outermost(c camera, b box, i int, side r3.Vec) (from, to r3.Vec) {
	best := math.Inf(-1)
	for k := range 8 {
		if k&(1<<i) != 0 {
			continue
		}
		if v := r3.Dot(c.see(b.corner(k)), side); v > best {
			best = v
			from, to = b.corner(k), b.corner(k|1<<i)
		}
	}
	return from, to
}

// lengthText words a length in mm for a picture: at most two decimals, no idle zeros.
func lengthText(mm float64) string {
	s := strconv.FormatFloat(mm, 'f', 2, 64)
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".") + " mm"
}

// drawnDim is a dimension in pixels.
type drawnDim struct {
	from, to   r2.Vec // the box edge
	offX, offY float64
	nx, ny     float64 // unit, across the edge, off the box
	cx, cy     float64 // centre of the label
	w, h       float64 // of the label
}

// lay places a dimension.
func (d dim) lay(p *pane) drawnDim {
	s := p.sheet
	a, b := p.at(d.a), p.at(d.b)
	g := drawnDim{from: r2.Vec{X: a.x, Y: a.y}, to: r2.Vec{X: b.x, Y: b.y}}
	ox, oy := p.unitSeen(d.out)
	l := math.Hypot(ox, oy)
	ox, oy = ox/l, oy/l
	along := r2.Unit(r2.Sub(g.to, g.from))
	g.nx, g.ny = -along.Y, along.X
	if g.nx*ox+g.ny*oy < 0 {
		g.nx, g.ny = -g.nx, -g.ny
	}
	k := 1 / (g.nx*ox + g.ny*oy)
	g.offX, g.offY = ox*k, oy*k
	g.w, g.h = s.width(d.label, dimText*s.u), dimText*s.u*0.72
	far := s.u*(dimOff+dimAir) + math.Abs(g.nx)*g.w/2 + math.Abs(g.ny)*g.h/2
	g.cx = (a.x+b.x)/2 + g.offX*dimOff*s.u + g.nx*(far-dimOff*s.u)
	g.cy = (a.y+b.y)/2 + g.offY*dimOff*s.u + g.ny*(far-dimOff*s.u)
	return g
}

// bounds grows a rectangle, in pixels, by all that a dimension draws.
func (g drawnDim) bounds(s *sheet, r box) box {
	end := s.u * (dimOff + dimPast + 1)
	for _, q := range [2]r2.Vec{g.from, g.to} {
		r = r.with(r3.Vec{X: q.X, Y: q.Y}).with(r3.Vec{X: q.X + g.offX*end, Y: q.Y + g.offY*end})
	}
	r = r.with(r3.Vec{X: g.cx - g.w/2 - 2, Y: g.cy - g.h/2 - 3})
	return r.with(r3.Vec{X: g.cx + g.w/2 + 2, Y: g.cy + g.h/2 + 3})
}

// paint draws extension lines, the dimension line with its arrows, and the label.
func (d dim) paint(p *pane) {
	s, g := p.sheet, d.lay(p)
	ext, gap, past := s.u*dimOff, s.u*dimGap, s.u*(dimOff+dimPast)
	a := r2.Vec{X: g.from.X + g.offX*ext, Y: g.from.Y + g.offY*ext}
	b := r2.Vec{X: g.to.X + g.offX*ext, Y: g.to.Y + g.offY*ext}
	for _, q := range [2]r2.Vec{g.from, g.to} {
		s.line(r2.Vec{X: q.X + g.offX*gap, Y: q.Y + g.offY*gap}, r2.Vec{X: q.X + g.offX*past, Y: q.Y + g.offY*past}, 1, soft)
	}
	along := r2.Unit(r2.Sub(b, a))
	arrow := s.u * dimArrow
	if r2.Norm(r2.Sub(b, a)) < 2.6*arrow { // too short: arrows from outside
		s.line(r2.Sub(a, r2.Scale(2*arrow, along)), r2.Add(b, r2.Scale(2*arrow, along)), 1.1, quiet)
		s.arrow(a, along, arrow, quiet)
		s.arrow(b, r2.Scale(-1, along), arrow, quiet)
	} else {
		s.line(a, b, 1.1, quiet)
		s.arrow(a, r2.Scale(-1, along), arrow, quiet)
		s.arrow(b, along, arrow, quiet)
	}
	s.textAt(d.label, g.cx, g.cy, dimText*s.u, ink)
}
