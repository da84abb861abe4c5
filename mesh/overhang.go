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
	Wide float64 // twice the area over the border's length, mm: of a long strip its width
	Held float64 // share of its border, 0 to 1, from which the solid goes down: a lintel's sides, not a shelf's edge
}

// Overhang finds the surfaces that face down and make an angle of less than deg with the bed: 0 is a
// ceiling, 90 a wall. What rests on the bed does not count. Up to about 45 degrees from the bed,
// filament droops without a support; common practice, no source. Indices must be in range.
func (m *Mesh) Overhang(deg float64) Overhang { return m.overhang(deg, contact) }

// overhang leaves out what lies within so many mm of the bed.
func (m *Mesh) overhang(deg, within float64) Overhang {
	limit := math.Cos((deg - slack) * math.Pi / 180)
	low := m.Bounds().Min.Z + within
	hangs := &Mesh{Vertices: m.Vertices}
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		n := cross(r3.Sub(b, a), r3.Sub(c, a))
		if length := norm(n); length > 0 && -n.Z > limit*length && max(a.Z, b.Z, c.Z) > low {
			hangs.Triangles = append(hangs.Triangles, t)
		}
	}
	patches := hangs.patches(m)
	total := 0.0
	for _, p := range patches {
		total += p.Area
	}
	return Overhang{Area: total, Patches: patches}
}

// patches are the parts of the mesh, a part of a solid's surface, that hang together by edges.
func (m *Mesh) patches(solid *Mesh) []Patch {
	parts := newTopology(m).parts()
	patches := make([]Patch, len(parts.shells))
	largest := make([]float64, len(patches))
	inside, beyond := m.across(), solid.across()
	border := make([]float64, len(patches))
	for i, t := range m.Triangles {
		n := parts.number[i]
		if n < 0 {
			continue
		}
		area := m.doubleArea(t) / 2
		patches[n].Area += area
		for k, v := range t {
			next := t[(k+1)%3]
			if _, goesOn := inside[[2]int32{next, v}]; goesOn {
				continue
			}
			a, b := m.Vertices[v], m.Vertices[next]
			long := norm(r3.Sub(b, a))
			border[n] += long
			if o, ok := beyond[[2]int32{next, v}]; ok && m.Vertices[o].Z < min(a.Z, b.Z) {
				patches[n].Held += long
			}
		}
		if area > largest[n] {
			largest[n] = area
			sum := r3.Add(r3.Add(m.Vertices[t[0]], m.Vertices[t[1]]), m.Vertices[t[2]])
			patches[n].At = r3.Scale(1./3, sum)
		}
	}
	for n, long := range border {
		if long > 0 {
			patches[n].Wide, patches[n].Held = 2*patches[n].Area/long, patches[n].Held/long
		}
	}
	slices.SortStableFunc(patches, func(p, q Patch) int { return cmp.Compare(q.Area, p.Area) })
	return patches
}

// across gives, for each side of each triangle, as it runs round it, the corner across from it.
func (m *Mesh) across() map[[2]int32]int32 {
	all := make(map[[2]int32]int32, 3*len(m.Triangles))
	for _, t := range m.Triangles {
		for k, v := range t {
			all[[2]int32{v, t[(k+1)%3]}] = t[(k+2)%3]
		}
	}
	return all
}
