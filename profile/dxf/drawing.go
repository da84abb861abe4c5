// Package dxf reads DXF drawings into typed entities and writes drawings of lines, arcs, circles
// and text.
//
// A DXF file is a list of pairs: a group code and a value, one line each in the text form, packed
// in the binary form. Code 0 starts an entity or a section's bracket, 2 is a name, 5 a handle, 8 a
// layer, 10/20/30 a point, 999 a comment (DXF Reference). What is accepted here:
//
//   - text with any line ending (LF, CR LF, CR), blanks round codes and numbers, comments, a UTF-8
//     byte-order mark, lines of any length; binary DXF of both widths of group code;
//   - names in the code page of $DWGCODEPAGE before R2007 (AC1021) and in UTF-8 after, with \U+XXXX
//     escapes;
//   - sections in any order, an ENTITIES section alone, a missing EOF after a complete section.
//
// Decode keeps every entity with its line, handle and layer, whether it is understood or not.
// Drawing.Walk then gives the geometry as it lies in plan: blocks inserted, object coordinate
// systems resolved, hidden things left out and counted. Nothing is allocated from a count that a
// file states, and nothing is dropped without a record.
package dxf

import "gonum.org/v1/gonum/spatial/r3"

// Drawing is the contents of a DXF file, lengths in drawing units. The zero value is an empty
// drawing.
type Drawing struct {
	File     string // name of the file, as in messages
	Version  string // $ACADVER, empty where not stated
	CodePage string // $DWGCODEPAGE, empty where not stated
	Binary   bool
	Units    Units       // $INSUNITS
	Measure  Measurement // $MEASUREMENT
	Layers   []Layer     // in the order of the file
	Blocks   []Block     // in the order of the file
	Entities []Entity    // in the order of the file
	Notes    []Note      // what was odd and harmless
}

// Note is something odd in a file that did not stop the reading.
type Note struct {
	Line int
	What string
}

// Layer is an entry of the layer table. Names differ in case only by accident and count as equal.
type Layer struct {
	Name        string
	Off, Frozen bool
	Colour      int // colour index, 1 to 255; 0: not stated
}

// Block is a named group of entities.
type Block struct {
	Name     string
	Line     int
	Base     r3.Vec
	XRef     bool // drawn in another file
	Entities []Entity
}

// Entity is one entity of the file.
type Entity struct {
	Kind      string // LINE, ARC and so on, in capitals
	Layer     string // 0 where the file states none
	Handle    uint64 // 0 where the file states none
	Line      int    // of the pair that starts it; the byte offset in a binary file
	Paper     bool   // in paper space
	Invisible bool   // group 60
	Extrusion r3.Vec // normal of its own coordinate system; zero where that is 0,0,1
	Shape     Shape  // nil for a kind that is not read
	Far       *Fault // a coordinate beyond what is accepted; nil: none
	Box       *Box   // of the points of a kind that is not read; nil: it states none
}

// Shape is the geometry of an entity: *Line, *Arc, *Circle, *Polyline, *Ellipse, *Spline, *Insert,
// *Point or *Text.
type Shape interface{ shape() }

// Box is the box of an entity's points in world coordinates.
type Box struct{ Min, Max r3.Vec }

// Line is a straight line in world coordinates.
type Line struct{ A, B r3.Vec }

// Arc is a circular arc, counter-clockwise from StartDeg to EndDeg in its own coordinate system.
type Arc struct {
	Centre           r3.Vec
	Radius           float64
	StartDeg, EndDeg float64
}

// Circle is a full circle in its own coordinate system.
type Circle struct {
	Centre r3.Vec
	Radius float64
}

// Vertex is a corner of a polyline; Bulge is tan(sweep/4) of the arc to the next corner.
type Vertex struct{ X, Y, Bulge float64 }

// Polyline is a row of lines and arcs in its own coordinate system: LWPOLYLINE, or POLYLINE with
// its VERTEX entities.
type Polyline struct {
	Vertices  []Vertex
	Elevation float64
	Closed    bool
	World     bool // a 3-D polyline: world coordinates, heights dropped
	Mesh      bool // a polygon mesh or polyface mesh, which is not a line at all
}

// Ellipse is an elliptic arc in world coordinates, counter-clockwise about the extrusion from the
// parameter Start to End, in radians. Parameters are not angles.
type Ellipse struct {
	Centre     r3.Vec
	Major      r3.Vec // end of the major axis, relative to the centre
	Ratio      float64
	Start, End float64
}

// Spline is a B-spline in world coordinates, rational where Weights is not empty. Where Controls is
// empty it is known only by the points it goes through.
type Spline struct {
	Degree       int
	Closed       bool
	Periodic     bool
	Knots        []float64
	Weights      []float64
	Controls     []r3.Vec
	Fits         []r3.Vec
	StartTangent r3.Vec // zero: not stated
	EndTangent   r3.Vec
}

// Insert places a block, or a grid of it.
type Insert struct {
	Block               string
	At                  r3.Vec
	Scale               r3.Vec
	TurnDeg             float64
	Columns, Rows       int
	ColumnStep, RowStep float64
}

// Point is a single point in world coordinates.
type Point struct{ At r3.Vec }

// Text is one line of text, its lower left corner in its own coordinate system.
type Text struct {
	At      r3.Vec
	Height  float64
	TurnDeg float64
	Value   string
}

func (*Line) shape()     {}
func (*Arc) shape()      {}
func (*Circle) shape()   {}
func (*Polyline) shape() {}
func (*Ellipse) shape()  {}
func (*Spline) shape()   {}
func (*Insert) shape()   {}
func (*Point) shape()    {}
func (*Text) shape()     {}
