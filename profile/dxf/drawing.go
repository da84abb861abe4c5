// Package dxf reads the text of a DXF drawing into typed entities, and writes drawings of lines,
// arcs and circles.
package dxf

// Drawing is the contents of a DXF file. The zero value is an empty drawing.
type Drawing struct {
	File string // name of the file, as in messages
}
