// Package mesh holds indexed triangle meshes: what a solid is made of before it becomes a file.
//
// Lengths are millimetres. A mesh is meant to be the boundary of one or more solids: every edge
// shared by exactly two triangles, triangles counter-clockwise seen from outside. Nothing here
// forces that; Check tells whether it holds, and where it does not.
package mesh

import "gonum.org/v1/gonum/spatial/r3"

// Mesh is a list of points and of triangles that index them, counter-clockwise seen from outside.
// The zero value is an empty mesh.
type Mesh struct {
	Vertices  []r3.Vec
	Triangles [][3]int32
}
