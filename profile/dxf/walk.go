package dxf

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Item is an entity as it lies in plan.
type Item struct {
	*Entity
	Layer  string // the entity's, or of its outermost insertion where the entity is on layer 0
	Tilted bool   // its plane is not the drawing's: what is given is its view from above
}

// Conic is an arc of an ellipse in plan: Centre + cos t U + sin t V for t from T0 up to T1. U and V
// are any conjugate half diameters.
type Conic struct {
	Centre, U, V r2.Vec
	T0, T1       float64
}

// Curve is a spline in plan; see Spline.
type Curve struct {
	*Spline
	Controls, Fits           []r2.Vec
	StartTangent, EndTangent r2.Vec
}

// Sink takes the geometry of a drawing, item by item, in drawing units. Slices are valid only during
// the call.
type Sink interface {
	// Chain is a row of lines and arcs with at least two vertices.
	Chain(it Item, vertices []Vertex, closed bool)
	Conic(it Item, c Conic)
	Curve(it Item, c Curve)
	Point(it Item, at r2.Vec)
	// Skip is an entity that is left out on purpose, and why.
	Skip(it Item, why string)
	// Unread is geometry of a kind that is not read. The box is that of its points in plan, nil where they are not known.
	Unread(it Item, box *r2.Box)
	// Far is geometry of which a part is too far off to be read.
	Far(it Item)
}

const (
	maxDepth     = 32        // of blocks within blocks
	maxInstances = 1_000_000 // of points of entities brought in by insertions
)

// Walk gives the sink everything in the drawing's model space as it lies in plan: blocks inserted,
// object coordinate systems resolved. The error is a Faults.
func (d *Drawing) Walk(to Sink) error {
	w := &walker{drawing: d, sink: to, budget: maxInstances, blocks: map[string]*Block{}, layers: map[string]Layer{}}
	for i := range d.Blocks {
		w.blocks[strings.ToLower(d.Blocks[i].Name)] = &d.Blocks[i]
	}
	for _, l := range d.Layers {
		w.layers[strings.ToLower(l.Name)] = l
	}
	w.entities(d.Entities, &identity, "")
	return w.faults.Err()
}

// walker is the state of one Walk.
type walker struct {
	drawing  *Drawing
	sink     Sink
	blocks   map[string]*Block // by lower-case name
	layers   map[string]Layer  // by lower-case name, and by any name once met
	open     []string          // blocks being inserted, outermost first
	budget   int
	stopped  bool
	faults   Faults
	vertices []Vertex
}

// entities gives entities under a map; layer is what layer 0 stands for, empty at the top.
func (w *walker) entities(list []Entity, m *matrix, layer string) {
	for i := range list {
		if w.stopped {
			return
		}
		if len(w.open) > 0 && !w.spend(&list[i]) {
			return
		}
		w.entity(&list[i], m, layer)
	}
}

// spend counts an inserted entity against the limit.
func (w *walker) spend(e *Entity) bool {
	w.budget -= 4 + e.points()
	if w.budget < 0 {
		w.stopped = true
		w.fault(e, BlockTooDeep, fmt.Sprintf("insertions bring in more than %d points", maxInstances))
	}
	return !w.stopped
}

// points is how many points a shape is made of.
func (e *Entity) points() int {
	switch s := e.Shape.(type) {
	case *Polyline:
		return len(s.Vertices)
	case *Spline:
		return len(s.Knots) + len(s.Fits)
	}
	return 1
}

func (w *walker) fault(e *Entity, c Class, what string) {
	if len(w.faults) < maxFaults {
		w.faults = append(w.faults, &Fault{
			File: w.drawing.File, Line: e.Line, Class: c, Entity: e.Kind, Handle: e.Handle, Layer: e.Layer, What: what,
		})
	}
}

func (w *walker) entity(e *Entity, m *matrix, layer string) {
	it := Item{Entity: e, Layer: e.Layer}
	if layer != "" && e.Layer == "0" {
		it.Layer = layer
	}
	if why := w.hidden(&it); why != "" {
		w.sink.Skip(it, why)
		return
	}
	if e.Far != nil && annotation[e.Kind] == "" {
		w.sink.Far(it)
		return
	}
	own, ok := ocs(e.Extrusion)
	if !ok {
		w.fault(e, OutOfRange, "extrusion has no direction")
		return
	}
	switch s := e.Shape.(type) {
	case *Line:
		w.line(it, s, m)
	case *Arc:
		w.inPlane(&it, &own, m)
		w.arc(it, s.Centre, s.Radius, s.StartDeg, sweep(s.StartDeg, s.EndDeg, 360), &own)
	case *Circle:
		w.inPlane(&it, &own, m)
		w.arc(it, s.Centre, s.Radius, 0, 360, &own)
	case *Polyline:
		w.polyline(it, s, own, m)
	case *Ellipse:
		w.ellipse(it, s, own.z, m)
	case *Spline:
		w.spline(it, s, m)
	case *Insert:
		w.inPlane(&it, &own, m)
		w.insert(it, s, &own)
	case *Point:
		w.sink.Point(it, m.plan(s.At))
	default:
		w.other(it, m)
	}
}

// inPlane puts the map of the entity's own coordinate system into own, and notes a tilt.
func (w *walker) inPlane(it *Item, own, m *matrix) {
	if *own != identity || *m != identity {
		*own = m.after(*own)
	}
	it.Tilted = own.x.Z != 0 || own.y.Z != 0
}

// hidden says why an item does not show, empty where it does.
func (w *walker) hidden(it *Item) string {
	l, ok := w.layers[it.Layer]
	if !ok {
		l = w.layers[strings.ToLower(it.Layer)]
		w.layers[it.Layer] = l
	}
	switch {
	case it.Paper:
		return "paper space"
	case it.Invisible:
		return "invisible"
	case l.Frozen:
		return "layer frozen"
	case l.Off && it.Kind != "INSERT":
		return "layer off"
	}
	return ""
}

// annotation is what draughtsmen add to geometry, and fills; all of it is left out.
var annotation = map[string]string{
	"TEXT": "text", "MTEXT": "text", "ATTRIB": "text", "ATTDEF": "text", "RTEXT": "text", "ARCALIGNEDTEXT": "text", "TOLERANCE": "text",
	"ACAD_TABLE": "text", "DIMENSION": "dimension", "ARC_DIMENSION": "dimension", "LARGE_RADIAL_DIMENSION": "dimension",
	"LEADER": "dimension", "MLEADER": "dimension", "MULTILEADER": "dimension",
	"HATCH": "hatch", "SOLID": "solid fill", "TRACE": "solid fill", "WIPEOUT": "solid fill",
	"XLINE": "construction line", "RAY": "construction line",
	"IMAGE": "picture", "OLEFRAME": "picture", "OLE2FRAME": "picture", "PDFUNDERLAY": "picture", "DWFUNDERLAY": "picture", "DGNUNDERLAY": "picture",
	"VIEWPORT": "view", "CAMERA": "view", "LIGHT": "view", "SUN": "view", "SECTIONOBJECT": "view",
	"SEQEND": "end of attributes",
}

// other sorts an entity that has no shape.
func (w *walker) other(it Item, m *matrix) {
	if why, ok := annotation[it.Kind]; ok {
		w.sink.Skip(it, why)
		return
	}
	b := it.Box
	if b == nil {
		w.sink.Unread(it, nil)
		return
	}
	a := m.plan(b.Min)
	box := r2.Box{Min: a, Max: a}
	for _, p := range m.plans([]r3.Vec{{X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}) {
		box.Min.X, box.Min.Y = min(box.Min.X, p.X), min(box.Min.Y, p.Y)
		box.Max.X, box.Max.Y = max(box.Max.X, p.X), max(box.Max.Y, p.Y)
	}
	w.sink.Unread(it, &box)
}

func (w *walker) line(it Item, l *Line, m *matrix) {
	a, b := m.plan(l.A), m.plan(l.B)
	w.vertices = append(w.vertices[:0], Vertex{X: a.X, Y: a.Y}, Vertex{X: b.X, Y: b.Y})
	w.sink.Chain(it, w.vertices, false)
}

func (w *walker) spline(it Item, s *Spline, m *matrix) {
	c := Curve{Spline: s, StartTangent: m.planVec(s.StartTangent), EndTangent: m.planVec(s.EndTangent)}
	c.Controls, c.Fits = m.plans(s.Controls), m.plans(s.Fits)
	w.sink.Curve(it, c)
}

// plans is plan of each point.
func (m *matrix) plans(in []r3.Vec) []r2.Vec {
	out := make([]r2.Vec, len(in))
	for i, p := range in {
		out[i] = m.plan(p)
	}
	return out
}

// insert gives the contents of a block, once for each place of the insertion's grid.
func (w *walker) insert(it Item, in *Insert, m *matrix) {
	key := strings.ToLower(in.Block)
	b := w.blocks[key]
	switch {
	case b == nil:
		w.fault(it.Entity, NoBlock, fmt.Sprintf("the drawing has no block %q", in.Block))
		return
	case b.XRef:
		w.fault(it.Entity, NoBlock, fmt.Sprintf("block %q is drawn in another file; bind it into this one", in.Block))
		return
	case in.Scale.X == 0 || in.Scale.Y == 0:
		w.fault(it.Entity, OutOfRange, "scale is 0")
		return
	case len(w.open) >= maxDepth:
		w.fault(it.Entity, BlockTooDeep, fmt.Sprintf("blocks are nested more than %d deep", maxDepth))
		w.stopped = true
		return
	}
	for _, name := range w.open {
		if name == key {
			w.fault(it.Entity, BlockCycle, fmt.Sprintf("block %q contains itself", in.Block))
			w.stopped = true
			return
		}
	}
	w.open = append(w.open, key)
	for row := range in.Rows {
		for column := range in.Columns {
			if w.stopped || !w.spend(it.Entity) {
				break
			}
			at := m.after(in.placed(b.Base, column, row))
			w.entities(b.Entities, &at, it.Layer)
		}
	}
	w.open = w.open[:len(w.open)-1]
}
