package mesh

// Largest is the part of the mesh that hangs together by its edges and holds the most volume, and the
// volume of all others together, in mm3. Indices must be in range.
func (m *Mesh) Largest() (part *Mesh, rest float64) {
	parts := newTopology(m).parts()
	best := 0
	for i, s := range parts.shells {
		rest += s.Volume
		if s.Volume > parts.shells[best].Volume {
			best = i
		}
	}
	if len(parts.shells) < 2 {
		return m, 0
	}
	rest -= parts.shells[best].Volume
	part = &Mesh{Vertices: m.Vertices}
	for i, t := range m.Triangles {
		if parts.number[i] == int32(best) {
			part.Triangles = append(part.Triangles, t)
		}
	}
	return part.Welded(), rest
}
