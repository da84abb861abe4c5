package stl

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"github.com/hschendel/stl"
	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
)

const (
	headerSize = 84
	facetSize  = 50
)

// File is what a file held.
type File struct {
	// Mesh holds the triangles of all solids, in the file's order, with equal corners welded.
	Mesh *mesh.Mesh
	// Format is which of the two forms the file had.
	Format Format
	// Solids are the parts of a text; a binary file is one solid, named by its header.
	Solids []Solid
	// Turned counts triangles whose stated normal points against their winding. Zero normals, which
	// leave it to the reader, and normals that are not numbers do not count.
	Turned int
}

// Solid is a part of a file.
type Solid struct {
	Name      string
	Triangles int
}

// Decode reads a whole STL file of either form. Every fault is an *Error; an error of the reader is
// passed on.
func Decode(r io.Reader) (*File, error) {
	data, err := readAll(r)
	if err != nil {
		return nil, err
	}
	switch size := int64(len(data)); {
	case size == 0:
		return nil, &Error{Class: Empty, Triangle: -1, Found: "the file has no bytes"}
	case size >= headerSize && size == headerSize+facetSize*count(data):
		return decodeBinary(data)
	case isText(data):
		return decodeText(data)
	default:
		return nil, misfit(data)
	}
}

// readAll reads to the end, in one piece where the reader can tell how much there is.
func readAll(r io.Reader) ([]byte, error) {
	var buf bytes.Buffer
	if s, ok := r.(io.Seeker); ok {
		here, err := s.Seek(0, io.SeekCurrent)
		if err == nil {
			end, _ := s.Seek(0, io.SeekEnd)
			if _, err = s.Seek(here, io.SeekStart); err != nil {
				return nil, err
			}
			buf.Grow(int(max(0, end-here)) + bytes.MinRead)
		}
	}
	_, err := buf.ReadFrom(r)
	return buf.Bytes(), err
}

// count is the number of triangles that a binary header states.
func count(data []byte) int64 {
	return int64(binary.LittleEndian.Uint32(data[headerSize-4 : headerSize]))
}

// misfit says what is wrong with a file that is no text and whose size is not 84 + 50 n.
func misfit(data []byte) error {
	size := int64(len(data))
	if size < headerSize {
		if printable(data) {
			return &Error{Class: Unknown, Triangle: -1, Found: "neither a text that begins with solid nor 84 bytes long"}
		}
		return &Error{
			Class: Cut, Offset: size, Triangle: -1,
			Found: fmt.Sprintf("%d bytes, a binary STL has at least %d", size, headerSize),
		}
	}
	if printable(data[:headerSize]) {
		return &Error{Class: Unknown, Triangle: -1, Found: "a text that does not begin with solid"}
	}
	n, room := count(data), (size-headerSize)/facetSize
	e := &Error{Triangle: -1, Offset: size, Found: fmt.Sprintf("the header says %d triangles, %d bytes; the file has %d bytes",
		n, headerSize+facetSize*n, size)}
	switch rest := (size - headerSize) % facetSize; {
	case rest == 0:
		e.Class, e.Offset = Count, headerSize-4
		e.Found = fmt.Sprintf("the header says %d triangles, the file holds %d", n, room)
	case n > room:
		e.Class = Cut
	default:
		e.Class, e.Offset = Trailing, headerSize+facetSize*n
	}
	return e
}

// decodeBinary reads a binary file of the right size.
func decodeBinary(data []byte) (*File, error) {
	n := count(data)
	if n == 0 {
		return nil, &Error{Class: Empty, Offset: headerSize - 4, Triangle: -1, Found: "the header says 0 triangles"}
	}
	b := &builder{place: func(triangle, corner int) *Error {
		return &Error{Offset: int64(headerSize + facetSize*triangle + 12 + 12*corner), Triangle: triangle}
	}}
	b.tris = make([][3]int32, 0, n)
	if err := stl.CopyAll(bytes.NewReader(data), b); err != nil {
		return nil, err
	}
	if b.err != nil {
		return nil, b.err
	}
	return b.file(Binary, []Solid{{Name: b.name, Triangles: len(b.tris)}}), nil
}

// builder welds triangles into a mesh as they are read. It is what the STL library writes to, and
// keeps the first fault, since the library asks for no error.
type builder struct {
	weld   mesh.Welder
	tris   [][3]int32
	turned int
	name   string
	place  func(triangle, corner int) *Error
	err    *Error
}

// SetName takes the header as far as it is ASCII.
func (b *builder) SetName(name string) { b.name = title(name) }

// SetBinaryHeader is not needed: the name says it all.
func (b *builder) SetBinaryHeader([]byte) {}

// SetASCII is not needed: the form is known.
func (b *builder) SetASCII(bool) {}

// SetTriangleCount is not needed: the count is known.
func (b *builder) SetTriangleCount(uint32) {}

// AppendTriangle adds a triangle, or keeps why it cannot.
func (b *builder) AppendTriangle(t stl.Triangle) {
	if b.err != nil {
		return
	}
	b.add(&t.Normal, &t.Vertices)
}

// add welds a triangle's corners. Infinity less itself is not a number, like NaN.
func (b *builder) add(normal *stl.Vec3, corners *[3]stl.Vec3) {
	var t [3]int32
	var p [3]r3.Vec
	for k := range corners {
		c := &corners[k]
		if s := c[0] + c[1] + c[2]; s-s != 0 && !finite(c) {
			b.err = b.place(len(b.tris), k)
			b.err.Class, b.err.Found = NonFinite, fmt.Sprintf("vertex (%v, %v, %v)", c[0], c[1], c[2])
			return
		}
		p[k] = r3.Vec{X: float64(c[0]), Y: float64(c[1]), Z: float64(c[2])}
		t[k] = b.weld.Index(p[k])
	}
	b.tris = append(b.tris, t)
	n := r3.Cross(r3.Sub(p[1], p[0]), r3.Sub(p[2], p[0]))
	if n.X*float64(normal[0])+n.Y*float64(normal[1])+n.Z*float64(normal[2]) < 0 {
		b.turned++
	}
}

// finite tells whether all coordinates are.
func finite(c *stl.Vec3) bool {
	for _, x := range c {
		if f := float64(x); math.IsNaN(f) || math.IsInf(f, 0) {
			return false
		}
	}
	return true
}

// file is what was built.
func (b *builder) file(format Format, solids []Solid) *File {
	m := &mesh.Mesh{Vertices: b.weld.Vertices(), Triangles: b.tris}
	return &File{Mesh: m, Format: format, Solids: solids, Turned: b.turned}
}
