package sketch

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
)

// Values of $INSUNITS.
const (
	Inches      = 1
	Millimetres = 4
	Centimetres = 5
)

// Drawing is the text of a DXF file as it grows.
type Drawing struct {
	body   bytes.Buffer
	handle int
}

// pair writes a group code and its value.
func pairTo(b *bytes.Buffer, code int, value any) {
	if v, ok := value.(float64); ok {
		value = strconv.FormatFloat(math.Round(v*1e9)/1e9+0, 'f', -1, 64)
	}
	fmt.Fprintf(b, "%3d\n%v\n", code, value)
}

// entity begins an entity.
func (d *Drawing) entity(kind, layer, class string) {
	d.handle++
	d.put(0, kind)
	d.put(5, fmt.Sprintf("%X", 0x100+d.handle))
	d.put(100, "AcDbEntity")
	d.put(8, layer)
	d.put(100, class)
}

func (d *Drawing) put(code int, value any) { pairTo(&d.body, code, value) }

// Polyline writes an LWPOLYLINE with bulges.
func (d *Drawing) Polyline(layer string, arcs []Arc, closed bool) {
	d.entity("LWPOLYLINE", layer, "AcDbPolyline")
	n, flag := len(arcs), 1
	if !closed {
		n, flag = n+1, 0
	}
	d.put(90, n)
	d.put(70, flag)
	for _, a := range arcs {
		d.put(10, a.AX)
		d.put(20, a.AY)
		if a.Bulge != 0 {
			d.put(42, a.Bulge)
		}
	}
	if !closed {
		d.put(10, arcs[len(arcs)-1].BX)
		d.put(20, arcs[len(arcs)-1].BY)
	}
}

// Line writes a LINE.
func (d *Drawing) Line(layer string, x0, y0, x1, y1 float64) {
	d.entity("LINE", layer, "AcDbLine")
	d.put(10, x0)
	d.put(20, y0)
	d.put(11, x1)
	d.put(21, y1)
}

// LineOrArc writes one piece as LINE or ARC.
func (d *Drawing) LineOrArc(layer string, a Arc) {
	if a.Bulge == 0 {
		d.Line(layer, a.AX, a.AY, a.BX, a.BY)
		return
	}
	k := (1 - a.Bulge*a.Bulge) / (4 * a.Bulge)
	dx, dy := a.BX-a.AX, a.BY-a.AY
	cx, cy := (a.AX+a.BX)/2-k*dy, (a.AY+a.BY)/2+k*dx
	r := math.Hypot(a.AX-cx, a.AY-cy)
	from, to := math.Atan2(a.AY-cy, a.AX-cx), math.Atan2(a.BY-cy, a.BX-cx)
	if a.Bulge < 0 {
		from, to = to, from
	}
	deg := func(rad float64) float64 { return math.Mod(rad*180/math.Pi+360, 360) }
	d.entity("ARC", layer, "AcDbCircle")
	d.put(10, cx)
	d.put(20, cy)
	d.put(40, r)
	d.put(100, "AcDbArc")
	d.put(50, deg(from))
	d.put(51, deg(to))
}

// Spline writes a clamped cubic with evenly spaced inner knots.
func (d *Drawing) Spline(layer string, controls [][2]float64) {
	d.entity("SPLINE", layer, "AcDbSpline")
	n := len(controls)
	d.put(70, 8)
	d.put(71, 3)
	d.put(72, n+4)
	d.put(73, n)
	d.put(74, 0)
	for i := range n + 4 {
		d.put(40, float64(min(max(i-3, 0), n-3)))
	}
	for _, c := range controls {
		d.put(10, c[0])
		d.put(20, c[1])
		d.put(30, 0.0)
	}
}

// Ellipse writes an elliptic arc.
func (d *Drawing) Ellipse(layer string, c, major [2]float64, ratio, start, end float64) {
	d.entity("ELLIPSE", layer, "AcDbEllipse")
	d.put(10, c[0])
	d.put(20, c[1])
	d.put(30, 0.0)
	d.put(11, major[0])
	d.put(21, major[1])
	d.put(31, 0.0)
	d.put(40, ratio)
	d.put(41, start)
	d.put(42, end)
}

// Circle writes a CIRCLE.
func (d *Drawing) Circle(layer string, x, y, r float64) {
	d.entity("CIRCLE", layer, "AcDbCircle")
	d.put(10, x)
	d.put(20, y)
	d.put(40, r)
}

// Text writes a TEXT of height h.
func (d *Drawing) Text(layer string, x, y, h float64, s string) {
	d.entity("TEXT", layer, "AcDbText")
	d.put(10, x)
	d.put(20, y)
	d.put(40, h)
	d.put(1, s)
}

// Bytes is the whole file, for units as $INSUNITS counts them.
func (d *Drawing) Bytes(units int, layers ...string) []byte {
	var b bytes.Buffer
	p := func(code int, value any) { pairTo(&b, code, value) }
	p(0, "SECTION")
	p(2, "HEADER")
	p(9, "$ACADVER")
	p(1, "AC1015")
	p(9, "$INSUNITS")
	p(70, units)
	p(9, "$HANDSEED")
	p(5, fmt.Sprintf("%X", 0x200+d.handle))
	p(0, "ENDSEC")
	p(0, "SECTION")
	p(2, "TABLES")
	p(0, "TABLE")
	p(2, "LAYER")
	p(5, "2")
	p(100, "AcDbSymbolTable")
	p(70, len(layers))
	for i, l := range layers {
		p(0, "LAYER")
		p(5, fmt.Sprintf("%X", 0x10+i))
		p(100, "AcDbSymbolTableRecord")
		p(100, "AcDbLayerTableRecord")
		p(2, l)
		p(70, 0)
		p(62, i+1)
		p(6, "CONTINUOUS")
	}
	p(0, "ENDTAB")
	p(0, "ENDSEC")
	p(0, "SECTION")
	p(2, "ENTITIES")
	b.Write(d.body.Bytes())
	p(0, "ENDSEC")
	p(0, "EOF")
	return b.Bytes()
}
