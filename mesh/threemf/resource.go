package threemf

import (
	"encoding/xml"
	"errors"
	"image/color"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// resource reads one child of <resources>.
func (r *reader) resource(start xml.StartElement) (bool, error) {
	switch start.Name.Local {
	case "object":
		return true, r.object(start)
	case "basematerials":
		id, err := r.number(start, "id")
		if err != nil {
			return false, err
		}
		return true, r.each(func(start xml.StartElement) (bool, error) {
			if start.Name.Local == "base" {
				text, _ := attribute(start, "displaycolor")
				c, ok := colourOf(text)
				if !ok {
					return false, r.fault(Value, "displaycolor %q, expected #RRGGBB or #RRGGBBAA", short(text))
				}
				r.colours[id] = append(r.colours[id], c)
			}
			return false, nil
		})
	}
	return false, nil
}

// object reads an object.
func (r *reader) object(start xml.StartElement) error {
	id, err := r.number(start, "id")
	if err != nil {
		return err
	}
	if r.objects[id] != nil {
		return r.fault(Twice, "two objects have the id %d", id)
	}
	o := &object{id: id, kind: "model"}
	o.name, _ = attribute(start, "name")
	if kind, ok := attribute(start, "type"); ok {
		o.kind = kind
	}
	switch o.kind {
	case "model", "solidsupport", "support", "surface", "other":
	default:
		return r.fault(Value, "type %q, expected model, solidsupport, support, surface or other", short(o.kind))
	}
	if o.colour, err = r.colour(start); err != nil {
		return err
	}
	err = r.each(func(start xml.StartElement) (bool, error) {
		switch start.Name.Local {
		case "mesh", "components":
			if len(o.triangles)+len(o.components) > 0 {
				return false, r.fault(Twice, "object %d has a second <%s>", id, start.Name.Local)
			}
			if start.Name.Local == "mesh" {
				return true, r.mesh(o)
			}
			return true, r.each(func(start xml.StartElement) (bool, error) { return false, r.component(start, o) })
		}
		return false, nil
	})
	if err != nil {
		return err
	}
	if len(o.triangles)+len(o.components) == 0 {
		return r.fault(Empty, "object %d has no triangle", id)
	}
	o.size += int64(len(o.vertices)) + int64(len(o.triangles))
	r.objects[id] = o
	r.order = append(r.order, id)
	return nil
}

// colour is that of an object as a whole, where it is one of the core's.
func (r *reader) colour(start xml.StartElement) (color.NRGBA, error) {
	if _, ok := attribute(start, "pid"); !ok {
		return color.NRGBA{}, nil
	}
	list, err := r.number(start, "pid")
	if err != nil {
		return color.NRGBA{}, err
	}
	index := uint32(0)
	if _, ok := attribute(start, "pindex"); ok {
		if index, err = r.count(start, "pindex"); err != nil {
			return color.NRGBA{}, err
		}
	}
	if colours := r.colours[list]; int64(index) < int64(len(colours)) {
		return colours[index], nil
	}
	return color.NRGBA{}, nil
}

// mesh reads vertices and triangles.
func (r *reader) mesh(o *object) error {
	return r.each(func(start xml.StartElement) (bool, error) {
		switch start.Name.Local {
		case "vertices":
			return true, r.each(func(start xml.StartElement) (bool, error) { return false, r.vertex(start, o) })
		case "triangles":
			return true, r.each(func(start xml.StartElement) (bool, error) { return false, r.triangle(start, o) })
		}
		return false, nil
	})
}

// vertex reads one vertex. Coordinates are taken in float32, so that those of a mesh that was written
// are the same to the last bit.
func (r *reader) vertex(start xml.StartElement, o *object) error {
	if start.Name.Local != "vertex" {
		return nil
	}
	if len(o.vertices) >= maxSize {
		return r.fault(TooLarge, "more than %d vertices", maxSize)
	}
	var p [3]float64
	var seen [3]bool
	for _, a := range start.Attr {
		k := axis(a.Name)
		if k < 0 {
			continue
		}
		x, err := parseNumber(a.Value, 32)
		if err != nil || x-x != 0 {
			return r.notNumber(a, err)
		}
		p[k], seen[k] = x, true
	}
	if seen != [3]bool{true, true, true} {
		return r.fault(Missing, "vertex %d lacks a coordinate", len(o.vertices))
	}
	o.vertices = append(o.vertices, r3.Vec{X: p[0], Y: p[1], Z: p[2]})
	return nil
}

// axis is the number of the coordinate that an attribute holds, -1 for any other.
func axis(n xml.Name) int {
	if n.Space != "" || len(n.Local) != 1 {
		return -1
	}
	return strings.IndexByte("xyz", n.Local[0])
}

// parseNumber reads a number of the format: Go knows others too, such as 0x1p3 and 1_000.
func parseNumber(text string, bits int) (float64, error) {
	if strings.ContainsAny(text, "_xX") {
		return 0, strconv.ErrSyntax
	}
	return strconv.ParseFloat(bare(text), bits)
}

// bare is a number without the white space round it, which XML Schema takes away before it looks
// (W3C XML Schema Part 2, 4.3.6: collapse).
func bare(text string) string { return strings.Trim(text, " \t\r\n") }

// notNumber is what is wrong with an attribute that should hold a finite number.
func (r *reader) notNumber(a xml.Attr, err error) error {
	c := Value
	switch {
	case err == nil:
		c = NonFinite
	case errors.Is(err, strconv.ErrRange):
		c = Overflow
	}
	return r.fault(c, "%s=%q, expected a number", a.Name.Local, short(a.Value))
}

// triangle reads one triangle.
func (r *reader) triangle(start xml.StartElement, o *object) error {
	if start.Name.Local != "triangle" {
		return nil
	}
	if len(o.triangles) >= maxSize {
		return r.fault(TooLarge, "more than %d triangles", maxSize)
	}
	var t [3]int32
	var seen [3]bool
	for _, a := range start.Attr {
		if a.Name.Space != "" || len(a.Name.Local) != 2 || a.Name.Local[0] != 'v' {
			continue
		}
		k := int(a.Name.Local[1]) - '1'
		if k < 0 || k > 2 {
			continue
		}
		v, err := strconv.ParseUint(bare(a.Value), 10, 31)
		if err != nil {
			return r.fault(Value, "%s=%q, expected the number of a vertex", a.Name.Local, short(a.Value))
		}
		if v >= uint64(len(o.vertices)) {
			return r.fault(Index, "triangle %d names vertex %d of %d", len(o.triangles), v, len(o.vertices))
		}
		t[k], seen[k] = int32(v), true
	}
	if seen != [3]bool{true, true, true} {
		return r.fault(Missing, "triangle %d lacks a vertex", len(o.triangles))
	}
	o.triangles = append(o.triangles, t)
	return nil
}

// attribute is the value of an attribute without a namespace.
func attribute(start xml.StartElement, name string) (string, bool) {
	for _, a := range start.Attr {
		if a.Name.Space == "" && a.Name.Local == name {
			return a.Value, true
		}
	}
	return "", false
}

// count is an attribute that holds a whole number.
func (r *reader) count(start xml.StartElement, name string) (uint32, error) {
	text, ok := attribute(start, name)
	if !ok {
		return 0, r.fault(Missing, "<%s> without %s", start.Name.Local, name)
	}
	n, err := strconv.ParseUint(bare(text), 10, 31)
	if err != nil {
		return 0, r.fault(Value, "%s=%q, expected a whole number", name, short(text))
	}
	return uint32(n), nil
}

// number is an attribute that holds the number of a resource, from 1.
func (r *reader) number(start xml.StartElement, name string) (uint32, error) {
	n, err := r.count(start, name)
	if err == nil && n == 0 {
		return 0, r.fault(Value, "%s=\"0\", expected a number from 1", name)
	}
	return n, err
}

// colourOf reads a colour as the core writes it.
func colourOf(text string) (color.NRGBA, bool) {
	n, err := strconv.ParseUint(strings.TrimPrefix(text, "#"), 16, 32)
	switch {
	case err != nil || !strings.HasPrefix(text, "#"):
		return color.NRGBA{}, false
	case len(text) == 7:
		n = n<<8 | 0xff
	case len(text) != 9:
		return color.NRGBA{}, false
	}
	return color.NRGBA{R: uint8(n >> 24), G: uint8(n >> 16), B: uint8(n >> 8), A: uint8(n)}, true
}
