package path_test

import (
	"math/rand/v2"

	"formbuck/buck/path"
)

// terrain makes height maps that no knife has, each hard on a rolling ball in its own way.
var terrain = []struct {
	name string
	fill func(r *rand.Rand, m *path.Map)
}{
	{"noise", func(r *rand.Rand, m *path.Map) {
		for n := range m.Z {
			m.Z[n] = 5 * r.Float64()
		}
	}},
	{"pits", func(r *rand.Rand, m *path.Map) {
		for n := range m.Z {
			if m.Z[n] = 3; r.IntN(12) == 0 {
				m.Z[n] = 3 * r.Float64()
			}
		}
	}},
	{"spikes", func(r *rand.Rand, m *path.Map) {
		for range 1 + m.Cells()/150 {
			m.Z[r.IntN(m.Cells())] = 6 * r.Float64()
		}
	}},
	{"steps", func(r *rand.Rand, m *path.Map) {
		for range 25 {
			box(m, r.IntN(m.NX), r.IntN(m.NY), 1+r.IntN(m.NX/2), 1+r.IntN(m.NY/2), 5*r.Float64())
		}
	}},
	{"walls", func(r *rand.Rand, m *path.Map) { // apart by one cell up to more than the ball is wide
		for i := 0; i < m.NX; {
			wide := 1 + r.IntN(6)
			box(m, i, 0, wide, m.NY, 2+6*r.Float64())
			i += wide + 1 + r.IntN(m.NX/2)
		}
		box(m, 0, r.IntN(m.NY), m.NX, 1+r.IntN(3), 8*r.Float64())
	}},
	{"slopes", func(r *rand.Rand, m *path.Map) {
		for range 6 {
			x, y := m.NX/2-r.IntN(m.NX), m.NY/2-r.IntN(m.NY)
			dx, dy, h := r.NormFloat64(), r.NormFloat64(), 3*r.Float64()
			for n := range m.Z {
				m.Z[n] = max(m.Z[n], h+m.Step*(dx*float64(n%m.NX-x)+dy*float64(n/m.NX-y)))
			}
		}
		for n := range m.Z {
			m.Z[n] = min(m.Z[n], 6)
		}
	}},
	{"blobs", func(r *rand.Rand, m *path.Map) { copy(m.Z, blob(r, m.NX, m.NY, m.Step).Z) }},
	{"rough blobs", func(r *rand.Rand, m *path.Map) {
		copy(m.Z, blob(r, m.NX, m.NY, m.Step).Z)
		for n := range m.Z {
			m.Z[n] += 0.02 * r.Float64()
		}
	}},
}

// box lifts a box of cells to a height.
func box(m *path.Map, i, j, wide, high int, z float64) {
	for y := max(j, 0); y < min(j+high, m.NY); y++ {
		for x := max(i, 0); x < min(i+wide, m.NX); x++ {
			m.Z[y*m.NX+x] = z
		}
	}
}
