package job

import "formbuck/mesh"

// Gated puts a mesh through the gate as a piece of the name.
func Gated(name string, m *mesh.Mesh) error {
	b := build{piece: &Piece{Name: name}, mesh: func() (*mesh.Mesh, error) { return m, nil }}
	return b.make()
}
