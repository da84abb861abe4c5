package threemf

import (
	"encoding/xml"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
)

// transform carries a point (x, y, z) to (x y z 1) times the matrix of four rows of three numbers, as
// the core writes it; the last row is a shift.
type transform [4][3]float64

// still changes nothing.
func still() transform { return transform{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0, 0, 0}} }

// of is where the transform puts a point.
func (t *transform) of(v r3.Vec) r3.Vec {
	var p [3]float64
	for k := range p {
		p[k] = float64(v.X*t[0][k]) + float64(v.Y*t[1][k]) + float64(v.Z*t[2][k]) + t[3][k]
	}
	return r3.Vec{X: p[0], Y: p[1], Z: p[2]}
}

// then is the transform followed by another.
func (t *transform) then(u *transform) transform {
	var out transform
	for i := range t {
		for k := range 3 {
			out[i][k] = float64(t[i][0]*u[0][k]) + float64(t[i][1]*u[1][k]) + float64(t[i][2]*u[2][k])
			if i == 3 {
				out[i][k] += u[3][k]
			}
		}
	}
	return out
}

// det is by what volumes grow; it is negative for a transform that mirrors.
func (t *transform) det() float64 {
	row := func(i int) r3.Vec { return r3.Vec{X: t[i][0], Y: t[i][1], Z: t[i][2]} }
	return r3.Dot(row(0), r3.Cross(row(1), row(2)))
}

// transform is that of an item or a component.
func (r *reader) transform(start xml.StartElement) (transform, error) {
	text, ok := attribute(start, "transform")
	if !ok {
		return still(), nil
	}
	words := strings.Fields(text)
	if len(words) != 12 {
		return transform{}, r.fault(Value, "transform of %d numbers, expected 12", len(words))
	}
	var t transform
	for i, w := range words {
		x, err := parseNumber(w, 64)
		if err != nil || x-x != 0 {
			return t, r.notNumber(xml.Attr{Name: xml.Name{Local: "transform"}, Value: w}, err)
		}
		t[i/3][i%3] = x
	}
	if d := t.det(); d == 0 || d-d != 0 {
		return t, r.fault(Value, "transform that flattens: its determinant is %v", d)
	}
	return t, nil
}

// place reads which object goes where. The core wants it to be defined before, which rules circles out.
func (r *reader) place(start xml.StartElement) (instance, error) {
	for _, a := range start.Attr {
		if a.Name.Space == production && a.Name.Local == "path" {
			return instance{}, r.fault(Unsupported, "an object in another part, %q", short(a.Value))
		}
	}
	id, err := r.number(start, "objectid")
	if err != nil {
		return instance{}, err
	}
	o := r.objects[id]
	if o == nil {
		return instance{}, r.fault(Reference, "object %d is not defined before it is used", id)
	}
	o.used = true
	in := instance{of: o}
	in.name, _ = attribute(start, "partnumber")
	in.by, err = r.transform(start)
	return in, err
}

// component reads one component of an object.
func (r *reader) component(start xml.StartElement, o *object) error {
	if start.Name.Local != "component" {
		return nil
	}
	in, err := r.place(start)
	if err != nil {
		return err
	}
	o.components = append(o.components, in)
	o.size += in.of.size
	o.depth = max(o.depth, in.of.depth+1)
	switch {
	case o.size > maxSize:
		return r.fault(TooLarge, "components come to more than %d vertices and triangles", maxSize)
	case o.depth > maxDepth:
		return r.fault(TooLarge, "components nested more than %d deep", maxDepth)
	}
	return nil
}

// item reads one build item.
func (r *reader) item(start xml.StartElement) (bool, error) {
	if start.Name.Local != "item" {
		return false, nil
	}
	in, err := r.place(start)
	if err != nil {
		return false, err
	}
	if len(r.items) >= maxItems {
		return false, r.fault(TooLarge, "more than %d items to build", maxItems)
	}
	r.items = append(r.items, in)
	if r.size += in.of.size; r.size > maxSize {
		return false, r.fault(TooLarge, "the build comes to more than %d vertices and triangles", maxSize)
	}
	return false, nil
}

// file is what was read.
func (r *reader) file() (*File, error) {
	f := &File{Unit: r.unit, Metadata: r.meta}
	if !r.built {
		return nil, &Error{Class: Missing, Part: short(r.part), Found: "no <build>"}
	}
	if len(r.items) == 0 {
		return nil, &Error{Class: Empty, Part: short(r.part), Found: "no item to build"}
	}
	for _, id := range r.order {
		if !r.objects[id].used {
			f.Unused++
		}
	}
	size := still()
	for k := range 3 {
		size[k][k] = r.scale
	}
	for _, in := range r.items {
		by := in.by.then(&size)
		item := Item{Name: clean(in.of.name), Type: in.of.kind, Colour: in.of.colour, Mesh: &mesh.Mesh{}}
		switch {
		case item.Name != "":
		case in.name != "":
			item.Name = clean(in.name)
		default:
			item.Name = fmt.Sprintf("object %d", in.of.id)
		}
		in.of.into(item.Mesh, &by)
		for _, v := range item.Mesh.Vertices {
			if s := math.Abs(v.X) + math.Abs(v.Y) + math.Abs(v.Z); !(s <= math.MaxFloat32) {
				return nil, &Error{Class: Overflow, Part: short(r.part), Object: short(item.Name), Found: short(item.Name) + ", once it is in its place"}
			}
		}
		f.Items = append(f.Items, item)
	}
	return f, nil
}

// into adds the object to a mesh, put in place by t.
func (o *object) into(m *mesh.Mesh, t *transform) {
	first := int32(len(m.Vertices))
	for _, v := range o.vertices {
		m.Vertices = append(m.Vertices, t.of(v))
	}
	mirrors := t.det() < 0
	for _, c := range o.triangles {
		c = [3]int32{c[0] + first, c[1] + first, c[2] + first}
		if mirrors {
			c[1], c[2] = c[2], c[1]
		}
		m.Triangles = append(m.Triangles, c)
	}
	for i := range o.components {
		by := o.components[i].by.then(t)
		o.components[i].of.into(m, &by)
	}
}
