package relief

import "formbuck/mesh"

// Tidied is a mesh without flat triangles, for tests of how they are taken out.
func Tidied(m *mesh.Mesh) *mesh.Mesh { return tidied(m) }

// LeastAltitude is the altitude, in mm, below which a triangle is taken out.
const LeastAltitude = leastAltitude
