package picture

import (
	"image"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// pane is one view in its rectangle of the sheet.
type pane struct {
	sheet *sheet
	cam   camera
	label string
	rect  image.Rectangle // what the pane may use, pixels
	seen  box             // all points in view axes, mm
	cast  box             // their shadows on the ground, likewise
	scale float64         // pixels per mm
	ox    float64         // pixel x of view x = 0
	oy    float64         // pixel y of view y = 0
	dims  []dim
}

// at is where a model point lands, in pixels; z is mm towards the eye.
func (p *pane) at(v r3.Vec) spot {
	s := p.cam.see(v)
	return spot{p.ox + p.scale*s.X, p.oy - p.scale*s.Y, s.Z}
}

// paint draws the parts and what belongs to them.
func (p *pane) paint() {
	s := p.sheet
	d := newDrawing(p, s)
	d.fillBuffers()
	d.light()
	d.drawLines()
	for _, m := range p.dims {
		m.paint(p)
	}
	d.paintMarks()
	if p.label != "" {
		s.text(p.label, p.ox+p.scale*p.seen.lo.X, p.oy-p.scale*p.seen.hi.Y-12*s.u, s.u*15, soft)
	}
}

// facet is a triangle as one pane sees it.
type facet struct {
	body  int32
	patch int32 // counted over all bodies
	front bool
	// normal in view axes as a plane over the samples: value, change by x, change by y
	nx, ny, nz [3]float32
}

// drawing is the work of one pane.
type drawing struct {
	*pane
	s      *sheet
	area   image.Rectangle // the pixels that the parts can touch
	spots  [][]spot        // by body and point, in samples of area
	facets []facet
	solid  *buffer
	glass  *buffer // nil without faint parts
	lines  *coverage
}

func newDrawing(p *pane, s *sheet) *drawing {
	d := &drawing{pane: p, s: s}
	lo := spot{x: p.ox + p.scale*p.seen.lo.X, y: p.oy - p.scale*p.seen.hi.Y}
	hi := spot{x: p.ox + p.scale*p.seen.hi.X, y: p.oy - p.scale*p.seen.lo.Y}
	d.area = image.Rect(int(math.Floor(lo.x))-3, int(math.Floor(lo.y))-3, int(math.Ceil(hi.x))+3, int(math.Ceil(hi.y))+3)
	d.area = d.area.Intersect(s.img.Bounds())
	for _, b := range s.scene.bodies {
		spots := make([]spot, len(b.pts))
		for i, v := range b.pts {
			q := p.at(v)
			spots[i] = spot{(q.x - float64(d.area.Min.X)) * grain, (q.y - float64(d.area.Min.Y)) * grain, q.z}
		}
		d.spots = append(d.spots, spots)
	}
	return d
}

// fillBuffers finds what every sample shows. Facets turned away from the eye are set back a
// little, so that the underside of a part that lies on another does not shine through.
func (d *drawing) fillBuffers() {
	n := 0
	for _, b := range d.s.scene.bodies {
		n += len(b.tris)
		if b.Faint && d.glass == nil {
			d.glass = newBuffer(d.area.Dx()*grain, d.area.Dy()*grain)
		}
	}
	d.solid = d.s.used.cleared(d.area.Dx()*grain, d.area.Dy()*grain)
	d.facets = make([]facet, 0, n)
	back := 2e-5 * r3.Norm(d.s.scene.box.size())
	patches := int32(0)
	for i, b := range d.s.scene.bodies {
		buf := d.solid
		if b.Faint {
			buf = d.glass
		}
		for t, tri := range b.tris {
			f := facet{body: int32(i), patch: patches + b.patch[t], front: r3.Dot(b.unit[t], d.cam.toward) > 1e-9}
			p, q, r := d.spots[i][tri[0]], d.spots[i][tri[1]], d.spots[i][tri[2]]
			bias := back
			if f.front {
				bias = 0
			}
			f.spread(d.cam, b.corner[t], [3]spot{p, q, r})
			id := int32(len(d.facets))
			d.facets = append(d.facets, f)
			buf.fill(p, q, r, id, bias)
		}
		patches += int32(len(b.tris))
	}
}

// spread lays the normals of the corners over the samples.
func (f *facet) spread(c camera, n [3]r3.Vec, at [3]spot) {
	x1, y1 := at[1].x-at[0].x, at[1].y-at[0].y
	x2, y2 := at[2].x-at[0].x, at[2].y-at[0].y
	area := x1*y2 - x2*y1
	v0, v1, v2 := c.see(n[0]), c.see(n[1]), c.see(n[2])
	plane := func(a, b, c float64) [3]float32 {
		if math.Abs(area) < 1e-6 {
			return [3]float32{float32(a)}
		}
		dx := ((b-a)*y2 - (c-a)*y1) / area
		dy := ((c-a)*x1 - (b-a)*x2) / area
		return [3]float32{float32(a - dx*at[0].x - dy*at[0].y), float32(dx), float32(dy)}
	}
	f.nx, f.ny, f.nz = plane(v0.X, v1.X, v2.X), plane(v0.Y, v1.Y, v2.Y), plane(v0.Z, v1.Z, v2.Z)
}
