package mesh_test

import (
	"fmt"
	"math"
	"testing"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestStance checks what is measured of solids whose figures are known: areas of sections and plans
// by hand, what begins in the air and what does not.
func TestStance(t *testing.T) {
	cone := meshtest.Frustum(10, 0.001, 10, 96) // on its base
	tip := cone.Turned(mesh.X, 180)
	polygon := 96.0 / 2 * math.Sin(2*math.Pi/96) // area over the radius squared
	for _, tt := range []struct {
		name                string
		solid               *mesh.Mesh
		touch, plan, height float64
		width               float64
		islands             int
		centred, hangs      bool
	}{
		{"box", meshtest.Box(r3.NewBox(0, 0, 0, 30, 20, 5)), 600, 600, 5, 20, 0, true, false},
		{"cone on its base", cone, 9.9 * 9.9 * polygon, 100 * polygon, 10, 2 * 9.8 * math.Cos(math.Pi/96), 0, true, false},
		{"cone on its tip", tip, 0.1 * 0.1 * polygon, 100 * polygon, 10, 0.4 * math.Cos(math.Pi/96), 0, true, false},
		{"what hangs over its foot", mesh.Joined(meshtest.Box(r3.NewBox(0, 0, 0, 4, 20, 5)), meshtest.Box(r3.NewBox(0, 0, 5.00001, 30, 20, 10))), 80, 680, 10, 4, 1, false, true},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s := tt.solid.Stance(45)
			near := func(what string, got, want, off float64) {
				if math.Abs(got-want) > off {
					t.Errorf("%s %.4f, want %.4f", what, got, want)
				}
			}
			near("first layer", s.Touch, tt.touch, 0.05)
			near("plan", s.Plan, tt.plan, 1e-6)
			near("height", s.Height, tt.height, 1e-9)
			near("width", s.Width, tt.width, 0.02)
			if len(s.Islands) != tt.islands || s.Centred != tt.centred || (s.Overhang.Area > 1) != tt.hangs {
				t.Errorf("%d islands, centred %v, %.1f mm2 hang", len(s.Islands), s.Centred, s.Overhang.Area)
			}
		})
	}
}

// TestIslands: a stalactite begins in the air, in whatever turn about the upright; a lintel, a
// hollow's floor and a table on its legs do not.
func TestIslands(t *testing.T) {
	table := mesh.Joined(meshtest.Box(r3.NewBox(0, 0, 0, 5, 5, 10)), meshtest.Box(r3.NewBox(25, 0, 0, 30, 5, 10)), meshtest.Box(r3.NewBox(0, 0, 10, 30, 5, 14)))
	drop := meshtest.Frustum(0.001, 3, 6, 24).Moved(r3.Vec{X: 15, Y: 2.5, Z: 4})
	for _, tt := range []struct {
		name  string
		solid *mesh.Mesh
		want  int
	}{
		{"stalactite", mesh.Joined(table, drop), 2}, // the table's top is a solid of its own here
		{"torus", meshtest.Torus(10, 3, 48, 24), 0},
		{"cup", meshtest.Torus(10, 3, 48, 24).Turned(mesh.X, 90), 0},
	} {
		for _, deg := range []float64{0, 31} {
			if got := tt.solid.Turned(mesh.Z, deg).Stance(45).Islands; len(got) != tt.want {
				t.Errorf("%s: %v", tt.name, got)
			}
		}
	}
}

// TestStances: a box let go in any direction comes to rest on one of its sides; all three of its
// heights are among the ways it can stand, and it touches the bed with all of that side.
func TestStances(t *testing.T) {
	solid := meshtest.Box(r3.NewBox(0, 0, 0, 30, 20, 10))
	for _, turned := range []*mesh.Mesh{solid, solid.Turned(mesh.X, 17).Turned(mesh.Z, 40).Turned(mesh.Y, 23)} {
		found := make(map[string]bool)
		for _, s := range turned.Stances(45) {
			if s.Touch > 100 && s.Overhang.Area < 1e-6 {
				found[fmt.Sprintf("%.3f high, %.2f", s.Height, s.Touch)] = true
			}
			meshtest.Volume(t, s.Mesh, 6000, 1e-6)
		}
		if !found["10.000 high, 600.00"] {
			t.Errorf("it does not lie flat: %v", found)
		}
	}
}

// pocketed is a box, size mm in all, with a pocket in the middle of its underside.
func pocketed(size, pocket r3.Vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	for _, b := range []struct {
		size r3.Vec
		z    [2]float64
	}{{size, [2]float64{0, size.Z}}, {pocket, [2]float64{0, pocket.Z}}} {
		for _, z := range b.z {
			for _, c := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
				m.Vertices = append(m.Vertices, r3.Vec{X: c[0] * b.size.X / 2, Y: c[1] * b.size.Y / 2, Z: z})
			}
		}
	}
	quad := func(a, b, c, d int32) { m.Triangles = append(m.Triangles, [3]int32{a, b, c}, [3]int32{a, c, d}) }
	quad(4, 5, 6, 7)     // top
	quad(12, 15, 14, 13) // the pocket's ceiling, seen from below
	for i := range int32(4) {
		j := (i + 1) % 4
		quad(i, j, 4+j, 4+i)       // outer side
		quad(8+j, 8+i, 12+i, 12+j) // the pocket's side
		quad(j, i, 8+i, 8+j)       // rim
	}
	return m
}

// TestHeld: the ceiling of a stroke that was engraved is held on all sides and as wide as the stroke;
// nothing holds a side that leans out over the bed.
func TestHeld(t *testing.T) {
	slot := meshtest.Clean(t, pocketed(r3.Vec{X: 40, Y: 20, Z: 5}, r3.Vec{X: 30, Y: 2, Z: 1}))
	meshtest.Volume(t, slot, 4000-60, 1e-9)
	p := slot.Overhang(45).Patches
	if len(p) != 1 || p[0].Area != 60 || math.Abs(p[0].Held-1) > 1e-9 || math.Abs(p[0].Wide-2*60.0/64) > 1e-9 {
		t.Errorf("slot: %+v", p)
	}
	shelf := meshtest.Loft(
		[]r2.Vec{{X: 0}, {X: 10}, {X: 10, Y: 20}, {Y: 20}},
		[]r2.Vec{{X: 0}, {X: 40}, {X: 40, Y: 20}, {Y: 20}}, 10,
	) // leans out by 71.6 degrees from the upright
	p = shelf.Overhang(45).Patches
	long := 20 + 20 + 2*math.Hypot(30, 10)
	if len(p) != 1 || p[0].Held != 0 || math.Abs(p[0].Wide-2*p[0].Area/long) > 1e-9 {
		t.Errorf("shelf: %+v", p)
	}
}
