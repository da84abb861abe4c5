package stl

import (
	"fmt"
	"io"

	"github.com/hschendel/stl"
)

// batch is how many triangles are handed on at once.
const batch = 1 << 12

// unpacker is what the STL library reads a binary file into. It hands the triangles on in slices that
// come back to be filled again, so that reading and welding go on side by side.
type unpacker struct {
	full, free chan []stl.Triangle
	filling    []stl.Triangle
	count      int // that the header states
	before     int // triangles in slices handed on
	name       string
	fault      *Error
}

// newUnpacker makes an unpacker with three slices.
func newUnpacker() *unpacker {
	u := &unpacker{full: make(chan []stl.Triangle, 2), free: make(chan []stl.Triangle, 3)}
	for range cap(u.free) {
		u.free <- make([]stl.Triangle, 0, batch)
	}
	u.filling = <-u.free
	return u
}

// unpack reads the file, from its start. The first triangle that is not finite is a fault.
func (u *unpacker) unpack(r io.ReadSeeker) error {
	from := &witness{ReadSeeker: r}
	err := stl.CopyAll(from, u)
	switch {
	case u.fault != nil:
		return u.fault
	case from.err != nil:
		return from.err
	case err != nil: // the size was right a moment ago
		return &Error{Class: Cut, Triangle: -1, Found: "the file was changed while it was read"}
	}
	u.handOn()
	return nil
}

// handOn gives the slice away and takes an empty one.
func (u *unpacker) handOn() {
	u.before += len(u.filling)
	u.full <- u.filling
	u.filling = <-u.free
}

// SetName takes the header as far as it is ASCII.
func (u *unpacker) SetName(name string) { u.name = title(name) }

// SetBinaryHeader is not needed: the name says it all.
func (u *unpacker) SetBinaryHeader([]byte) {}

// SetASCII is not needed: the form is known.
func (u *unpacker) SetASCII(bool) {}

// SetTriangleCount takes the count.
func (u *unpacker) SetTriangleCount(n uint32) { u.count = int(n) }

// AppendTriangle takes a triangle, or keeps why it cannot: the library asks for no error.
func (u *unpacker) AppendTriangle(t stl.Triangle) {
	if u.fault != nil {
		return
	}
	for k := range t.Vertices {
		if c := &t.Vertices[k]; !finite(c) {
			i := u.before + len(u.filling)
			u.fault = &Error{
				Class: NonFinite, Offset: int64(headerSize + facetSize*i + 12 + 12*k), Triangle: i,
				Found: fmt.Sprintf("vertex (%v, %v, %v)", c[0], c[1], c[2]),
			}
			return
		}
	}
	u.filling = append(u.filling, t)
	if len(u.filling) == batch {
		u.handOn()
	}
}

// witness keeps an error of its reader, which the library words anew.
type witness struct {
	io.ReadSeeker
	err error
}

func (w *witness) Read(b []byte) (int, error) {
	n, err := w.ReadSeeker.Read(b)
	if err != nil && err != io.EOF { //nolint:errorlint // a reader gives io.EOF itself
		w.err = err
	}
	return n, err
}
