package mesh_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
)

func TestWelder(t *testing.T) {
	var w mesh.Welder
	negative := math.Copysign(0, -1)
	for _, tc := range []struct {
		v    r3.Vec
		want int32
	}{
		{r3.Vec{}, 0},
		{r3.Vec{X: 1}, 1},
		{r3.Vec{X: negative, Y: negative, Z: negative}, 0},
		{r3.Vec{Y: 1}, 2},
		{r3.Vec{X: 1, Y: math.SmallestNonzeroFloat64}, 3},
		{r3.Vec{X: 1}, 1},
		{r3.Vec{X: math.NaN()}, 4},
		{r3.Vec{X: math.NaN()}, 5},
	} {
		if got := w.Index(tc.v); got != tc.want {
			t.Errorf("%v: %d, want %d", tc.v, got, tc.want)
		}
	}
}

func TestWelderGrows(t *testing.T) {
	var w mesh.Welder
	for round := range 2 {
		for i := range 5000 {
			if got := w.Index(r3.Vec{X: float64(i % 17), Y: float64(i / 17)}); int(got) != i {
				t.Fatalf("round %d: point %d has index %d", round, i, got)
			}
		}
	}
}

// soupOf gives every triangle its own corners, and a vertex that none uses.
func soupOf(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: []r3.Vec{{X: 99}}}
	for _, t := range m.Triangles {
		n := int32(len(out.Vertices))
		out.Vertices = append(out.Vertices, m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]])
		out.Triangles = append(out.Triangles, [3]int32{n, n + 1, n + 2})
	}
	return out
}

func TestWelded(t *testing.T) {
	m := meshtest.Torus(10, 3, 12, 8)
	soup := soupOf(m)
	if c := mesh.Check(soup, mesh.Options{Quick: true}).Count(mesh.OpenEdge); c != 3*len(m.Triangles) {
		t.Errorf("soup has %d open edges", c)
	}
	got := soup.Welded()
	if len(got.Vertices) != len(m.Vertices) {
		t.Errorf("%d vertices, want %d", len(got.Vertices), len(m.Vertices))
	}
	meshtest.Clean(t, got)
	if d := cmp.Diff(m.Welded(), got); d != "" {
		t.Error(d)
	}
}

func TestSnappedTwiceIsSnappedOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.OneOf(rapid.Float64Range(-1, 1), rapid.Float64Range(-2000, 2000), rapid.Float64Range(-1e30, 1e30))
		vertex := func() r3.Vec { return r3.Vec{X: x.Draw(t, "x"), Y: x.Draw(t, "y"), Z: x.Draw(t, "z")} }
		m := &mesh.Mesh{Vertices: []r3.Vec{vertex(), vertex(), vertex()}, Triangles: [][3]int32{{0, 1, 2}}}
		once := m.Snapped()
		if d := cmp.Diff(once, once.Snapped()); d != "" {
			t.Fatal(d)
		}
		for i, v := range once.Vertices {
			for k, pair := range [3][2]float64{{v.X, m.Vertices[i].X}, {v.Y, m.Vertices[i].Y}, {v.Z, m.Vertices[i].Z}} {
				// half a step of the grid and half a step of float32
				if got, want := pair[0], pair[1]; math.Abs(got-want) > mesh.Grid/2+math.Abs(want)/(1<<24) || float64(float32(got)) != got {
					t.Fatalf("coordinate %d: %v from %v", k, got, want)
				}
			}
		}
	})
}

func TestSnapped(t *testing.T) {
	negative := math.Copysign(0, -1)
	m := &mesh.Mesh{
		Vertices: []r3.Vec{
			{X: -4e-6, Y: 1e-17, Z: negative}, {X: 1}, {X: 1, Y: 4e-6}, {Y: 1}, {X: 0.3, Y: 0.300000001, Z: -4e-6},
		},
		Triangles: [][3]int32{{0, 1, 3}, {1, 2, 3}, {0, 1, 4}, {2, 1, 0}},
	}
	got := m.Snapped()
	tenths := float64(float32(0.3))
	want := &mesh.Mesh{ // 1 and 2 are one point: the triangles that name both are gone
		Vertices:  []r3.Vec{{}, {X: 1}, {Y: 1}, {X: tenths, Y: tenths}},
		Triangles: [][3]int32{{0, 1, 2}, {0, 1, 3}},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if math.Signbit(got.Vertices[0].X) || math.Signbit(got.Vertices[0].Z) || math.Signbit(got.Vertices[3].Z) {
		t.Errorf("-0 in %v", got.Vertices)
	}
	if len(m.Vertices) != 5 || m.Vertices[0].X != -4e-6 || len(m.Triangles) != 4 || m.Triangles[3] != [3]int32{2, 1, 0} {
		t.Error("the mesh itself was changed")
	}
}
