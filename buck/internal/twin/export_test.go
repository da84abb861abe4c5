package twin

import (
	"math"

	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// DistanceTo is the distance from p to the mesh, by the tree.
func DistanceTo(m *mesh.Mesh) func(p r3.Vec) float64 {
	t := newTree(m)
	return func(p r3.Vec) float64 { return t.distance(p, math.Inf(1)) }
}
