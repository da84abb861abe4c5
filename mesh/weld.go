package mesh

import (
	"math"
	"math/bits"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Grid is the step in mm to which Snapped rounds coordinates before float32. Noise near zero is what
// it removes: float32 keeps seven digits however small a number is, so that two sums that should
// both be zero stay apart and open an edge. It is finer than any printer and, to 128 mm from the
// origin, coarser than half a float32 step, so that snapping twice changes nothing.
const Grid = 1e-5

// Welder gives points indices, equal points the same one. Points are equal if their coordinates are
// equal as numbers (-0 is 0); a point that is not a number equals nothing. The zero value is ready.
type Welder struct {
	vertices []r3.Vec
	slots    []int32 // index + 1 into vertices, 0 for none; the length is a power of two
}

// Index is the index of the point, a new one if it was not seen before. Indices count up from zero
// in the order of first sight.
func (w *Welder) Index(v r3.Vec) int32 {
	v.X, v.Y, v.Z = v.X+0, v.Y+0, v.Z+0 // -0 + 0 is 0
	if len(w.vertices)*2 >= len(w.slots) {
		w.rehash(max(64, 2*len(w.slots)))
	}
	mask := uint64(len(w.slots) - 1)
	i := hash(v) & mask
	for ; w.slots[i] != 0; i = (i + 1) & mask {
		if w.vertices[w.slots[i]-1] == v {
			return w.slots[i] - 1
		}
	}
	w.vertices = append(w.vertices, v)
	w.slots[i] = int32(len(w.vertices))
	return int32(len(w.vertices)) - 1
}

// Vertices are the points by their indices. The slice is the welder's own.
func (w *Welder) Vertices() []r3.Vec { return w.vertices }

// Reserve makes room for n points in all, so that they are welded without moving what was there.
func (w *Welder) Reserve(n int) {
	w.vertices = slices.Grow(w.vertices, max(0, n-len(w.vertices)))
	if size := 1 << bits.Len(uint(2*n)); size > len(w.slots) {
		w.rehash(size)
	}
}

// rehash spreads the points over a table of a new size, a power of two.
func (w *Welder) rehash(size int) {
	w.slots = make([]int32, size)
	mask := uint64(len(w.slots) - 1)
	for n, v := range w.vertices {
		i := hash(v) & mask
		for w.slots[i] != 0 {
			i = (i + 1) & mask
		}
		w.slots[i] = int32(n) + 1
	}
}

// hash mixes the bits of the coordinates; the multipliers are odd numbers without pattern (parts of
// the golden ratio's and of the square root of two's binary expansion).
func hash(v r3.Vec) uint64 {
	h := math.Float64bits(v.X)*0x9e3779b97f4a7c15 ^ math.Float64bits(v.Y)
	h = (h ^ h>>32) * 0xb504f333f9de6485
	h = (h ^ h>>29 ^ math.Float64bits(v.Z)) * 0x9e3779b97f4a7c15
	return h ^ h>>32
}

// Welded is the mesh with vertices at equal coordinates made one and unused vertices dropped. All
// triangles stay, in their order, even such as have collapsed. Indices must be in range.
func (m *Mesh) Welded() *Mesh { return m.welded(func(v r3.Vec) r3.Vec { return v }) }

// welded is Welded with every vertex put through f.
func (m *Mesh) welded(f func(r3.Vec) r3.Vec) *Mesh {
	var w Welder
	w.Reserve(min(len(m.Vertices), 3*len(m.Triangles)))
	seen := make([]int32, len(m.Vertices)) // new index + 1
	out := &Mesh{Triangles: make([][3]int32, len(m.Triangles))}
	for i, t := range m.Triangles {
		for k, v := range t {
			if seen[v] == 0 {
				seen[v] = w.Index(f(m.Vertices[v])) + 1
			}
			out.Triangles[i][k] = seen[v] - 1
		}
	}
	out.Vertices = w.Vertices()
	return out
}

// Snapped is the mesh as a file will hold it: coordinates rounded to Grid and then to float32, no
// -0, equal vertices welded, triangles that have lost a side dropped. Snapping a snapped mesh
// changes nothing. Indices must be in range.
func (m *Mesh) Snapped() *Mesh {
	out := m.welded(func(v r3.Vec) r3.Vec { return r3.Vec{X: snap(v.X), Y: snap(v.Y), Z: snap(v.Z)} })
	all := len(out.Triangles)
	out.Triangles = slices.DeleteFunc(out.Triangles, collapsed)
	if len(out.Triangles) == all {
		return out
	}
	return out.Welded() // drops vertices that only collapsed triangles used
}

// snap rounds a coordinate to the grid and then to float32. A coordinate too large for float32
// becomes infinite, and Check refuses it. Welding turns -0 into 0.
func snap(x float64) float64 {
	const perMM = 1 / Grid
	if r := math.Round(x * perMM); math.Abs(r) < 1<<53 {
		x = r / perMM
	}
	return float64(float32(x))
}

// collapsed tells whether a triangle names a vertex twice.
func collapsed(t [3]int32) bool { return t[0] == t[1] || t[1] == t[2] || t[2] == t[0] }
