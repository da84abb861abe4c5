package mesh_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
)

// blob is a random solid seen whole from its middle: an icosahedron with its sides halved a few
// times and every corner pulled in or out.
func blob(rng *rand.Rand, halvings int) *mesh.Mesh {
	m := meshtest.Icosahedron(1)
	for range halvings {
		middles := map[[2]int32]int32{}
		middle := func(a, b int32) int32 {
			key := [2]int32{min(a, b), max(a, b)}
			if _, ok := middles[key]; !ok {
				middles[key] = int32(len(m.Vertices))
				m.Vertices = append(m.Vertices, r3.Unit(r3.Add(m.Vertices[a], m.Vertices[b])))
			}
			return middles[key]
		}
		var next [][3]int32
		for _, t := range m.Triangles {
			a, b, c := middle(t[0], t[1]), middle(t[1], t[2]), middle(t[2], t[0])
			next = append(next, [3]int32{t[0], a, c}, [3]int32{t[1], b, a}, [3]int32{t[2], c, b}, [3]int32{a, b, c})
		}
		m.Triangles = next
	}
	for i, v := range m.Vertices {
		m.Vertices[i] = r3.Scale(20*(0.5+rng.Float64()), v)
	}
	return m
}

// blobs runs a check on a few random solids, some of them with a hole or two shells.
func blobs(t *testing.T, check func(t *testing.T, rng *rand.Rand, m *mesh.Mesh)) {
	rng := rand.New(rand.NewPCG(5, 6))
	for n := range 12 {
		m := blob(rng, n%4)
		switch n % 3 {
		case 1:
			m = mesh.Joined(m, blob(rng, 1).Moved(r3.Vec{X: 70}))
		case 2:
			m = without(m, rng.IntN(len(m.Triangles)))
		}
		check(t, rng, m)
	}
}

func relative(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		t.Errorf("%s: %.15g, want %.15g", what, got, want)
	}
}

func counts(r mesh.Report) map[mesh.Class]int {
	out := map[mesh.Class]int{}
	for _, f := range r.Faults {
		out[f.Class] = f.Count
	}
	return out
}

func TestMirrorIsExact(t *testing.T) {
	blobs(t, func(t *testing.T, rng *rand.Rand, m *mesh.Mesh) {
		m = m.Moved(r3.Vec{X: rng.Float64(), Y: 5, Z: 100 * rng.NormFloat64()})
		got := m.Mirrored()
		if got.Volume() != m.Volume() || got.Area() != m.Area() {
			t.Errorf("volume %v, area %v; want %v, %v", got.Volume(), got.Area(), m.Volume(), m.Area())
		}
		b, want := got.Bounds(), m.Bounds()
		want.Min.Z, want.Max.Z = -want.Max.Z, -want.Min.Z
		if b != want {
			t.Errorf("bounds %v, want %v", b, want)
		}
		if d := cmp.Diff(m, got.Mirrored()); d != "" {
			t.Error(d)
		}
		if d := cmp.Diff(counts(mesh.Check(m, mesh.Options{})), counts(mesh.Check(got, mesh.Options{}))); d != "" {
			t.Error(d)
		}
	})
	flat := box(0, 0, 0, 1, 1, 1).Mirrored()
	if math.Signbit(flat.Vertices[0].Z) {
		t.Error("mirrored zero is -0")
	}
}

func TestMovedKeepsMeasures(t *testing.T) {
	blobs(t, func(t *testing.T, rng *rand.Rand, m *mesh.Mesh) {
		d := r3.Vec{X: 300 * rng.NormFloat64(), Y: 300 * rng.NormFloat64(), Z: 300 * rng.NormFloat64()}
		got := m.Moved(d)
		relative(t, "volume", got.Volume(), m.Volume(), 1e-12)
		relative(t, "area", got.Area(), m.Area(), 1e-12)
		meshtest.Point(t, "centroid", got.Centroid(), r3.Add(m.Centroid(), d), 1e-10)
		sameInertia(t, got.Inertia(), m.Inertia(), 1e-10)
	})
}

func TestScaledMeasures(t *testing.T) {
	blobs(t, func(t *testing.T, rng *rand.Rand, m *mesh.Mesh) {
		k := 0.1 + 5*rng.Float64()
		got := m.Scaled(k)
		relative(t, "volume", got.Volume(), k*k*k*m.Volume(), 1e-12)
		relative(t, "area", got.Area(), k*k*m.Area(), 1e-12)
		relative(t, "inertia", got.Inertia().XX, math.Pow(k, 5)*m.Inertia().XX, 1e-10)
	})
}

func TestTurned(t *testing.T) {
	m := box(1, 2, 3, 4, 6, 8)
	for _, tc := range []struct {
		axis mesh.Axis
		deg  float64
		want r3.Box
	}{
		{mesh.X, 90, r3.NewBox(1, -8, 2, 4, -3, 6)},
		{mesh.Y, 90, r3.NewBox(3, 2, -4, 8, 6, -1)},
		{mesh.Z, 90, r3.NewBox(-6, 1, 3, -2, 4, 8)},
		{mesh.Z, -90, r3.NewBox(2, -4, 3, 6, -1, 8)},
		{mesh.Z, 540, r3.NewBox(-4, -6, 3, -1, -2, 8)},
		{mesh.Y, 360, r3.NewBox(1, 2, 3, 4, 6, 8)},
	} {
		if got := m.Turned(tc.axis, tc.deg).Bounds(); got != tc.want {
			t.Errorf("axis %d by %g: %v, want %v", tc.axis, tc.deg, got, tc.want)
		}
	}
	blobs(t, func(t *testing.T, rng *rand.Rand, m *mesh.Mesh) {
		if !mesh.Check(m, mesh.Options{Quick: true}).Closed() {
			return // no volume that a turn could keep
		}
		got := m.Turned(mesh.Axis(rng.IntN(3)), 360*rng.Float64())
		relative(t, "volume", got.Volume(), m.Volume(), 1e-12)
		relative(t, "trace", got.Inertia().XX+got.Inertia().YY+got.Inertia().ZZ, m.Inertia().XX+m.Inertia().YY+m.Inertia().ZZ, 1e-10)
	})
}

// The order of vertices and triangles, and where a triangle begins, are of no matter.
func TestOrderIsOfNoMatter(t *testing.T) {
	check := func(t *testing.T, rng *rand.Rand, m *mesh.Mesh) {
		got := &mesh.Mesh{Vertices: make([]r3.Vec, len(m.Vertices)), Triangles: make([][3]int32, len(m.Triangles))}
		vertices, triangles := rng.Perm(len(m.Vertices)), rng.Perm(len(m.Triangles))
		for i, v := range m.Vertices {
			got.Vertices[vertices[i]] = v
		}
		for i, tri := range m.Triangles {
			turn := rng.IntN(3)
			for k := range tri {
				got.Triangles[triangles[i]][k] = int32(vertices[tri[(k+turn)%3]])
			}
		}
		if d := cmp.Diff(counts(mesh.Check(m, mesh.Options{})), counts(mesh.Check(got, mesh.Options{}))); d != "" {
			t.Error(d)
		}
		if want := m.Volume(); math.Abs(got.Volume()-want) > 1e-12*math.Abs(want)+1e-12 {
			t.Errorf("volume %.15g, want %.15g", got.Volume(), want)
		}
	}
	blobs(t, check)
	rng := rand.New(rand.NewPCG(7, 8))
	for _, tc := range faultyMeshes() {
		if c := counts(mesh.Check(tc.m, mesh.Options{})); c[mesh.IndexRange]+c[mesh.NonFinite]+c[mesh.Empty] == 0 {
			for range 5 {
				check(t, rng, tc.m)
			}
		}
	}
}
