package mesh

import (
	"formbuck/mesh/sets"

	"gonum.org/v1/gonum/spatial/r3"
)

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

// parts is how the triangles make up shells.
type parts struct {
	*links
	shells []Shell
	number []int32 // each triangle's shell, -1 for a collapsed triangle
}

// parts numbers and counts what hangs together.
func (tp *topology) parts() parts {
	l := tp.links()
	number, shells := tp.number(l.joined)
	for i := range shells { // as if each edge lay in two triangles
		shells[i].Edges = 3 * shells[i].Triangles
	}
	for _, e := range l.seams {
		s := &shells[number[e.triangles[0]]]
		s.Edges += 2 - int(e.sides)
		s.Closed = s.Closed && e.sides == 2
		s.Oriented = s.Oriented && e.alternating
	}
	for i := range shells {
		shells[i].Edges /= 2
	}
	for v := range tp.mesh.Vertices {
		if at := tp.at(int32(v)); len(at) > 0 {
			shells[number[at[0]/3]].Vertices++
		}
	}
	for _, c := range l.further {
		shells[number[c/3]].Vertices++
	}
	tp.mesh.measureShells(number, shells)
	return parts{links: l, shells: shells, number: number}
}

// number gives each set of triangles a number, in the order of their lowest triangle.
func (tp *topology) number(tris sets.Forest) ([]int32, []Shell) {
	number := make([]int32, len(tris))
	var shells []Shell
	for t := range tris {
		r := tris.Root(int32(t))
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
