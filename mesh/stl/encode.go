package stl

import (
	"bufio"
	"fmt"
	"io"
	"math"

	"github.com/hschendel/stl"
	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
)

// lead begins every binary header, so that no name can make it begin with "solid".
const lead = "binary STL in mm: "

// Encode writes the mesh as a binary STL file of 84 + 50 n bytes. The name goes into the header as
// far as it is printable ASCII and fits. Coordinates are rounded to float32; for a mesh from
// mesh.Gate that changes nothing. Same mesh and name, same bytes. A mesh that cannot be written is
// an *Error, before anything is written; an error of the writer is passed on.
func Encode(w io.Writer, m *mesh.Mesh, name string) error {
	s, err := solid(m)
	if err != nil {
		return err
	}
	s.BinaryHeader = []byte(lead + title(name))
	return write(w, s)
}

// EncodeText writes the mesh as a text STL file. Numbers are as short as float32 allows, so that
// reading gives the same mesh as the binary file. For the rest see Encode.
func EncodeText(w io.Writer, m *mesh.Mesh, name string) error {
	s, err := solid(m)
	if err != nil {
		return err
	}
	s.Name, s.IsAscii = title(name), true
	return write(w, s)
}

// write puts out a solid in larger pieces than the library does.
func write(w io.Writer, s *stl.Solid) error {
	b := bufio.NewWriterSize(w, 1<<16)
	if err := s.WriteAll(b); err != nil {
		return err
	}
	return b.Flush()
}

// solid is the mesh as the library takes it.
func solid(m *mesh.Mesh) (*stl.Solid, error) {
	if len(m.Triangles) == 0 {
		return nil, &Error{Class: Empty, Offset: -1, Triangle: -1, Found: "no triangle to write"}
	}
	if len(m.Triangles) > math.MaxUint32 {
		return nil, &Error{Class: Count, Offset: -1, Triangle: -1, Found: "more triangles than the format can count"}
	}
	s := &stl.Solid{Triangles: make([]stl.Triangle, len(m.Triangles))}
	for i, t := range m.Triangles {
		var p [3]r3.Vec
		for k, v := range t {
			if v < 0 || int(v) >= len(m.Vertices) {
				return nil, &Error{Class: Index, Offset: -1, Triangle: i, Found: fmt.Sprintf("vertex %d of %d", v, len(m.Vertices))}
			}
			c, err := corner(m.Vertices[v], i)
			if err != nil {
				return nil, err
			}
			s.Triangles[i].Vertices[k] = c
			p[k] = r3.Vec{X: float64(c[0]), Y: float64(c[1]), Z: float64(c[2])}
		}
		s.Triangles[i].Normal = normal(p[0], p[1], p[2])
	}
	return s, nil
}

// corner is a vertex in float32.
func corner(v r3.Vec, triangle int) (stl.Vec3, error) {
	c := stl.Vec3{float32(v.X) + 0, float32(v.Y) + 0, float32(v.Z) + 0} // + 0 turns -0 into 0
	if finite(&c) {
		return c, nil
	}
	e := &Error{Class: NonFinite, Offset: -1, Triangle: triangle, Found: fmt.Sprintf("vertex (%v, %v, %v)", v.X, v.Y, v.Z)}
	for _, x := range [3]float64{v.X, v.Y, v.Z} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return c, e
		}
	}
	e.Class = Overflow
	return c, e
}

// normal is the unit normal of the corners as they are written, zero for no area. The conversions
// forbid fused multiply-add, so that every machine writes the same bytes.
func normal(a, b, c r3.Vec) stl.Vec3 {
	p, q := r3.Sub(b, a), r3.Sub(c, a)
	x := float64(p.Y*q.Z) - float64(p.Z*q.Y)
	y := float64(p.Z*q.X) - float64(p.X*q.Z)
	z := float64(p.X*q.Y) - float64(p.Y*q.X)
	length := math.Sqrt(float64(x*x) + float64(y*y) + float64(z*z))
	if length == 0 {
		return stl.Vec3{}
	}
	return stl.Vec3{float32(x/length) + 0, float32(y/length) + 0, float32(z/length) + 0}
}
