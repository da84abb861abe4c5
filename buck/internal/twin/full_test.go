package twin_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/buck/knives"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// fullTolerance is the tolerance of a whole knife, in mm.
const fullTolerance = 0.02

// TestFullKnife holds the whole knife to 20 000 triangles, and to its tolerance both ways.
func TestFullKnife(t *testing.T) {
	size.Long(t)
	k := bucktest.Knife(t, bucktest.Full(), bucktest.Spec())
	m, err := solid.Knife(k, fullTolerance)
	if err != nil {
		t.Fatal(err)
	}
	meshtest.Clean(t, m)
	if n := len(m.Triangles); n > 20000 {
		t.Errorf("%d triangles", n)
	}
	if size := r3.Sub(m.Bounds().Max, m.Bounds().Min); math.Abs(size.X-220) > 0.1 || math.Abs(size.Y-35) > 0.1 {
		t.Errorf("the knife is %.2f mm", size)
	}
	far := offKnife(k, m)
	near, asked := ontoMesh(k, m)
	t.Logf("%d triangles, %.5f mm from mesh to knife, %.5f mm from knife to mesh at %d places", len(m.Triangles), far, near, asked)
	if far > fullTolerance || near > fullTolerance {
		t.Errorf("%.5f mm from mesh to knife, %.5f mm from knife to mesh", far, near)
	}
}

// offKnife is how far the right face of a mesh is from the knife, square to the knife's surface, at corners, middles of
// sides and within triangles.
func offKnife(k *pieces.Buck, m *mesh.Mesh) (worst float64) {
	for _, c := range m.Triangles {
		a, b, d := m.Vertices[c[0]], m.Vertices[c[1]], m.Vertices[c[2]]
		n := r3.Unit(r3.Cross(r3.Sub(b, a), r3.Sub(d, a)))
		if n.Z < 1e-3 {
			continue // a wall, or the left face, its mirror
		}
		middle := r3.Scale(1./3, r3.Add(a, r3.Add(b, d)))
		on := k.ZoneAt(r2.Vec{X: middle.X, Y: middle.Y})
		for _, w := range [][3]float64{{1. / 3, 1. / 3, 1. / 3}, {0.5, 0.5, 0}, {0, 0.5, 0.5}, {0.5, 0, 0.5}, {0.6, 0.3, 0.1}, {0.1, 0.2, 0.7}} {
			p := r3.Add(r3.Scale(w[0], a), r3.Add(r3.Scale(w[1], b), r3.Scale(w[2], d)))
			q := r2.Vec{X: p.X, Y: p.Y}
			if !k.Holds(q) {
				continue // the outline's chords tell of this
			}
			off := math.Abs(k.HalfOn(on, q)-p.Z) * n.Z
			if on == knives.OnHandle {
				off = offHandle(k, p)
			}
			worst = max(worst, off)
		}
	}
	return worst
}

// offHandle is how far a place inside the handle's outline is from the handle's face or its rounded edge, which is a
// quarter of a circle square to the outline.
func offHandle(k *pieces.Buck, p r3.Vec) float64 {
	full, r := k.Spec.Handle.Thickness/2, k.Spec.Handle.Rounding
	in := k.Plan.Handle.Distance(r2.Vec{X: p.X, Y: p.Y})
	if in > r {
		return math.Abs(full - p.Z)
	}
	return math.Abs(math.Hypot(r-in, p.Z-(full-r)) - r)
}

// ontoMesh is how far places on the knife's right face are from a mesh, at most, and how many places were asked.
func ontoMesh(k *pieces.Buck, m *mesh.Mesh) (worst float64, asked int) {
	box := m.Bounds()
	far := twin.DistanceTo(m)
	for x := box.Min.X; x < box.Max.X; x += 0.397 {
		for y := box.Min.Y; y < box.Max.Y; y += 0.263 {
			p := r2.Vec{X: x, Y: y}
			if !k.Holds(p) {
				continue
			}
			asked++
			worst = max(worst, far(r3.Vec{X: x, Y: y, Z: k.Half(p)}))
		}
	}
	return worst, asked
}
