package mesh_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
)

// faulty is a mesh made to show one class, all that it must be found to have, and the place of the
// class for which it is named.
type faulty struct {
	name string
	m    *mesh.Mesh
	want map[mesh.Class]int
	at   r3.Vec
}

// box is a box between two corners.
func box(x0, y0, z0, x1, y1, z1 float64) *mesh.Mesh {
	return meshtest.Box(r3.NewBox(x0, y0, z0, x1, y1, z1))
}

// edited is a mesh after an edit.
func edited(m *mesh.Mesh, edit func(m *mesh.Mesh)) *mesh.Mesh {
	edit(m)
	return m
}

// reversed is the mesh with all triangles turned over.
func reversed(m *mesh.Mesh) *mesh.Mesh {
	for i, t := range m.Triangles {
		m.Triangles[i] = [3]int32{t[0], t[2], t[1]}
	}
	return m
}

// without is the mesh with one triangle left out.
func without(m *mesh.Mesh, i int) *mesh.Mesh {
	m.Triangles = append(m.Triangles[:i:i], m.Triangles[i+1:]...)
	return m
}

// split puts a vertex between the ends of an edge of the first triangle, on that side only.
func split(m *mesh.Mesh, at r3.Vec) *mesh.Mesh {
	t, n := m.Triangles[0], int32(len(m.Vertices))
	m.Vertices = append(m.Vertices, at)
	m.Triangles[0] = [3]int32{t[0], n, t[2]}
	m.Triangles = append(m.Triangles, [3]int32{n, t[1], t[2]})
	return m
}

func faultyMeshes() []faulty {
	nan := math.NaN()
	corner := mesh.Joined(box(0, 0, 0, 1, 1, 1), box(1, 1, 1, 2, 2, 2)).Welded()
	spine := mesh.Joined(box(0, 0, 0, 1, 1, 1), box(1, 1, 0, 2, 2, 1)).Welded()
	inner := box(1, 1, 1, 2, 2, 2)
	return []faulty{
		{"empty", &mesh.Mesh{Vertices: []r3.Vec{{}}}, map[mesh.Class]int{mesh.Empty: 1}, r3.Vec{}},
		{
			"index", &mesh.Mesh{Vertices: []r3.Vec{{}}, Triangles: [][3]int32{{0, 1, -1}}},
			map[mesh.Class]int{mesh.IndexRange: 2},
			r3.Vec{},
		},
		{
			"not a number", edited(box(0, 0, 0, 1, 1, 1), func(m *mesh.Mesh) { m.Vertices[7].Y = nan }),
			map[mesh.Class]int{mesh.NonFinite: 1},
			r3.Vec{X: 1, Z: 1},
		},
		{
			"infinite", edited(box(0, 0, 0, 1, 1, 1), func(m *mesh.Mesh) { m.Vertices[7].Z = math.Inf(-1) }),
			map[mesh.Class]int{mesh.NonFinite: 1},
			r3.Vec{X: 1, Y: 1},
		},
		{
			"named twice", edited(box(0, 0, 0, 1, 1, 1), func(m *mesh.Mesh) { m.Triangles = append(m.Triangles, [3]int32{0, 0, 1}) }),
			map[mesh.Class]int{mesh.Degenerate: 1},
			r3.Vec{X: 1. / 3},
		},
		{ // a pyramid with a flat triangle along an edge of its foot
			"in line", &mesh.Mesh{
				Vertices:  []r3.Vec{{}, {X: 2}, {Y: 2}, {Z: 2}, {X: 1}},
				Triangles: [][3]int32{{0, 2, 1}, {0, 3, 2}, {1, 2, 3}, {0, 4, 3}, {4, 1, 3}, {0, 1, 4}},
			},
			map[mesh.Class]int{mesh.Degenerate: 1, mesh.SelfIntersection: 2},
			r3.Vec{X: 1},
		},
		{
			"sliver", &mesh.Mesh{
				Vertices:  []r3.Vec{{}, {X: 2}, {Y: 2}, {Z: 2}, {X: 1, Y: -1e-5, Z: -1e-5}},
				Triangles: [][3]int32{{0, 2, 1}, {0, 3, 2}, {1, 2, 3}, {0, 4, 3}, {4, 1, 3}, {0, 1, 4}},
			},
			map[mesh.Class]int{mesh.Sliver: 1},
			r3.Vec{X: 1, Y: -1e-5 / 3, Z: -1e-5 / 3},
		},
		{
			"twice", edited(meshtest.Tetrahedron(3, 3, 3), func(m *mesh.Mesh) { m.Triangles = append(m.Triangles, [3]int32{3, 1, 2}) }),
			map[mesh.Class]int{mesh.Duplicate: 1, mesh.NonManifoldEdge: 3},
			r3.Vec{X: 1, Y: 1, Z: 1},
		},
		{
			"three times", edited(meshtest.Tetrahedron(3, 3, 3), func(m *mesh.Mesh) {
				m.Triangles = append(m.Triangles, [3]int32{3, 2, 1}, [3]int32{2, 3, 1})
			}),
			map[mesh.Class]int{mesh.Duplicate: 2, mesh.NonManifoldEdge: 3},
			r3.Vec{X: 1, Y: 1, Z: 1},
		},
		{
			"hole", without(box(0, 0, 0, 1, 1, 1), 0), map[mesh.Class]int{mesh.OpenEdge: 3}, r3.Vec{Y: 0.5},
		},
		{
			"edge of two boxes", spine,
			map[mesh.Class]int{mesh.NonManifoldEdge: 1},
			r3.Vec{X: 1, Y: 1, Z: 0.5},
		},
		{
			"corner of two boxes", corner,
			map[mesh.Class]int{mesh.NonManifoldVertex: 1},
			r3.Vec{X: 1, Y: 1, Z: 1},
		},
		{
			"turned triangle", edited(meshtest.Tetrahedron(3, 3, 3), func(m *mesh.Mesh) { m.Triangles[3] = [3]int32{1, 3, 2} }),
			map[mesh.Class]int{mesh.Misoriented: 3},
			r3.Vec{X: 1.5, Y: 1.5},
		},
		{ // The edge from (0,0,0) to (0,2,0) is split at its middle on one side only.
			"vertex on an edge", split(box(0, 0, 0, 2, 2, 2), r3.Vec{Y: 1}),
			map[mesh.Class]int{mesh.OpenEdge: 3, mesh.TJunction: 1, mesh.SelfIntersection: 2},
			r3.Vec{Y: 1},
		},
		{
			"boxes through each other", mesh.Joined(box(0, 0, 0, 2, 2, 2), box(1, 1, 1, 3, 3, 3)),
			map[mesh.Class]int{mesh.SelfIntersection: 18},
			r3.Vec{X: 1, Y: 1, Z: 2},
		},
		{
			"corner on a face", mesh.Joined(box(-1, -1, -1, 1, 1, 0), meshtest.Tetrahedron(1, 1, 1).Moved(r3.Vec{X: -0.75, Y: -0.5}).Turned(mesh.Y, 30)),
			nil,
			r3.Vec{},
		},
		{
			"inside out", reversed(box(0, 0, 0, 3, 3, 3)),
			map[mesh.Class]int{mesh.InvertedShell: 1, mesh.NoVolume: 1},
			r3.Vec{X: 1, Y: 2},
		},
		{
			"solid in a solid", mesh.Joined(box(0, 0, 0, 3, 3, 3), inner),
			map[mesh.Class]int{mesh.InvertedShell: 1},
			r3.Vec{X: 4. / 3, Y: 5. / 3, Z: 1},
		},
		{
			"cavity beside", mesh.Joined(box(0, 0, 0, 3, 3, 3), reversed(box(4, 0, 0, 5, 1, 1))),
			map[mesh.Class]int{mesh.InvertedShell: 1},
			r3.Vec{X: 4 + 1./3, Y: 2. / 3},
		},
		{
			"two sides of one triangle", &mesh.Mesh{Vertices: []r3.Vec{{}, {X: 3}, {Y: 3}}, Triangles: [][3]int32{{0, 1, 2}, {0, 2, 1}}},
			map[mesh.Class]int{mesh.Duplicate: 1, mesh.InvertedShell: 1, mesh.NoVolume: 1},
			r3.Vec{X: 1, Y: 1},
		},
	}
}

func TestEveryFaultIsFound(t *testing.T) {
	for _, tc := range faultyMeshes() {
		if tc.want == nil {
			continue
		}
		t.Run(tc.name, func(t *testing.T) {
			got := map[mesh.Class]int{}
			report := mesh.Check(tc.m, mesh.Options{})
			for _, f := range report.Faults {
				got[f.Class] = f.Count
				if len(f.Places) != min(f.Count, 16) {
					t.Errorf("%s: %d places for %d", f.Class, len(f.Places), f.Count)
				}
			}
			if d := cmp.Diff(tc.want, got); d != "" {
				t.Fatal(d)
			}
			hit := false
			for _, f := range report.Faults {
				for _, p := range f.Places {
					hit = hit || r3.Norm(r3.Sub(p.At, tc.at)) < 1e-9
				}
			}
			if !hit {
				t.Errorf("no fault at %v: %v", tc.at, report.Err())
			}
		})
	}
}

func TestGateRefusesEveryFault(t *testing.T) {
	for _, tc := range faultyMeshes() {
		if tc.want == nil || tc.name == "named twice" { // snapping drops what has lost a side
			continue
		}
		m, err := mesh.Gate(tc.m)
		var e *mesh.FaultError
		if m != nil || !errors.As(err, &e) || strings.ContainsAny(err.Error(), "\n\r") {
			t.Errorf("%s: gate gives %v and error %v", tc.name, m, err)
		}
	}
}

func TestCleanSolids(t *testing.T) {
	cavity := reversed(box(1, 1, 1, 4, 4, 4))
	for name, m := range map[string]*mesh.Mesh{
		"two beside each other":    mesh.Joined(box(0, 0, 0, 1, 1, 1), box(2, 0, 0, 3, 1, 1)),
		"cavity":                   mesh.Joined(box(0, 0, 0, 5, 5, 5), cavity),
		"solid in a cavity":        mesh.Joined(box(0, 0, 0, 5, 5, 5), cavity, box(2, 2, 2, 3, 3, 3)),
		"solid in a torus' hole":   mesh.Joined(meshtest.Torus(10, 2, 40, 20), box(-1, -1, -1, 1, 1, 1)),
		"solid over another":       mesh.Joined(box(0, 0, 0, 1, 1, 1), box(0, 0, 2, 1, 1, 3)),
		"first vertex over a seam": mesh.Joined(box(0, 0, 3, 1, 1, 4), box(-1, -1, 0, 1, 1, 1)),
		"noise about zero": edited(box(-1, -1, 0, 1, 1, 1), func(m *mesh.Mesh) {
			m.Vertices[0].Z, m.Vertices[1].Z, m.Vertices[2].Z = 1e-17, -3e-9, math.Copysign(0, -1)
		}),
	} {
		t.Run(name, func(t *testing.T) { meshtest.Clean(t, m) })
	}
}

// Solids that only touch are not apart: one corner, edge or face of one on the other is enough.
func TestTouchingIsIntersecting(t *testing.T) {
	base := box(0, 0, 0, 4, 4, 1)
	for name, m := range map[string]*mesh.Mesh{
		"corner on a face":  meshtest.Tetrahedron(1, 1, 1).Turned(mesh.X, 45).Moved(r3.Vec{X: 2, Y: 2, Z: 1}),
		"face on a face":    box(1, 1, 1, 2, 2, 2),
		"face inside flush": box(3, 1, -1, 4, 2, 2),
		"edge on an edge":   box(4, -1, 1, 5, 5, 2),
		"corner on an edge": box(4, 1, 1, 5, 2, 2),
	} {
		both := mesh.Joined(base, m)
		if mesh.Check(both, mesh.Options{}).Count(mesh.SelfIntersection) == 0 {
			t.Errorf("%s: not found", name)
		}
		apart := mesh.Joined(base, m.Moved(r3.Vec{X: 1e-4, Z: 1e-4})) // and 1e-4 farther it is clean
		if err := mesh.Check(apart, mesh.Options{}).Err(); err != nil && name != "face inside flush" {
			t.Errorf("%s, moved: %v", name, err)
		}
	}
}

func TestFoldedOver(t *testing.T) {
	// Two triangles over the same edge, the second folded flat onto the first, in a leaning plane.
	m := &mesh.Mesh{
		Vertices:  []r3.Vec{{}, {X: 4, Z: 4}, {Y: 4}, {X: 1, Y: 1, Z: 1}},
		Triangles: [][3]int32{{0, 1, 2}, {1, 0, 3}},
	}
	if mesh.Check(m, mesh.Options{}).Count(mesh.SelfIntersection) != 1 {
		t.Error("fold not found")
	}
	m.Vertices[3] = r3.Vec{X: 2, Y: -2, Z: 2}
	if mesh.Check(m, mesh.Options{}).Count(mesh.SelfIntersection) != 0 {
		t.Error("flat continuation taken for a fold")
	}
}

func TestOptions(t *testing.T) {
	crossing := mesh.Joined(box(0, 0, 0, 2, 2, 2), box(1, 1, 1, 3, 3, 3))
	if r := mesh.Check(crossing, mesh.Options{Quick: true}); !r.Clean() {
		t.Errorf("quick: %v", r.Err())
	}
	if r := mesh.Check(crossing, mesh.Options{Places: 3}); len(r.Faults[0].Places) != 3 || r.Faults[0].Count != 18 {
		t.Errorf("3 places: %+v", r)
	}
	low := box(0, 0, 0, 10, 10, 0.5)
	if r := mesh.Check(low, mesh.Options{Sliver: 0.6}); r.Count(mesh.Sliver) != 8 {
		t.Errorf("sliver: %v", r.Err())
	}
	if r := mesh.Check(low, mesh.Options{Sliver: 0.49}); !r.Clean() {
		t.Errorf("no sliver: %v", r.Err())
	}
	bent := split(box(0, 0, 0, 2, 2, 2), r3.Vec{X: 0.01, Y: 1})
	for near, want := range map[float64]int{0: 0, 0.02: 1, 0.009: 0, -1: 0} {
		if got := mesh.Check(bent, mesh.Options{Near: near}).Count(mesh.TJunction); got != want {
			t.Errorf("near %g: %d junctions, want %d", near, got, want)
		}
	}
}

// Where a solid in another has its vertices under edges and corners of it, it is found all the same.
func TestNestedUnderSeams(t *testing.T) {
	outer := meshtest.Frustum(10, 9, 10, 4) // its head is split along x = 0 and y = 0
	for _, at := range []r3.Vec{{}, {X: 1}, {Y: 1}, {X: -1}, {Y: -1}, {X: 1, Y: 1}} {
		inner := meshtest.Tetrahedron(1, 1, 1).Moved(r3.Add(at, r3.Vec{Z: 3}))
		if got := mesh.Check(mesh.Joined(outer, inner), mesh.Options{}); len(got.Faults) != 1 || got.Count(mesh.InvertedShell) != 1 {
			t.Errorf("solid at %v: %v", at, got.Err())
		}
		if got := mesh.Check(mesh.Joined(outer, inner.Moved(r3.Vec{Z: -9})), mesh.Options{}); !got.Clean() {
			t.Errorf("solid below, at %v: %v", at, got.Err())
		}
	}
}

// A crack whose ends nearly meet is not a T-junction.
func TestNoJunctionAtAnEnd(t *testing.T) {
	m := &mesh.Mesh{
		Vertices:  []r3.Vec{{}, {X: 2}, {Y: 2}, {X: 1e-5, Y: 0}, {X: 1, Y: -2}, {X: 2 - 1e-5}},
		Triangles: [][3]int32{{0, 1, 2}, {3, 4, 5}},
	}
	if got := mesh.Check(m, mesh.Options{}).Count(mesh.TJunction); got != 0 {
		t.Errorf("%d junctions", got)
	}
}

// The places of self-intersections lie on both surfaces.
func TestIntersectionPlaces(t *testing.T) {
	r := mesh.Check(mesh.Joined(box(0, 0, 0, 2, 2, 2), box(1, 1, 1, 3, 3, 3)), mesh.Options{Places: 100})
	onBox := func(p r3.Vec, lo, hi float64) bool {
		least, most := min(p.X, p.Y, p.Z), max(p.X, p.Y, p.Z)
		return least > lo-1e-9 && most < hi+1e-9 && (math.Abs(least-lo) < 1e-9 || math.Abs(most-hi) < 1e-9)
	}
	for _, p := range r.Faults[0].Places {
		if !onBox(p.At, 0, 2) || !onBox(p.At, 1, 3) {
			t.Errorf("%v is not on both boxes", p.At)
		}
	}
}

// Very many faults do not take very long: looking is given up, and the report says so.
func TestManyIntersections(t *testing.T) {
	const n = 3000
	m := &mesh.Mesh{}
	for i := range n {
		a := 2 * math.Pi * float64(i) / n
		p := r2.Vec{X: math.Cos(a), Y: math.Sin(a)}
		m = mesh.Joined(m, &mesh.Mesh{
			Vertices:  []r3.Vec{{X: p.X, Y: p.Y}, {X: -p.X, Y: -p.Y}, {Z: 1 + a}},
			Triangles: [][3]int32{{0, 1, 2}},
		})
	}
	r := mesh.Check(m, mesh.Options{})
	if got := r.Count(mesh.SelfIntersection); got < 4096 {
		t.Errorf("%d found", got)
	}
}
