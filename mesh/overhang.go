package mesh

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// contact is how far above its lowest point a solid still rests on the bed, in mm: well under any
// first layer. slack, in degrees, is how far float32 may turn a small triangle, so that a surface made
// at the very angle that is asked about does not count.
const (
	contact = 0.01
	slack   = 0.05
)

// Overhang is what of a solid hangs over air when it is printed as it stands, z up.
type Overhang struct {
	Area    float64 // mm2
	Patches []Patch // the parts of it that hang together by edges, the largest first
}

// Patch is a part of a surface.
type Patch struct {
	At   r3.Vec // the middle of its largest triangle, mm
	Area float64
}

// Overhang finds the surfaces that face down and make an angle of less than deg with the bed: 0 is a
// ceiling, 90 a wall. What rests on the bed does not count. Up to about 45 degrees from the bed,
// filament droops without a support; common practice, no source. Indices must be in range.
func (m *Mesh) Overhang(deg float64) Overhang {
	limit := math.Cos((deg - slack) * math.Pi / 180)
	low := m.Bounds().Min.Z + contact
	hangs := &Mesh{Vertices: m.Vertices}
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		n := cross(r3.Sub(b, a), r3.Sub(c, a))
		if length := norm(n); length > 0 && -n.Z > limit*length && max(a.Z, b.Z, c.Z) > low {
			hangs.Triangles = append(hangs.Triangles, t)
		}
	}
	patches := hangs.patches()
	total := 0.0
	for _, p := range patches {
		total += p.Area
	}
	return Overhang{Area: total, Patches: patches}
}

// patches are the parts of the mesh that hang together by edges.
func (m *Mesh) patches() []Patch {
	parts := newTopology(m).parts()
	patches := make([]Patch, len(parts.shells))
	largest := make([]float64, len(patches))
	for i, t := range m.Triangles {
		n := parts.number[i]
		if n < 0 {
			continue
		}
		area := m.doubleArea(t) / 2
		patches[n].Area += area
		if area > largest[n] {
			largest[n] = area
			sum := r3.Add(r3.Add(m.Vertices[t[0]], m.Vertices[t[1]]), m.Vertices[t[2]])
			patches[n].At = r3.Scale(1./3, sum)
		}
	}
	slices.SortStableFunc(patches, func(p, q Patch) int { return cmp.Compare(q.Area, p.Area) })
	return patches
}
