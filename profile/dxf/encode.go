package dxf

import (
	"fmt"
	"io"
	"math"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/yofu/dxf/color"
	"github.com/yofu/dxf/drawing"
	"github.com/yofu/dxf/insunit"
	"github.com/yofu/dxf/table"
)

// writing guards Encode: the library below it numbers a default layer and style that all its
// drawings share.
var writing sync.Mutex

// Encode writes the drawing as DXF text (AC1015): its units, its layers with their colours, and its
// LINE, ARC, CIRCLE, LWPOLYLINE and TEXT entities in their order, and the box that holds them in the header
// ($EXTMIN, $EXTMAX; of a text its place counts). A polyline at a height goes out as its lines and arcs. Heights
// (z) are written as they are; extrusions, and entities of other kinds, are refused: an error names the first.
// The same drawing gives the same bytes.
func Encode(w io.Writer, d *Drawing) error {
	writing.Lock()
	defer writing.Unlock()
	e := &encoder{out: newSkeleton()}
	e.out.Header().InsUnit = insunit.Unit(d.Units)
	for _, l := range d.Layers {
		if err := e.layer(l); err != nil {
			return err
		}
	}
	for i := range d.Entities {
		if err := e.entity(&d.Entities[i]); err != nil {
			return fmt.Errorf("entity %d (%s): %w", i+1, d.Entities[i].Kind, err)
		}
	}
	if low, high, any := extents(d.Entities); any {
		e.out.Header().ExtMin, e.out.Header().ExtMax = low, high
	}
	_, err := e.out.WriteTo(w)
	return err
}

// encoder is the state of one Encode.
type encoder struct{ out *drawing.Drawing }

// defaultColour is the colour index of a layer that states none: black on white.
const defaultColour = 7

// noLayerName are the characters that a layer's name cannot hold (DXF Reference, symbol names).
const noLayerName = "<>/\\\":;?*|=`,"

// layer adds a layer to the table.
func (e *encoder) layer(l Layer) error {
	name, err := escape(l.Name)
	if err != nil || name == "" || name != l.Name || strings.ContainsAny(name, noLayerName) {
		return fmt.Errorf("layer %q: a name of plain letters, digits, blanks, $, - and _ expected", l.Name)
	}
	colour := l.Colour
	if colour == 0 {
		colour = defaultColour
	}
	if colour < 1 || colour > 255 {
		return fmt.Errorf("layer %s: colour index %d is not between 1 and 255", l.Name, colour)
	}
	if _, ok := e.out.Layers[name]; ok {
		return nil // 0 is always there; a name twice is one layer
	}
	_, err = e.out.AddLayer(name, color.ColorNumber(colour), table.LT_CONTINUOUS, true)
	return err
}

// entity adds one entity, on its layer.
func (e *encoder) entity(in *Entity) error {
	layer := in.Layer
	if layer == "" {
		layer = "0"
	}
	if err := e.layer(Layer{Name: layer}); err != nil {
		return err
	}
	name, _ := escape(layer)
	if err := e.out.ChangeLayer(name); err != nil {
		return err
	}
	if x := in.Extrusion; x.X != 0 || x.Y != 0 || x.Z < 0 {
		return fmt.Errorf("an extrusion of its own is not written")
	}
	switch s := in.Shape.(type) {
	case *Line:
		return e.line(s)
	case *Arc:
		return e.arc(s)
	case *Circle:
		if err := round(s.Radius, s.Centre.X, s.Centre.Y, s.Centre.Z); err != nil {
			return err
		}
		_, err := e.out.Circle(s.Centre.X, s.Centre.Y, s.Centre.Z, s.Radius)
		return err
	case *Polyline:
		return e.polyline(s)
	case *Text:
		return e.text(s)
	}
	return fmt.Errorf("entities of this kind are not written")
}

func (e *encoder) line(s *Line) error {
	if err := finite(s.A.X, s.A.Y, s.A.Z, s.B.X, s.B.Y, s.B.Z); err != nil {
		return err
	}
	_, err := e.out.Line(s.A.X, s.A.Y, s.A.Z, s.B.X, s.B.Y, s.B.Z)
	return err
}

func (e *encoder) arc(s *Arc) error {
	if err := round(s.Radius, s.Centre.X, s.Centre.Y, s.Centre.Z, s.StartDeg, s.EndDeg); err != nil {
		return err
	}
	_, err := e.out.Arc(s.Centre.X, s.Centre.Y, s.Centre.Z, s.Radius, s.StartDeg, s.EndDeg)
	return err
}

func (e *encoder) text(s *Text) error {
	if err := finite(s.At.X, s.At.Y, s.At.Z, s.Height, s.TurnDeg); err != nil {
		return err
	}
	value, err := escape(s.Value)
	if err != nil {
		return err
	}
	t, err := e.out.Text(value, s.At.X, s.At.Y, s.At.Z, s.Height)
	if err != nil {
		return err
	}
	t.Rotation, t.WidthFactor = s.TurnDeg, 1
	return nil
}

// polyline writes a polyline: as one LWPOLYLINE where it lies in z = 0, otherwise, since the library
// below writes no elevation, piece by piece.
func (e *encoder) polyline(p *Polyline) error {
	if p.Elevation != 0 || p.World {
		return e.pieces(p)
	}
	for _, v := range p.Vertices {
		if err := finite(v.X, v.Y, v.Bulge); err != nil {
			return err
		}
	}
	if len(p.Vertices) < 2 {
		return fmt.Errorf("a polyline has two vertices or more, found %d", len(p.Vertices))
	}
	points := make([][]float64, len(p.Vertices))
	for i, v := range p.Vertices {
		points[i] = []float64{v.X, v.Y}
	}
	l, err := e.out.LwPolyline(p.Closed, points...)
	if err != nil {
		return err
	}
	for i, v := range p.Vertices {
		l.Bulges[i] = v.Bulge
	}
	return nil
}

// pieces writes a polyline as its lines and arcs.
func (e *encoder) pieces(p *Polyline) error {
	n := len(p.Vertices)
	for i, a := range p.Vertices {
		if i == n-1 && !p.Closed {
			break
		}
		b := p.Vertices[(i+1)%n]
		if a.X == b.X && a.Y == b.Y {
			continue
		}
		var err error
		if a.Bulge == 0 {
			l := &Line{}
			l.A.X, l.A.Y, l.A.Z, l.B.X, l.B.Y, l.B.Z = a.X, a.Y, p.Elevation, b.X, b.Y, p.Elevation
			err = e.line(l)
		} else {
			err = e.arc(bulgeArc(a, b, p.Elevation))
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// bulgeArc is the arc from a to the next vertex b (DXF Reference, LWPOLYLINE group 42).
func bulgeArc(a, b Vertex, z float64) *Arc {
	k := (1 - a.Bulge*a.Bulge) / (4 * a.Bulge)
	dx, dy := b.X-a.X, b.Y-a.Y
	arc := &Arc{Radius: math.Hypot(dx, dy) * (1 + a.Bulge*a.Bulge) / (4 * math.Abs(a.Bulge))}
	arc.Centre.X, arc.Centre.Y, arc.Centre.Z = (a.X+b.X)/2-k*dy, (a.Y+b.Y)/2+k*dx, z
	if a.Bulge < 0 {
		a, b = b, a
	}
	deg := func(v Vertex) float64 {
		d := math.Atan2(v.Y-arc.Centre.Y, v.X-arc.Centre.X) * 180 / math.Pi
		if d < 0 {
			d += 360
		}
		return d
	}
	arc.StartDeg, arc.EndDeg = deg(a), deg(b)
	return arc
}

// leastRadius is the smallest radius that is written: sixteen places after the point would leave
// little of a smaller one.
const leastRadius = 1e-9

// round refuses a circle without size, and what finite refuses.
func round(radius float64, list ...float64) error {
	if !(radius >= leastRadius) {
		return fmt.Errorf("radius of %g or more expected, found %g", leastRadius, radius)
	}
	return finite(append(list, radius)...)
}

// finite refuses what no drawing can hold.
func finite(list ...float64) error {
	for _, v := range list {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%g is not a finite number", v)
		}
	}
	return nil
}

// escape is a string in the ASCII that every reader takes: other characters as \U+XXXX.
func escape(s string) (string, error) {
	if !utf8.ValidString(s) {
		return "", fmt.Errorf("text %q is not UTF-8", s)
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case r < ' ' || r == 0x7f:
			return "", fmt.Errorf("text %q holds a control character", s)
		case r < utf8.RuneSelf:
			b.WriteRune(r)
		case r > 0xffff:
			return "", fmt.Errorf("text %q holds a character beyond U+FFFF", s)
		default:
			fmt.Fprintf(&b, `\U+%04X`, r)
		}
	}
	return b.String(), nil
}
