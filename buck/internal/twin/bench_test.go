package twin_test

import (
	"fmt"
	"testing"

	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/mesh"

	"github.com/deadsy/sdfx/render"
	"github.com/deadsy/sdfx/sdf"
	"gonum.org/v1/gonum/spatial/r3"
)

// BenchmarkPieces makes the test knife's pieces from their heights, through the gate, and from their distances by octree
// marching cubes with cells of 0.1 mm: time, triangles, and the greatest deviation of either from the twin, both ways.
func BenchmarkPieces(b *testing.B) {
	k := hunter(b)
	pieces := bodies(b, k)
	for i, r := range ramps(b, k) {
		body, err := twin.RampUnder(r, r.Passes)
		if err != nil {
			b.Fatal(err)
		}
		made := func(tol float64) (*mesh.Mesh, error) { return solid.Ramp(r, tol) }
		pieces = append(pieces, piece{fmt.Sprintf("ramp-%d", i), made, body})
	}
	for _, p := range pieces {
		var m *mesh.Mesh
		b.Run(p.name+"/heights", func(b *testing.B) {
			var err error
			for b.Loop() {
				if m, err = p.mesh(solid.Tolerance); err == nil {
					m, err = mesh.Gate(m)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
			judge(b, m, p.twin)
		})
		b.Run(p.name+"/marching-cubes", func(b *testing.B) {
			boxed := boxed{p.twin, m.Bounds()}
			cells := int(boxed.BoundingBox().Size().MaxComponent() / 0.1)
			made := &mesh.Mesh{}
			for b.Loop() {
				made = joined(render.ToTriangles(boxed, render.NewMarchingCubesOctree(cells)))
			}
			judge(b, made, p.twin)
		})
	}
}

func judge(b *testing.B, m *mesh.Mesh, body sdf.SDF3) {
	d, err := twin.Measure(m, body, twin.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(len(m.Triangles)), "triangles")
	b.ReportMetric(1e3*d.FromMesh.Distance, "um-from-mesh")
	b.ReportMetric(1e3*d.FromTwin.Distance, "um-from-twin")
}

// boxed is a body with a box close around it.
type boxed struct {
	sdf.SDF3
	box r3.Box
}

func (x boxed) BoundingBox() sdf.Box3 {
	const edge = 0.05
	b := sdf.Box3{}
	b.Min.X, b.Min.Y, b.Min.Z = x.box.Min.X-edge, x.box.Min.Y-edge, x.box.Min.Z-edge
	b.Max.X, b.Max.Y, b.Max.Z = x.box.Max.X+edge, x.box.Max.Y+edge, x.box.Max.Z+edge
	return b
}

// joined is loose triangles as a mesh, equal corners made one.
func joined(triangles []*sdf.Triangle3) *mesh.Mesh {
	m := &mesh.Mesh{}
	index := make(map[r3.Vec]int32)
	for _, t := range triangles {
		var n [3]int32
		for k := range t {
			v := r3.Vec(t[k])
			if _, known := index[v]; !known {
				index[v] = int32(len(m.Vertices))
				m.Vertices = append(m.Vertices, v)
			}
			n[k] = index[v]
		}
		m.Triangles = append(m.Triangles, n)
	}
	return m
}
