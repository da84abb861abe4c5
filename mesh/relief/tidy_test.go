package relief_test

import (
	"testing"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r3"
)

// tent is a pyramid over a polygon of the plane z = 0, with its tip at (-0.5, -0.5, 1) and its floor cut as
// given, seen from above; the last points, inner of them, are on the floor within the rim.
func tent(inner int32, rim []r3.Vec, floor [][3]int32) *mesh.Mesh {
	m := &mesh.Mesh{Vertices: append(rim[:len(rim):len(rim)], r3.Vec{X: -0.5, Y: -0.5, Z: 1})}
	n := int32(len(rim))
	for i := range n - inner {
		m.Triangles = append(m.Triangles, [3]int32{i, (i + 1) % (n - inner), n})
	}
	for _, c := range floor {
		m.Triangles = append(m.Triangles, [3]int32{c[0], c[2], c[1]})
	}
	return m
}

// TestTidied makes meshes that are closed, each with a triangle that is flatter than allowed and one way
// to take it out.
func TestTidied(t *testing.T) {
	const flat = relief.LeastAltitude / 4
	tests := []struct {
		name      string
		mesh      *mesh.Mesh
		vertices  int
		triangles int
	}{
		// Two corners of the rim a micrometre apart: one is left.
		{"join", tent(0, []r3.Vec{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: 1, Y: 1}, {X: 1 - flat, Y: 1}, {X: -1, Y: 1}},
			[][3]int32{{0, 1, 2}, {0, 2, 3}, {0, 3, 4}}), 5, 6},
		// A corner of the floor all but on the diagonal beside it: the diagonal turns.
		{"turn", tent(0, []r3.Vec{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: 0.2 + flat, Y: -0.2 + flat}, {X: 1, Y: 1.4}, {X: -1, Y: 1}},
			[][3]int32{{4, 0, 1}, {4, 1, 2}, {4, 2, 3}}), 6, 8},
		// Points all but on a straight side of the rim, from both sides of it, far from its ends: turning
		// helps nothing, one slides along the side to its end.
		{"slide", tent(
			1, []r3.Vec{{X: -1, Y: -1}, {X: 0.1, Y: -1 - flat}, {X: 1, Y: -1}, {X: 1, Y: 1}, {X: -1, Y: 1}, {X: 0.1, Y: -1 + flat}},
			[][3]int32{{0, 1, 2}, {0, 2, 5}, {2, 3, 5}, {3, 4, 5}, {4, 0, 5}}), 6, 8},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			before := tt.mesh.Volume()
			if _, err := mesh.Gate(tt.mesh); err == nil {
				t.Fatal("nothing to take out")
			}
			m := relief.Tidied(tt.mesh)
			meshtest.Clean(t, m)
			meshtest.Volume(t, m, before, 1e-4)
			if len(m.Vertices) != tt.vertices || len(m.Triangles) != tt.triangles {
				t.Errorf("%d vertices, %d triangles, want %d, %d", len(m.Vertices), len(m.Triangles), tt.vertices, tt.triangles)
			}
		})
	}
}
