package dxf

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// slab is how many lines or arcs are allocated together.
const slab = 256

// shape reads the rest of the current entity by its kind. Kinds that are not read keep their common
// groups only.
func (d *decoder) shape() {
	switch d.cur.Kind {
	case "LINE":
		d.line()
	case "ARC":
		d.arc()
	case "CIRCLE":
		d.circle()
	case "LWPOLYLINE":
		d.lwpolyline()
	case "POLYLINE":
		d.polyline()
	case "ELLIPSE":
		d.ellipse()
	case "SPLINE":
		d.spline()
	case "INSERT":
		d.insert()
	case "POINT":
		d.point()
	case "TEXT":
		d.text()
	case "3DFACE", "MLINE":
		d.boxed()
	default:
		for d.pair() {
			continue
		}
	}
}

// boxed takes the box of the points of a kind that is not read.
func (d *decoder) boxed() {
	var p r3.Vec
	b := &Box{Min: r3.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: r3.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
	for d.pair() {
		switch d.scan.code {
		case 10, 11, 12, 13:
			if d.cur.Kind == "MLINE" && d.scan.code > 11 {
				continue // directions
			}
			d.coord(&p.X)
			b.Min.X, b.Max.X = min(b.Min.X, p.X), max(b.Max.X, p.X)
		case 20, 21, 22, 23:
			if d.cur.Kind == "MLINE" && d.scan.code > 21 {
				continue
			}
			d.coord(&p.Y)
			b.Min.Y, b.Max.Y = min(b.Min.Y, p.Y), max(b.Max.Y, p.Y)
		}
	}
	if b.Min.X <= b.Max.X && b.Min.Y <= b.Max.Y {
		d.cur.Box = b
	}
}

func (d *decoder) line() {
	if len(d.lines) == cap(d.lines) {
		d.lines = make([]Line, 0, slab)
	}
	d.lines = append(d.lines, Line{})
	l := &d.lines[len(d.lines)-1]
	for d.pair() {
		switch d.scan.code {
		case 10:
			d.coord(&l.A.X)
		case 20:
			d.coord(&l.A.Y)
		case 30:
			d.coord(&l.A.Z)
		case 11:
			d.coord(&l.B.X)
		case 21:
			d.coord(&l.B.Y)
		case 31:
			d.coord(&l.B.Z)
		}
	}
	if d.need(10, 20, 11, 21) {
		d.cur.Shape = l
	}
}

func (d *decoder) arc() {
	if len(d.arcs) == cap(d.arcs) {
		d.arcs = make([]Arc, 0, slab)
	}
	d.arcs = append(d.arcs, Arc{})
	a := &d.arcs[len(d.arcs)-1]
	for d.pair() {
		switch d.scan.code {
		case 40:
			d.radius(&a.Radius)
		case 50:
			d.plain(&a.StartDeg)
		case 51:
			d.plain(&a.EndDeg)
		default:
			d.point10(&a.Centre)
		}
	}
	if d.need(10, 20, 40, 50, 51) {
		d.cur.Shape = a
	}
}

func (d *decoder) circle() {
	c := &Circle{}
	for d.pair() {
		if d.scan.code == 40 {
			d.radius(&c.Radius)
		} else {
			d.point10(&c.Centre)
		}
	}
	if d.need(10, 20, 40) {
		d.cur.Shape = c
	}
}

// point10 takes the last pair if it is of the point 10/20/30.
func (d *decoder) point10(p *r3.Vec) {
	switch d.scan.code {
	case 10:
		d.coord(&p.X)
	case 20:
		d.coord(&p.Y)
	case 30:
		d.coord(&p.Z)
	}
}

// radius takes a length that must not be negative. A radius of 0 is a piece without length.
func (d *decoder) radius(to *float64) {
	v, ok := d.number(d.limit)
	if ok && v < 0 {
		d.fault(OutOfRange, fmt.Sprintf("radius above 0 expected, found %g", v))
		return
	}
	*to = v
}

func (d *decoder) point() {
	p := &Point{}
	for d.pair() {
		d.point10(&p.At)
	}
	if d.need(10, 20) {
		d.cur.Shape = p
	}
}

// text reads one line of text. It is left out of a profile whatever it holds, so nothing is required.
func (d *decoder) text() {
	t := &Text{}
	for d.pair() {
		switch d.scan.code {
		case 1:
			t.Value = decodeText(d.scan.text, d.drawing.Version, d.drawing.CodePage, d.bom)
		case 40:
			d.coord(&t.Height)
		case 50:
			d.plain(&t.TurnDeg)
		default:
			d.point10(&t.At)
		}
	}
	d.cur.Shape = t
}

// lwpolyline reads vertices into a scratch list that all polylines share, then keeps a copy of the
// size that it came to.
func (d *decoder) lwpolyline() {
	p := &Polyline{}
	d.vertices = d.vertices[:0]
	stated := -1
	pairs := points{what: "vertex"}
	var v *Vertex
	for d.pair() {
		switch d.scan.code {
		case 10:
			d.pointX(&pairs)
			v = d.vertex()
			d.coord(&v.X)
		case 20:
			d.pointY(&pairs)
			if v != nil {
				d.coord(&v.Y)
			}
		case 42:
			if v != nil {
				d.bulge(&v.Bulge)
			}
		case 38:
			d.coord(&p.Elevation)
		case 70:
			p.Closed = d.integer()&1 != 0
		case 90:
			stated = d.integer()
		}
	}
	if d.scan.end || !d.pointsWhole(&pairs) {
		return
	}
	if v == nil {
		d.faultAt(d.cur.Line, MissingValue, "has no vertices")
		return
	}
	p.Vertices = slices.Clone(d.vertices)
	if stated >= 0 && stated != len(p.Vertices) {
		d.note(fmt.Sprintf("LWPOLYLINE handle %X states %d vertices and has %d; all of them were read", d.cur.Handle, stated, len(p.Vertices)))
	}
	d.cur.Shape = p
}

// vertex adds a vertex to the scratch list.
func (d *decoder) vertex() *Vertex {
	if len(d.vertices) == cap(d.vertices) {
		d.vertices = slices.Grow(d.vertices, max(64, len(d.vertices)))
	}
	d.vertices = append(d.vertices, Vertex{})
	return &d.vertices[len(d.vertices)-1]
}

// bulge takes the tangent of a quarter of a sweep below a full turn.
func (d *decoder) bulge(to *float64) {
	const most = 1e6 // a gap of some millionths of a turn
	if v, ok := d.number(maxPlain); ok && math.Abs(v) <= most {
		*to = v
	} else if ok {
		d.fault(OutOfRange, fmt.Sprintf("bulge %g turns through a full circle", v))
	}
}

// POLYLINE flags (DXF Reference, group 70).
const (
	flagClosed = 1
	flagWorld  = 8
	flagMesh   = 16 | 64
)

// polyline reads POLYLINE, its VERTEX entities and SEQEND.
func (d *decoder) polyline() {
	p := &Polyline{}
	for d.pair() {
		switch d.scan.code {
		case 30:
			d.coord(&p.Elevation)
		case 70:
			flags := d.integer()
			p.Closed, p.World, p.Mesh = flags&flagClosed != 0, flags&flagWorld != 0, flags&flagMesh != 0
		}
	}
	own := d.cur
	d.vertices = d.vertices[:0]
	whole := true
	for !d.scan.end && d.is("VERTEX") && d.spendPoint() {
		d.begin()
		whole = d.vertexEntity() && whole
		if own.Far == nil {
			own.Far = d.cur.Far
		}
	}
	if !d.scan.end && d.is("SEQEND") {
		d.begin()
		for d.pair() {
			continue
		}
	} else if !d.scan.end {
		d.note(fmt.Sprintf("POLYLINE handle %X has no SEQEND", own.Handle))
	}
	d.cur = own
	if d.scan.end || !whole {
		return
	}
	if len(d.vertices) == 0 {
		d.faultAt(own.Line, MissingValue, "has no vertices")
		return
	}
	p.Vertices = slices.Clone(d.vertices)
	d.cur.Shape = p
}

// vertexEntity reads one VERTEX; those with flag 16 only frame a fitted curve and are left out.
func (d *decoder) vertexEntity() bool {
	const frame = 16
	v := Vertex{}
	flags := 0
	for d.pair() {
		switch d.scan.code {
		case 10:
			d.coord(&v.X)
		case 20:
			d.coord(&v.Y)
		case 42:
			d.bulge(&v.Bulge)
		case 70:
			flags = d.integer()
		}
	}
	if flags&frame != 0 {
		return true
	}
	*d.vertex() = v
	return d.need(10, 20)
}

func (d *decoder) ellipse() {
	e := &Ellipse{End: 2 * math.Pi}
	for d.pair() {
		switch d.scan.code {
		case 11:
			d.coord(&e.Major.X)
		case 21:
			d.coord(&e.Major.Y)
		case 31:
			d.coord(&e.Major.Z)
		case 40:
			d.plain(&e.Ratio)
		case 41:
			d.plain(&e.Start)
		case 42:
			d.plain(&e.End)
		default:
			d.point10(&e.Centre)
		}
	}
	if !d.need(10, 20, 11, 21, 40) {
		return
	}
	if r3.Norm(e.Major) == 0 {
		d.faultAt(d.cur.Line, OutOfRange, "major axis has no length")
		return
	}
	if e.Ratio <= 0 {
		d.faultAt(d.cur.Line, OutOfRange, fmt.Sprintf("ratio of the axes above 0 expected, found %g", e.Ratio))
		return
	}
	d.cur.Shape = e
}

func (d *decoder) insert() {
	in := &Insert{Scale: r3.Vec{X: 1, Y: 1, Z: 1}, Columns: 1, Rows: 1}
	for d.pair() {
		switch d.scan.code {
		case 2:
			in.Block = d.name()
		case 41:
			d.plain(&in.Scale.X)
		case 42:
			d.plain(&in.Scale.Y)
		case 43:
			d.plain(&in.Scale.Z)
		case 44:
			d.coord(&in.ColumnStep)
		case 45:
			d.coord(&in.RowStep)
		case 50:
			d.plain(&in.TurnDeg)
		case 70:
			in.Columns = max(1, d.integer())
		case 71:
			in.Rows = max(1, d.integer())
		default:
			d.point10(&in.At)
		}
	}
	if d.need(2, 10, 20) {
		d.cur.Shape = in
	}
}
