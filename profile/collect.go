package profile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/dxf"
)

// strand is one piece of geometry of a drawing, in mm.
type strand struct {
	path   Path
	closed bool
	from   *dxf.Entity
	layer  *bucket
}

// bucket is everything on one layer.
type bucket struct {
	name    string
	strands []strand
	points  []Mark
	kinds   []kindCount
	unread  []unread
	far     dxf.Faults // what reaches too far
	dropped int        // pieces without length
}

// unread is geometry of a kind that is not read, and its box in mm; nil where that is not known.
type unread struct {
	dxf.Item
	box *r2.Box
}

// kindCount counts entities of a kind.
type kindCount struct {
	kind  string
	count int
}

// collector is a dxf.Sink that turns what it is given into strands by layer.
type collector struct {
	scale   float64
	byName  map[string]*bucket // by layer name as written, and in lower case
	buckets []*bucket          // in the order of the drawing
	skipped []Skipped
	at      map[Skipped]int // index of an entry, by all but its count
	faults  dxf.Faults
	file    string
	tilted  int
	arena   Path
	fit     fitter
	pieces  int  // lines and arcs so far
	spent   bool // there are too many of them, or the fitter's budget is used up, which was told
}

// maxHalvings is how many halvings all curves of a drawing may take together; a knife takes some
// hundreds.
const maxHalvings = 30_000

// maxPieces is how many lines and arcs all layers may hold together; a knife has some hundreds, a
// trace of a scan tens of thousands.
const maxPieces = 120_000

// room reports whether n more pieces may come; it tells once that they may not.
func (c *collector) room(it *dxf.Item, n int) bool {
	if c.pieces += n; c.pieces > maxPieces && !c.spent {
		c.fault(it, dxf.TooLarge, fmt.Sprintf("the drawing has more than %d lines and arcs; leave out of it what is not the knife", maxPieces))
		c.spent = true
	}
	return !c.spent
}

// noLength is the length, in mm, up to which a piece counts as having none.
const noLength = 1e-6

// largest is the largest coordinate, in mm, that is accepted.
const largest = 1e6

// bucket is the bucket of the item's layer.
func (c *collector) bucket(it *dxf.Item) *bucket {
	b := c.byName[it.Layer]
	if b == nil {
		low := strings.ToLower(it.Layer)
		if b = c.byName[low]; b == nil {
			b = &bucket{name: it.Layer}
			c.buckets = append(c.buckets, b)
			c.byName[low] = b
		}
		c.byName[it.Layer] = b
	}
	if it.Tilted {
		c.tilted++
	}
	return b
}

// count adds one to the bucket's list of what it holds.
func (b *bucket) count(kind string) {
	for i := range b.kinds {
		if b.kinds[i].kind == kind {
			b.kinds[i].count++
			return
		}
	}
	b.kinds = append(b.kinds, kindCount{kind, 1})
}

// space readies n segments of the arena.
func (c *collector) space(n int) Path {
	if cap(c.arena)-len(c.arena) < n {
		c.arena = make(Path, 0, max(n, min(2*cap(c.arena), 1<<16), 64))
	}
	at := len(c.arena)
	return c.arena[at:at:cap(c.arena)]
}

// keep adds a finished path. Paths built in the arena stay there.
func (c *collector) keep(it *dxf.Item, p Path, closed bool) {
	b := c.bucket(it)
	b.count(it.Kind)
	if len(p) == 0 {
		b.dropped++
		return
	}
	if c.fit.budget < 0 {
		if !c.spent {
			c.fault(it, dxf.TooLarge, fmt.Sprintf("the curves up to here take more than %d arcs; draw them simpler", maxHalvings))
		}
		c.spent = true
		return
	}
	if box := p.Bounds(); !(max(max(-box.Min.X, box.Max.X), max(-box.Min.Y, box.Max.Y)) <= largest) {
		b.uncount(it.Kind)
		b.tooFar(c.faultOf(it, dxf.OutOfRange, "reaches beyond 1e6 mm"+c.farther()))
		return
	}
	if len(b.strands) == cap(b.strands) {
		b.strands = slices.Grow(b.strands, max(16, len(b.strands)))
	}
	b.strands = append(b.strands, strand{path: p, closed: closed, from: it.Entity, layer: b})
}

func (c *collector) fault(it *dxf.Item, class dxf.Class, what string) {
	c.faults = append(c.faults, c.faultOf(it, class, what))
}

func (c *collector) faultOf(it *dxf.Item, class dxf.Class, what string) *dxf.Fault {
	return &dxf.Fault{File: c.file, Line: it.Line, Class: class, Entity: it.Kind, Handle: it.Handle, Layer: it.Layer, What: what}
}

// farther says what may be wrong where something is too far off: units longer than those it was drawn in.
func (c *collector) farther() string {
	if c.scale <= 1 {
		return ""
	}
	return `: drawn in millimetres? state drawing.units = "mm"`
}

// Far keeps what is too far off to be read, until it is known whether its layer is used.
func (c *collector) Far(it dxf.Item) {
	b := c.bucket(&it)
	f := *it.Entity.Far
	f.File = c.file
	f.What += c.farther()
	b.tooFar(&f)
}

// tooFar keeps a fault, up to maxFaults.
func (b *bucket) tooFar(f *dxf.Fault) {
	if len(b.far) < maxFaults {
		b.far = append(b.far, f)
	}
}

// Chain takes a row of lines and arcs.
func (c *collector) Chain(it dxf.Item, vertices []dxf.Vertex, closed bool) {
	if !c.room(&it, len(vertices)-1) {
		return
	}
	p := c.space(len(vertices))
	at := func(v dxf.Vertex) r2.Vec { return r2.Vec{X: v.X * c.scale, Y: v.Y * c.scale} }
	last := at(vertices[0])
	for i, v := range vertices {
		if i == len(vertices)-1 && !closed {
			break
		}
		next := at(vertices[(i+1)%len(vertices)])
		if d := r2.Sub(next, last); math.Abs(d.X) <= noLength && math.Abs(d.Y) <= noLength {
			continue // no length; a bulge between equal points has no size either
		}
		p = appendArc(p, Segment{A: last, B: next, Bulge: v.Bulge})
		last = next
	}
	if closed && len(p) > 0 {
		p[len(p)-1].B = p[0].A
	}
	c.own(p)
	c.keep(&it, p, closed)
}

// own marks what was built at the end of the arena as used.
func (c *collector) own(p Path) {
	if at := len(c.arena); len(p) > 0 && at+len(p) <= cap(c.arena) && &c.arena[:at+1][at] == &p[0] {
		c.arena = c.arena[:at+len(p)]
	}
}

// appendArc adds a segment; an arc of more than three quarters of a turn in two halves.
func appendArc(p Path, s Segment) Path {
	if math.Abs(s.Bulge) <= 1+math.Sqrt2 {
		return append(p, s)
	}
	return append(p, s.Part(0, 0.5), s.Part(0.5, 1))
}

// Conic takes an arc of an ellipse.
func (c *collector) Conic(it dxf.Item, k dxf.Conic) {
	if !c.room(&it, 1) {
		return
	}
	k.Centre, k.U, k.V = r2.Scale(c.scale, k.Centre), r2.Scale(c.scale, k.U), r2.Scale(c.scale, k.V)
	closed := k.T1-k.T0 >= 2*math.Pi-1e-9
	n := max(1, int(math.Ceil((k.T1-k.T0)/(math.Pi/2)-1e-9)))
	var p Path
	for i := range n {
		t0, t1 := k.T0+(k.T1-k.T0)*float64(i)/float64(n), k.T0+(k.T1-k.T0)*float64(i+1)/float64(n)
		p = c.fit.arcs(p, k, t0, t1)
	}
	if closed && len(p) > 0 {
		p[len(p)-1].B = p[0].A
	}
	c.keep(&it, p, closed)
}

// Curve takes a spline.
func (c *collector) Curve(it dxf.Item, k dxf.Curve) {
	if !c.room(&it, len(k.Controls)+len(k.Fits)) {
		return
	}
	scale := func(in []r2.Vec) []r2.Vec {
		out := slices.Clone(in)
		for i := range out {
			out[i] = r2.Scale(c.scale, out[i])
		}
		return out
	}
	var p Path
	if len(k.Controls) > 0 {
		n := newNurbs(k.Degree, k.Knots, scale(k.Controls), k.Weights)
		spans := n.spans()
		for i := 1; i < len(spans) && c.fit.budget >= 0; i++ {
			p = c.fit.arcs(p, piece{n, spans[i]}, spans[i-1], spans[i])
		}
	} else if q := interpolate(scale(k.Fits), k.StartTangent, k.EndTangent, k.Closed); q != nil {
		for i := 1; i < len(q.knots) && c.fit.budget >= 0; i++ {
			p = c.fit.arcs(p, q, q.knots[i-1], q.knots[i])
		}
	}
	closed := false
	if len(p) > 1 && r2.Norm(r2.Sub(p.End(), p.Start())) <= noLength {
		closed = true
		p[len(p)-1].B = p[0].A
	}
	c.keep(&it, p, closed)
}

// Point takes a point, which only the mark of a tip uses.
func (c *collector) Point(it dxf.Item, at r2.Vec) {
	b := c.bucket(&it)
	at = r2.Scale(c.scale, at)
	b.points = append(b.points, Mark{Layer: b.name, Path: Path{{A: at, B: at}}})
}

// Skip counts what is left out.
func (c *collector) Skip(it dxf.Item, why string) {
	c.skip(Skipped{Kind: it.Kind, Layer: it.Layer, Why: why, Count: 1})
}

// Unread keeps geometry that is not read, until it is known whether its layer is used.
func (c *collector) Unread(it dxf.Item, box *r2.Box) {
	b := c.bucket(&it)
	if box != nil {
		box.Min, box.Max = r2.Scale(c.scale, box.Min), r2.Scale(c.scale, box.Max)
	}
	b.unread = append(b.unread, unread{it, box})
}

// maxSkipped is how many kinds and layers are counted apart.
const maxSkipped = 500

// skip adds to the entry of the same kind, layer and reason.
func (c *collector) skip(s Skipped) {
	n := s.Count
	s.Count = 0
	if _, ok := c.at[s]; !ok && len(c.skipped) >= maxSkipped {
		s = Skipped{Why: "more kinds and layers"}
	}
	i, ok := c.at[s]
	if !ok {
		i = len(c.skipped)
		c.at[s], c.skipped = i, append(c.skipped, s)
	}
	c.skipped[i].Count += n
}
