package relief_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// rough is a surface through nodes of random heights, bilinear between them.
type rough struct {
	relief.Lattice
	n int
	z []float64
}

func newRough(deg float64) rough {
	r := rough{Lattice: relief.Lattice{Origin: r2.Vec{X: -3, Y: -2}, AngleDeg: deg, DX: 0.2, DY: 0.25}, n: 80}
	dice := rand.New(rand.NewPCG(4, 2))
	for range r.n * r.n {
		r.z = append(r.z, 2+0.06*dice.Float64())
	}
	return r
}

func (r rough) node(i, j int) r2.Vec {
	return r2.Add(r.Origin, r2.Rotate(r2.Vec{X: float64(i-30) * r.DX, Y: float64(j-30) * r.DY}, r.AngleDeg*math.Pi/180, r2.Vec{}))
}

func (r rough) at(p r2.Vec) float64 {
	q := r2.Rotate(r2.Sub(p, r.Origin), -r.AngleDeg*math.Pi/180, r2.Vec{})
	u, v := q.X/r.DX+30, q.Y/r.DY+30
	i, j := min(max(int(u), 0), r.n-2), min(max(int(v), 0), r.n-2)
	u, v = u-float64(i), v-float64(j)
	k := j*r.n + i
	return (r.z[k]*(1-u)+r.z[k+1]*u)*(1-v) + (r.z[k+r.n]*(1-u)+r.z[k+r.n+1]*u)*v
}

// worst is how far a mesh's lid is from the surface's nodes, in height.
func (r rough) worst(m *mesh.Mesh) (worst float64, asked int) {
	for i := range r.n {
		for j := range r.n {
			p := r.node(i, j)
			if z, ok := lidOver(m, p); ok {
				worst = max(worst, math.Abs(z-r.at(p)))
				asked++
			}
		}
	}
	return worst, asked
}

// lidOver is the height of the triangle over p that faces up.
func lidOver(m *mesh.Mesh, p r2.Vec) (float64, bool) {
	for _, c := range m.Triangles {
		var w [3]float64
		area, z := 0.0, 0.0
		for k := range c {
			a, b := m.Vertices[c[(k+1)%3]], m.Vertices[c[(k+2)%3]]
			w[k] = (a.X-p.X)*(b.Y-p.Y) - (a.Y-p.Y)*(b.X-p.X)
			area += w[k]
			z += w[k] * m.Vertices[c[k]].Z
		}
		if area > 1e-12 && min(w[0], w[1], w[2]) > 0 {
			return z / area, true
		}
	}
	return 0, false
}

// Heights that bend along the lines of a lattice are met at its nodes, however it is turned, and would not be if the
// lattice were not told.
func TestLattice(t *testing.T) {
	for _, deg := range []float64{0, 7, -40} {
		r := newRough(deg)
		body := relief.Body{Lines: []relief.Line{box(-2, -2, 2, 2)}, Lattice: &r.Lattice, Spans: func(p r2.Vec) []relief.Span {
			if !inBox(p, -2, -2, 2, 2) {
				return nil
			}
			return block(flat(0), r.at)
		}}
		worst, asked := r.worst(build(t, body, 0.01))
		t.Logf("%g deg: %.5f mm at %d nodes", deg, worst, asked)
		if !(worst <= 0.01) || asked < 100 {
			t.Errorf("%g deg: %.5f mm at %d nodes", deg, worst, asked)
		}
		body.Lattice = nil
		if blind, _ := r.worst(build(t, body, 0.01)); blind <= 0.01 {
			t.Errorf("%g deg: %.5f mm without being told of the lattice: the test shows nothing", deg, blind)
		}
	}
}

// Two wedges beside each other end at different places of the one line between them.
func TestTwoFeetOnALine(t *testing.T) {
	m := build(t, relief.Body{Lines: []relief.Line{box(-1, -5, 5, 5), line(-1, 0, 5, 0)}, Spans: func(p r2.Vec) []relief.Span {
		switch {
		case !inBox(p, -1, -5, 5, 5):
			return nil
		case p.Y < 0:
			return block(flat(0), slope(1, -1))
		}
		return block(flat(0), slope(1.3, -1))
	}}, 0.01)
	meshtest.Volume(t, m, 5*2*2/2.+5*2.3*2.3/2, 0.02)
}
