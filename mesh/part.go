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
	return m.only(func(i int) bool { return parts.number[i] == int32(best) }), rest
}

// Swept is the mesh without its crumbs: the parts that hang together by their edges and hold less than least mm3,
// where another holds more; a hollow is none. It is the mesh itself where there are none. Indices must be in range.
func (m *Mesh) Swept(least float64) *Mesh {
	parts := newTopology(m).parts()
	crumbs := 0
	for _, s := range parts.shells {
		if s.Volume >= 0 && s.Volume < least {
			crumbs++
		}
	}
	if crumbs == 0 || crumbs == len(parts.shells) {
		return m
	}
	return m.only(func(i int) bool {
		n := parts.number[i]
		return n < 0 || parts.shells[n].Volume < 0 || parts.shells[n].Volume >= least
	})
}

// only is the mesh of some of the triangles.
func (m *Mesh) only(keep func(i int) bool) *Mesh {
	part := &Mesh{Vertices: m.Vertices}
	for i, t := range m.Triangles {
		if keep(i) {
			part.Triangles = append(part.Triangles, t)
		}
	}
	return part.Welded()
}
