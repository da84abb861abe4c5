// Package stl reads and writes STL files, the common tongue of printing: a list of triangles, each
// with its own three corners and a normal, in float32 and without units. This package takes lengths
// as millimetres. (Burns, "Automated Fabrication", Prentice Hall 1993, section 6.5, describes both
// forms of the format.)
//
// The binary form is 80 bytes of header, the number n of triangles as a 32-bit little-endian integer
// and 50 bytes a triangle: normal and corners as float32, and a 16-bit attribute. Its size is
// 84 + 50 n bytes, and by that it is told from text, because headers that begin with "solid" are
// common. The text form is
//
//	solid NAME
//	facet normal NX NY NZ
//	outer loop
//	vertex X Y Z (three times)
//	endloop
//	endfacet
//	(more facets)
//	endsolid NAME
//
// Decode welds the corners into an indexed mesh and checks nothing but the file: whether the mesh
// is closed is for mesh.Check to say. Encode writes a mesh as it is: what goes to a printer should
// have passed mesh.Gate.
package stl

import "fmt"

// Class is a kind of fault. The list is closed.
type Class uint8

// The classes. In reading: Empty to Number; in writing: Empty, NonFinite, Overflow and Index.
const (
	Empty     Class = iota + 1 // no triangle
	Unknown                    // neither binary nor text STL
	Cut                        // the file ends too early
	Count                      // the count and the number of triangles in the file differ by whole triangles
	Trailing                   // there is something after the end
	NonFinite                  // a coordinate is not a number or infinite
	Overflow                   // a coordinate is too large for float32
	Syntax                     // a word in a text that does not belong there
	Number                     // a coordinate in a text that is no number
	Index                      // a triangle names a vertex that is not there
)

// String is the class in words.
func (c Class) String() string {
	switch c {
	case Empty:
		return "empty"
	case Unknown:
		return "not an STL file"
	case Cut:
		return "cut file"
	case Count:
		return "wrong count"
	case Trailing:
		return "trailing bytes"
	case NonFinite:
		return "non-finite coordinate"
	case Overflow:
		return "coordinate too large"
	case Syntax:
		return "unexpected word"
	case Number:
		return "not a number"
	case Index:
		return "index out of range"
	default:
		return fmt.Sprintf("class %d", uint8(c))
	}
}

// Error is a fault with its place: the line of a text, counted from 1, or the offset in bytes into
// a binary file (with Line 0), or the triangle of a mesh that cannot be written (with Line 0 and
// Offset -1).
type Error struct {
	Class    Class
	Line     int
	Offset   int64
	Triangle int    // counted from 0; -1 if the fault is not in a triangle
	Found    string // what was found and what was expected, in words
}

// Error is the fault in one line.
func (e *Error) Error() string {
	place := ""
	switch {
	case e.Line > 0:
		place = fmt.Sprintf("line %d: ", e.Line)
	case e.Offset >= 0:
		place = fmt.Sprintf("byte %d: ", e.Offset)
	case e.Triangle >= 0:
		place = fmt.Sprintf("triangle %d: ", e.Triangle)
	}
	if e.Found == "" {
		return fmt.Sprintf("stl: %s%s", place, e.Class)
	}
	return fmt.Sprintf("stl: %s%s: %s", place, e.Class, e.Found)
}

// Format is one of the two forms.
type Format string

// The forms.
const (
	Binary Format = "STL binary"
	Text   Format = "STL text"
)
