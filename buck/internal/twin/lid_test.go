package twin_test

import (
	"math"

	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// lid answers how high a mesh reaches over a point of the plan.
type lid struct {
	mesh  *mesh.Mesh
	cells map[[2]int][]int // the triangles over each square millimetre
}

func newLid(m *mesh.Mesh) *lid {
	l := &lid{m, make(map[[2]int][]int)}
	for i, t := range m.Triangles {
		low, high := m.Vertices[t[0]], m.Vertices[t[0]]
		for _, n := range t {
			v := m.Vertices[n]
			low = r3.Vec{X: min(low.X, v.X), Y: min(low.Y, v.Y)}
			high = r3.Vec{X: max(high.X, v.X), Y: max(high.Y, v.Y)}
		}
		for x := int(math.Floor(low.X)); x <= int(math.Floor(high.X)); x++ {
			for y := int(math.Floor(low.Y)); y <= int(math.Floor(high.Y)); y++ {
				l.cells[[2]int{x, y}] = append(l.cells[[2]int{x, y}], i)
			}
		}
	}
	return l
}

// over is the highest point of the mesh over p; -inf where there is none.
func (l *lid) over(p r2.Vec) float64 {
	best := math.Inf(-1)
	for _, i := range l.cells[[2]int{int(math.Floor(p.X)), int(math.Floor(p.Y))}] {
		var q [3]r3.Vec
		var w [3]float64
		for k, n := range l.mesh.Triangles[i] {
			q[k] = l.mesh.Vertices[n]
		}
		area := 0.0
		for k := range q {
			a, b := q[(k+1)%3], q[(k+2)%3]
			w[k] = (a.X-p.X)*(b.Y-p.Y) - (a.Y-p.Y)*(b.X-p.X)
			area += w[k]
		}
		if area < 1e-12 || min(w[0], w[1], w[2]) < -1e-9*area {
			continue // upright, seen from below, or beside p
		}
		best = max(best, (w[0]*q[0].Z+w[1]*q[1].Z+w[2]*q[2].Z)/area)
	}
	return best
}
