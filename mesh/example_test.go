package mesh_test

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
)

// A tetrahedron that lacks a side is not let through; with it, the mesh to write comes back.
func ExampleGate() {
	m := &mesh.Mesh{
		Vertices:  []r3.Vec{{}, {X: 5}, {Y: 4}, {Z: 3}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}},
	}
	_, err := mesh.Gate(m)
	fmt.Println(err)

	m.Triangles = append(m.Triangles, [3]int32{1, 2, 3})
	ready, err := mesh.Gate(m)
	fmt.Println(ready.Volume(), err)
	// Output:
	// mesh: open edge: 3, at (2.5, 2, 0) mm
	// 10 <nil>
}

// The other hand is the mirror in z = 0.
func ExampleMesh_Mirrored() {
	m := &mesh.Mesh{
		Vertices:  []r3.Vec{{}, {X: 5}, {Y: 4}, {Z: 3}},
		Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}},
	}
	left := m.Mirrored()
	fmt.Println(left.Bounds(), left.Volume())
	// Output:
	// {{0 0 -3} {5 4 0}} 10
}
