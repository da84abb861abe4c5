package mesh

import "gonum.org/v1/gonum/spatial/r3"

// Shell is a part of a mesh that hangs together by its edges. Two shells may touch at a vertex.
type Shell struct {
	// First is the lowest triangle of the shell.
	First int
	// Triangles, Edges and Vertices are counts. A vertex at which the shell touches itself counts
	// once for each of its fans, so that the counts belong to the surface.
	Triangles, Edges, Vertices int
	// Closed: every edge lies in exactly two triangles.
	Closed bool
	// Oriented: no two triangles run an edge in the same direction.
	Oriented bool
	// Volume in mm3, signed: a cavity's is negative. It has a meaning where the shell is closed.
	Volume float64
	// Bounds in mm.
	Bounds r3.Box
}

// Euler is the Euler characteristic V - E + F.
func (s Shell) Euler() int { return s.Vertices - s.Edges + s.Triangles }

// Genus is the number of handles (0 for a ball, 1 for a ring), from V - E + F = 2 (1 - genus). It is
// -1 for a shell that is not closed or not oriented.
func (s Shell) Genus() int {
	if !s.Closed || !s.Oriented {
		return -1
	}
	return 1 - s.Euler()/2
}

// Shells are the mesh's shells in the order of their lowest triangle. Triangles that name a vertex
// twice belong to none. Indices must be in range.
func (m *Mesh) Shells() []Shell {
	return newTopology(m).parts().shells
}

// parts is how the triangles hang together.
type parts struct {
	shells []Shell
	number []int32 // each triangle's shell, -1 for a collapsed triangle
	fans   sets    // corners (3 * triangle + corner) joined where their triangles share an edge there
}

// parts joins triangles and corners over the edges, then counts.
func (tp *topology) parts() parts {
	m := tp.mesh
	tris, corners := newSets(len(m.Triangles)), newSets(3*len(m.Triangles))
	tp.each(func(e edge) {
		lo0, hi0 := e.at(m, 0)
		for i := 1; i < len(e.sides); i++ {
			tris.join(e.triangle(0), e.triangle(i))
			lo, hi := e.at(m, i)
			corners.join(lo0, lo)
			corners.join(hi0, hi)
		}
	})
	number, shells := tp.number(tris)
	tp.each(func(e edge) {
		s := &shells[number[e.triangle(0)]]
		s.Edges++
		s.Closed = s.Closed && len(e.sides) == 2
		for i := 1; i < len(e.sides); i++ {
			s.Oriented = s.Oriented && e.forward(m, i) != e.forward(m, i-1)
		}
	})
	for c := range corners {
		if t := c / 3; number[t] >= 0 && corners[c] == int32(c) {
			shells[number[t]].Vertices++
		}
	}
	m.measureShells(number, shells)
	return parts{shells: shells, number: number, fans: corners}
}

// number gives each set of triangles a number, in the order of their lowest triangle.
func (tp *topology) number(tris sets) ([]int32, []Shell) {
	number := make([]int32, len(tris))
	var shells []Shell
	for t := range tris {
		r := tris.root(int32(t))
		switch {
		case collapsed(tp.mesh.Triangles[t]):
			number[t] = -1
			continue
		case r == int32(t):
			number[t] = int32(len(shells))
			shells = append(shells, Shell{First: t, Closed: true, Oriented: true})
		default:
			number[t] = number[r]
		}
		shells[number[t]].Triangles++
	}
	return number, shells
}

// measureShells fills in bounds and volumes.
func (m *Mesh) measureShells(number []int32, shells []Shell) {
	for i := range shells {
		v := m.Vertices[m.Triangles[shells[i].First][0]]
		shells[i].Bounds = r3.Box{Min: v, Max: v}
	}
	for i, t := range m.Triangles {
		if number[i] < 0 {
			continue
		}
		b := &shells[number[i]].Bounds
		for _, k := range t {
			v := m.Vertices[k]
			b.Min = r3.Vec{X: min(b.Min.X, v.X), Y: min(b.Min.Y, v.Y), Z: min(b.Min.Z, v.Z)}
			b.Max = r3.Vec{X: max(b.Max.X, v.X), Y: max(b.Max.Y, v.Y), Z: max(b.Max.Z, v.Z)}
		}
	}
	for i, t := range m.Triangles {
		if number[i] < 0 {
			continue
		}
		s := &shells[number[i]]
		o := s.Bounds.Center()
		a, b, c := r3.Sub(m.Vertices[t[0]], o), r3.Sub(m.Vertices[t[1]], o), r3.Sub(m.Vertices[t[2]], o)
		s.Volume += det(a, b, c) / 6
	}
}
