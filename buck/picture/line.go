package picture

import (
	"image"
	"image/color"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// coverage is how much of every pixel of an area is covered by lines. Where lines lie over each
// other the strongest counts, so their order does not matter.
type coverage struct {
	area image.Rectangle
	a    []uint8
}

func newCoverage(area image.Rectangle) *coverage {
	return &coverage{area: area, a: make([]uint8, area.Dx()*area.Dy())}
}

// stroke covers a line with round ends from (x0, y0) to (x1, y1), in pixels, of the given width
// and strength.
func (c *coverage) stroke(x0, y0, x1, y1, width, strength float64) {
	reach := width/2 + 1
	dx, dy := x1-x0, y1-y0
	length := math.Hypot(dx, dy)
	ux, uy := 1.0, 0.0
	if length > 1e-9 {
		ux, uy = dx/length, dy/length
	}
	top := max(int(math.Floor(min(y0, y1)-reach)), c.area.Min.Y)
	bottom := min(int(math.Ceil(max(y0, y1)+reach)), c.area.Max.Y)
	for y := top; y < bottom; y++ {
		lo, hi := min(x0, x1)-reach, max(x0, x1)+reach
		if math.Abs(dy) > 1e-9 {
			// the line's x at this row, give or take what the row's height and the width add
			m := x0 + (float64(y)+0.5-y0)*dx/dy
			r := (reach + math.Abs(ux)) / math.Abs(uy)
			lo, hi = max(lo, m-r), min(hi, m+r)
		}
		for x := max(int(math.Floor(lo)), c.area.Min.X); x < min(int(math.Ceil(hi)), c.area.Max.X); x++ {
			px, py := float64(x)+0.5-x0, float64(y)+0.5-y0
			t := min(max(px*ux+py*uy, 0), length)
			part := width/2 + 0.5 - math.Hypot(px-t*ux, py-t*uy)
			if part <= 0 {
				continue
			}
			v := uint8(255*min(part, width, 1)*strength + 0.5)
			if at := &c.a[(y-c.area.Min.Y)*c.area.Dx()+x-c.area.Min.X]; v > *at {
				*at = v
			}
		}
	}
}

// lay blends the colour over the image where it is covered.
func (c *coverage) lay(img *image.RGBA, k color.NRGBA) {
	for y := range c.area.Dy() {
		row := img.Pix[img.PixOffset(c.area.Min.X, c.area.Min.Y+y):]
		for x, v := range c.a[y*c.area.Dx() : (y+1)*c.area.Dx()] {
			if v > 0 {
				blend(row[4*x:4*x+3], k, int(v))
			}
		}
	}
}

// blend lays v of 255 parts of the colour over a pixel.
func blend(pix []uint8, k color.NRGBA, v int) {
	pix[0] = uint8((int(pix[0])*(255-v) + int(k.R)*v + 127) / 255)
	pix[1] = uint8((int(pix[1])*(255-v) + int(k.G)*v + 127) / 255)
	pix[2] = uint8((int(pix[2])*(255-v) + int(k.B)*v + 127) / 255)
}

// drawLines draws the real edges and the silhouettes, as far as they are seen.
func (d *drawing) drawLines() {
	d.lines = newCoverage(d.area)
	first := 0
	for i, b := range d.s.scene.bodies {
		for k := range b.edges {
			d.drawEdge(b, &b.edges[k], first, d.spots[i])
		}
		first += len(b.tris)
	}
	d.lines.lay(d.s.img, ink)
}

// drawEdge draws what is seen of one edge; first is the number of its body's first facet.
func (d *drawing) drawEdge(b *body, e *edge, first int, spots []spot) {
	l := &d.facets[first+int(e.l)]
	r := l
	if e.r >= 0 {
		r = &d.facets[first+int(e.r)]
	}
	if e.r >= 0 && !l.front && !r.front {
		return
	}
	width, strength := 1.15*d.s.u, 0.80*float64(e.line)
	if l.front != r.front || e.r < 0 {
		width, strength = 1.7*d.s.u, 0.92
	}
	if strength == 0 {
		return
	}
	if b.Faint {
		strength *= 0.4
	}
	p, q := spots[e.a], spots[e.b]
	n := max(int(math.Ceil(math.Hypot(q.x-p.x, q.y-p.y))), 1)
	from := -1
	for i := 0; i <= n; i++ {
		seen := false
		if i < n {
			t := (float64(i) + 0.5) / float64(n)
			seen = d.visible(spot{p.x + t*(q.x-p.x), p.y + t*(q.y-p.y), p.z + t*(q.z-p.z)}, l.patch, r.patch, b.Faint)
		}
		switch {
		case seen && from < 0:
			from = i
		case !seen && from >= 0:
			if i-from > 1 || n <= 2 {
				d.strokeSpots(p, q, float64(from)/float64(n), float64(i)/float64(n), width, strength)
			}
			from = -1
		}
	}
}

func (d *drawing) strokeSpots(p, q spot, s, t, width, strength float64) {
	x, y := float64(d.area.Min.X), float64(d.area.Min.Y)
	d.lines.stroke(x+(p.x+s*(q.x-p.x))/grain, y+(p.y+s*(q.y-p.y))/grain,
		x+(p.x+t*(q.x-p.x))/grain, y+(p.y+t*(q.y-p.y))/grain, width, strength)
}

// visible tells whether a point of an edge is seen: whether one of the nine samples about it shows
// something no nearer than the edge, or one of the edge's own two patches at about its depth.
func (d *drawing) visible(p spot, a, b int32, faint bool) bool {
	x, y := int(math.Floor(p.x)), int(math.Floor(p.y))
	grit := 1 / (d.scale * grain) // mm per sample
	level, own := float32(p.z+0.3*grit), float32(p.z+6*grit)
	for j := max(y-1, 0); j <= min(y+1, d.solid.h-1); j++ {
		for i := max(x-1, 0); i <= min(x+1, d.solid.w-1); i++ {
			at := j*d.solid.w + i
			near, id := d.solid.near[at], d.solid.id[at]
			if faint && d.glass.near[at] > near {
				near, id = d.glass.near[at], d.glass.id[at]
			}
			if near <= level {
				return true
			}
			if f := &d.facets[id]; near <= own && (f.patch == a || f.patch == b) {
				return true
			}
		}
	}
	return false
}

// A mark's ring, in units of the sheet, and of how many dashes it is where the place is not seen.
const (
	markRadius = 9
	markLine   = 2.2
	markGround = 4.4 // the light line under it, that sets it off from dark parts
	markDashes = 5
)

// paintMarks rings every marked place, with its label beside it.
func (d *drawing) paintMarks() {
	s := d.s
	for _, m := range s.o.Marks {
		at, dashes := d.at(m.At), 0
		if !d.seen(m) {
			dashes = markDashes
		}
		s.ring(at.x, at.y, markRadius*s.u, markGround*s.u, dashes, paper)
		s.ring(at.x, at.y, markRadius*s.u, markLine*s.u, dashes, red)
		s.labelBeside(m.Label, at.x, at.y, d.rect)
	}
}

// seen tells whether a mark's place is seen: whether it lies no further than its ring is wide behind what one of the nine
// samples about it shows.
func (d *drawing) seen(m Mark) bool {
	p := d.at(m.At)
	x, y := int((p.x-float64(d.area.Min.X))*grain), int((p.y-float64(d.area.Min.Y))*grain)
	level := float32(p.z + 2*markRadius*d.s.u/d.scale)
	for j := max(y-1, 0); j <= min(y+1, d.solid.h-1); j++ {
		for i := max(x-1, 0); i <= min(x+1, d.solid.w-1); i++ {
			if d.solid.near[j*d.solid.w+i] <= level {
				return true
			}
		}
	}
	return false
}

// unitSeen is a model direction in the picture: pixels right and down for one mm.
func (p *pane) unitSeen(v r3.Vec) (x, y float64) {
	c := p.cam.see(v)
	return p.scale * c.X, -p.scale * c.Y
}
