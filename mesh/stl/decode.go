package stl

import (
	"bytes"
	"encoding/binary"
	"errors"
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
	// maxCount is more triangles than a file holds: where the count states more, it is something else.
	maxCount = 1 << 28
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
// passed on. A binary file whose reader can seek is read piece by piece, any other at once.
func Decode(r io.Reader) (*File, error) {
	var buf bytes.Buffer
	if s, ok := r.(io.ReadSeeker); ok {
		size, binary, err := fits(s)
		if err != nil {
			return nil, err
		}
		if binary {
			return decodeBinary(s)
		}
		buf.Grow(int(size) + bytes.MinRead) // in one piece: to grow it on the way is slow
	}
	if _, err := buf.ReadFrom(r); err != nil {
		return nil, err
	}
	data := buf.Bytes()
	switch size := int64(len(data)); {
	case size == 0:
		return nil, &Error{Class: Empty, Triangle: -1, Found: "the file has no bytes"}
	case size >= headerSize && size == headerSize+facetSize*count(data):
		return decodeBinary(bytes.NewReader(data))
	case isText(data):
		return decodeText(data)
	default:
		return nil, misfit(data)
	}
}

// fits tells the size of a file, and whether it is that which it states as a binary one. It leaves the reader at the start,
// where it must stand; of any other, as of a pipe, it tells nothing.
func fits(r io.ReadSeeker) (size int64, binary bool, err error) {
	if here, err := r.Seek(0, io.SeekCurrent); err != nil || here != 0 {
		return 0, false, nil //nolint:nilerr // a pipe
	}
	var header [headerSize]byte
	n, err := io.ReadFull(r, header[:])
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return 0, false, err
	}
	if size, err = r.Seek(0, io.SeekEnd); err != nil {
		return 0, false, err
	}
	_, err = r.Seek(0, io.SeekStart)
	return size, n == headerSize && size == headerSize+facetSize*count(header[:]), err
}

// count is the number of triangles that a binary header states.
func count(data []byte) int64 {
	return int64(binary.LittleEndian.Uint32(data[headerSize-4 : headerSize]))
}

// misfit says what is wrong with a file that is no text and whose size is not 84 + 50 n.
func misfit(data []byte) error {
	size := int64(len(data))
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		return &Error{Class: Unknown, Triangle: -1, Found: "a text in UTF-16; save it as UTF-8"}
	}
	if size < headerSize {
		if printable(data) {
			return &Error{Class: Unknown, Triangle: -1, Found: "shorter than 84 bytes, and no text that begins with solid"}
		}
		return &Error{
			Class: Cut, Offset: size, Triangle: -1,
			Found: fmt.Sprintf("%d of at least %d bytes of a binary STL", size, headerSize),
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
	case n > maxCount:
		e.Class, e.Offset = Unknown, 0
		e.Found = "no text that begins with solid, and not of the size that a binary STL would state"
	case n > room:
		e.Class = Cut
	default:
		e.Class, e.Offset = Trailing, headerSize+facetSize*n
	}
	return e
}

// decodeBinary reads a binary file of the right size. The STL library turns bytes into triangles, while
// this goroutine welds them.
func decodeBinary(r io.ReadSeeker) (*File, error) {
	b := &builder{}
	u := newUnpacker()
	var failed error
	go func() {
		defer close(u.full)
		failed = u.unpack(r)
	}()
	for batch := range u.full {
		if b.tris == nil {
			b.reserve(u.count)
		}
		for i := range batch {
			b.add(&batch[i].Normal, &batch[i].Vertices)
		}
		u.free <- batch[:0]
	}
	switch {
	case failed != nil:
		return nil, failed
	case u.count == 0:
		return nil, &Error{Class: Empty, Offset: headerSize - 4, Triangle: -1, Found: "the header says 0 triangles"}
	}
	return b.file(Binary, []Solid{{Name: u.name, Triangles: u.count}}), nil
}

// builder welds triangles into a mesh as they are read.
type builder struct {
	weld   mesh.Welder
	tris   [][3]int32
	turned int
	// last are the corners of the triangle before, and known their indices: most triangles have an edge
	// in common with the one before.
	last  [3]stl.Vec3
	known [3]int32
}

// reserve makes room for n triangles: a closed surface has half as many vertices and, for each part that
// hangs together and has no hole through it, two more.
func (b *builder) reserve(n int) {
	b.tris = make([][3]int32, 0, n)
	b.weld.Reserve(n/2 + 1<<10)
}

// add welds a triangle's corners, which must be finite.
func (b *builder) add(normal *stl.Vec3, corners *[3]stl.Vec3) {
	var t [3]int32
	var p [3]r3.Vec
	for k := range t {
		c := &corners[k]
		p[k] = r3.Vec{X: float64(c[0]), Y: float64(c[1]), Z: float64(c[2])}
		t[k] = b.index(c, p[k])
	}
	b.last, b.known = *corners, t
	b.tris = append(b.tris, t)
	n := r3.Cross(r3.Sub(p[1], p[0]), r3.Sub(p[2], p[0]))
	if n.X*float64(normal[0])+n.Y*float64(normal[1])+n.Z*float64(normal[2]) < 0 {
		b.turned++
	}
}

// index is the index of a corner, which is at p.
func (b *builder) index(c *stl.Vec3, p r3.Vec) int32 {
	if len(b.tris) > 0 {
		for k := range b.last {
			if b.last[k] == *c {
				return b.known[k]
			}
		}
	}
	return b.weld.Index(p)
}

// finite tells whether all coordinates are.
func finite(c *stl.Vec3) bool {
	const exponent = 0xff << 23 // all bits set: infinite or not a number
	for _, x := range c {
		if math.Float32bits(x)&exponent == exponent {
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
