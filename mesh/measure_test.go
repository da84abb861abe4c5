package mesh_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
)

// The sample solids of Mirtich, "Fast and accurate computation of polyhedral mass properties",
// journal of graphics tools 1(2), 1996: a cube of side 20, the tetrahedron on 5, 4 and 3, the
// icosahedron on the unit sphere. The values follow from their closed forms.
func TestMirtichSamples(t *testing.T) {
	cube := meshtest.Box(r3.NewBox(-10, -10, -10, 10, 10, 10))
	tetra := meshtest.Tetrahedron(5, 4, 3)
	ico := meshtest.Icosahedron(1)
	for _, tc := range []struct {
		name         string
		m            *mesh.Mesh
		volume, area float64
		centroid     r3.Vec
		inertia      mesh.Inertia
	}{
		{"cube", cube, 8000, 2400, r3.Vec{}, mesh.Inertia{XX: 1.6e6 / 3, YY: 1.6e6 / 3, ZZ: 1.6e6 / 3}},
		{
			"tetrahedron", tetra, 10, 6 + 7.5 + 10 + math.Sqrt(12*12+15*15+20*20)/2,
			r3.Vec{X: 1.25, Y: 1, Z: 0.75},
			// The integrals of xy, yz and zx are -2.5, -1.5, -1.875; the tensor has them negated.
			mesh.Inertia{XX: 9.375, YY: 12.75, ZZ: 15.375, XY: 2.5, YZ: 1.5, ZX: 1.875},
		},
		{"icosahedron", ico, 2.5361507, 9.5745414, r3.Vec{}, mesh.Inertia{}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			meshtest.Clean(t, tc.m)
			meshtest.Genus(t, tc.m, 0)
			meshtest.Volume(t, tc.m, tc.volume, 1e-7*tc.volume)
			meshtest.Area(t, tc.m, tc.area, 1e-7*tc.area)
			meshtest.Point(t, "centroid", tc.m.Centroid(), tc.centroid, 1e-12)
			if tc.name != "icosahedron" {
				sameInertia(t, tc.m.Inertia(), tc.inertia, 1e-9)
			}
		})
	}
	// A regular icosahedron's tensor is a multiple of the unit matrix.
	i := ico.Inertia()
	sameInertia(t, i, mesh.Inertia{XX: i.XX, YY: i.XX, ZZ: i.XX}, 1e-12)
}

func sameInertia(t *testing.T, got, want mesh.Inertia, tol float64) {
	t.Helper()
	meshtest.Point(t, "moments", r3.Vec{X: got.XX, Y: got.YY, Z: got.ZZ}, r3.Vec{X: want.XX, Y: want.YY, Z: want.ZZ}, tol*want.XX)
	meshtest.Point(t, "products", r3.Vec{X: got.XY, Y: got.YZ, Z: got.ZX}, r3.Vec{X: want.XY, Y: want.YZ, Z: want.ZX}, tol*want.XX)
}

// Closed forms of elementary geometry, met ever closer as the circles get more corners: the error
// of an inscribed polygon falls with the square of their number.
func TestClosedFormsConverge(t *testing.T) {
	draft := 4 * math.Tan(5*math.Pi/180)
	for _, tc := range []struct {
		name   string
		make   func(n int) *mesh.Mesh
		volume float64
		genus  int
	}{
		{"cone r3 h2", func(n int) *mesh.Mesh { return meshtest.Frustum(3, 0, 2, n) }, 6 * math.Pi, 0},
		{"frustum R5 r3 h4", func(n int) *mesh.Mesh { return meshtest.Frustum(5, 3, 4, n) }, 205.2507, 0},
		{"stadium 50x16x4", func(n int) *mesh.Mesh {
			return meshtest.Loft(meshtest.Stadium(50, 16, n), meshtest.Stadium(50, 16, n), 4)
		}, 4 * 745.0619, 0},
		{"stadium 50x16x4 drafted 5 deg", func(n int) *mesh.Mesh {
			return meshtest.Loft(meshtest.Stadium(50, 16, n), meshtest.Stadium(50-2*draft, 16-2*draft, n), 4)
		}, 2897.9856, 0},
		{"torus R10 r2", func(n int) *mesh.Mesh { return meshtest.Torus(10, 2, n, n) }, 80 * math.Pi * math.Pi, 1},
	} {
		t.Run(tc.name, func(t *testing.T) {
			last := math.Inf(1)
			for _, n := range []int{16, 64, 256} {
				m := tc.make(n)
				meshtest.Clean(t, m)
				meshtest.Genus(t, m, tc.genus)
				off := math.Abs(m.Volume() - tc.volume)
				if off > last/12 {
					t.Errorf("%d corners: off by %g after %g", n, off, last)
				}
				// An inscribed polygon lacks 1 - sin(x)/x < x^2/6 of its circle, x = 2 pi / n; a torus
				// is made of two circles. The handbook values have seven digits.
				if x := 2 * math.Pi / float64(n); off > (x*x/3+1e-7)*tc.volume {
					t.Errorf("%d corners: off by %g of %g", n, off, tc.volume)
				}
				last = off
			}
		})
	}
}
