// Package threemf reads and writes 3MF files: several named, coloured solids in one file, with
// units, laid out as they are to be printed. The format is the 3MF Core Specification 1.4.0 of the
// 3MF Consortium: a ZIP package after the Open Packaging Conventions (ISO/IEC 29500-2) that holds
//
//	[Content_Types].xml    what kinds of parts there are
//	_rels/.rels            which of them is the model
//	3D/3dmodel.model       the model, in XML: resources (objects and colours) and what to build of them
//
// An object is a mesh of vertices and of triangles that index them, or is composed of other objects.
// A build item places an object by a transform. Unlike in STL, triangles share an edge only where
// they name the same two vertices, so Decode welds nothing, and mesh.Check tells what the file says.
//
// Encode writes through go3mf. Decode is our own, on encoding/xml: go3mf's reader takes a third
// of the time and less for a million triangles (BenchmarkMillion), but gives no line for a fault ("XML syntax
// error on line 0"), and skips rather than refuses what it does not know.
package threemf

import (
	"fmt"
	"image/color"

	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// Class is a kind of fault. The list is closed.
type Class uint8

// The classes. In writing: Empty, NonFinite, Overflow and Index.
const (
	Empty       Class = iota + 1 // nothing to build, or an object without triangles
	NotPackage                   // no ZIP file
	Cut                          // a ZIP file whose directory is missing
	Damaged                      // a part that cannot be unpacked or does not match its checksum
	Missing                      // a part, element or attribute that has to be there is not
	Twice                        // a part, element or number that may be there once is there again
	Unsupported                  // packing, extension or place of a part that is not read
	TooLarge                     // unpacks to more than is read
	Syntax                       // not well-formed XML
	Value                        // an attribute that does not have the form it should
	NonFinite                    // a number that is not a number or infinite
	Overflow                     // a number too large, a coordinate for float32
	Index                        // a triangle names a vertex that is not there
	Reference                    // an object is named that was not defined before
)

// String is the class in words.
func (c Class) String() string {
	switch c {
	case Empty:
		return "empty"
	case NotPackage:
		return "not a 3MF file"
	case Cut:
		return "cut file"
	case Damaged:
		return "damaged"
	case Missing:
		return "missing"
	case Twice:
		return "twice"
	case Unsupported:
		return "not supported"
	case TooLarge:
		return "too large"
	case Syntax:
		return "not well-formed"
	case Value:
		return "wrong value"
	case NonFinite:
		return "non-finite number"
	case Overflow:
		return "number too large"
	case Index:
		return "index out of range"
	case Reference:
		return "unknown object"
	default:
		return fmt.Sprintf("class %d", uint8(c))
	}
}

// Error is a fault with its place: part, line and column in a file, or the object in a Package that
// cannot be written.
type Error struct {
	Class  Class
	Part   string // name of the part in the package; empty: the package as a whole
	Line   int    // counted from 1; 0: the part as a whole
	Column int    // in bytes, counted from 1; the end of what was read
	Object string // name of the object; empty if it is not in one
	Found  string // what was found and what was expected, in words
}

// Error is the fault in one line.
func (e *Error) Error() string { return "3mf: " + e.Place() + e.What() }

// Place is where the fault lies, with a colon and a blank behind it, or nothing.
func (e *Error) Place() string {
	switch {
	case e.Line > 0:
		return fmt.Sprintf("%s:%d:%d: ", e.Part, e.Line, e.Column)
	case e.Part != "":
		return e.Part + ": "
	case e.Object != "":
		return e.Object + ": "
	default:
		return ""
	}
}

// What is the fault without its place.
func (e *Error) What() string {
	if e.Found == "" {
		return e.Class.String()
	}
	return e.Class.String() + ": " + e.Found
}

// Package is what a file is to hold.
type Package struct {
	Title       string // of the file, such as the variant's name
	Description string
	Application string // the program that made it
	Objects     []Object
	// Gap is the least distance in mm between the objects on the bed; 0 means DefaultGap.
	Gap float64
	// Bed is the width in mm that a row of objects takes at most; 0 means DefaultBed.
	Bed float64

	corners []r3.Vec // where each object's least corner lies on its plate; nil: rows are laid out
	// Assembled leaves the objects where their coordinates put them instead of laying them out.
	Assembled bool
}

// Object is one solid. Its mesh stands as it is printed, its lowest point at z = 0; lengths are mm.
type Object struct {
	Name   string
	Colour color.NRGBA // the zero value: no colour
	Mesh   *mesh.Mesh
}

// File is what a file held.
type File struct {
	// Unit is the unit of the file's numbers, such as "millimeter". Lengths here are mm already.
	Unit string
	// Metadata of the model, in the file's order.
	Metadata []Metadata
	// Items are what is to be built, in the file's order.
	Items []Item
	// Unused counts objects that no item builds.
	Unused int
}

// Metadata is a remark in a file.
type Metadata struct{ Name, Value string }

// Item is an object in the place where it is to be built.
type Item struct {
	// Name of the object, or of the item where the object has none; "object 3" where neither has.
	Name string
	// Type is "model", or "solidsupport", "support", "surface" or "other".
	Type string
	// Colour is that of the object as a whole; the zero value: none.
	Colour color.NRGBA
	// Mesh is in mm, transforms and components carried out. Where a transform mirrors, the winding is
	// turned with it, so that what was outside stays outside.
	Mesh *mesh.Mesh
}
