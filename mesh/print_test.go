package mesh_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
)

// bowl is a frustum whose side makes an angle of deg with the bed and hangs over it, on a foot of
// radius 5, with the area of the cone's side in closed form: pi (r + R) s.
func bowl(deg float64) (*mesh.Mesh, float64) {
	const foot, height = 5.0, 4.0
	sin, cos := math.Sincos(deg * math.Pi / 180)
	head := foot + height*cos/sin
	return meshtest.Frustum(foot, head, height, 720), math.Pi * (foot + head) * height / sin
}

func TestOverhang(t *testing.T) {
	for _, deg := range []float64{20, 45, 60} {
		m, side := bowl(deg)
		m = m.Snapped()
		for ask, want := range map[float64]float64{deg - 1: 0, deg: 0, deg + 1: side, 89: side} {
			got := m.Overhang(ask)
			if math.Abs(got.Area-want) > 1e-3*side {
				t.Errorf("side at %v deg to the bed, under %v deg: %v mm2, want %v", deg, ask, got.Area, want)
			}
			if (want > 0) != (len(got.Patches) == 1) {
				t.Errorf("%d patches", len(got.Patches))
			}
		}
	}
}

// What stands on the bed does not hang; a ceiling does, and so does a second foot above the bed.
func TestOverhangOfTable(t *testing.T) {
	table := mesh.Joined(
		meshtest.Box(r3.NewBox(0, 0, 5, 30, 20, 8)), meshtest.Box(r3.NewBox(2, 2, 0, 6, 6, 4)), meshtest.Box(r3.NewBox(10, 2, 1, 13, 6, 4)),
	)
	got := table.Overhang(45)
	want := []mesh.Patch{{Area: 600}, {Area: 12}}
	if len(got.Patches) != len(want) || got.Area != 612 {
		t.Fatalf("%+v", got)
	}
	for i, w := range want {
		if p := got.Patches[i]; math.Abs(p.Area-w.Area) > 1e-9 || p.At.Z != []float64{5, 1}[i] {
			t.Errorf("%+v, want %+v", p, w)
		}
	}
	if up := table.Turned(mesh.Z, 37).Overhang(45); math.Abs(up.Area-612) > 1e-9 {
		t.Errorf("turned about z: %v mm2", up.Area)
	}
}

func TestThinnestWall(t *testing.T) {
	hollow := func(wall float64) *mesh.Mesh { // a box with a box-shaped hole in it
		hole := meshtest.Box(r3.NewBox(2, 3, 4, 20-wall, 17, 16))
		for i, t := range hole.Triangles {
			hole.Triangles[i] = [3]int32{t[0], t[2], t[1]}
		}
		return mesh.Joined(meshtest.Box(r3.NewBox(0, 0, 0, 20, 20, 20)), hole)
	}
	for name, tc := range map[string]struct {
		m         *mesh.Mesh
		want, tol float64
	}{
		"plate":        {meshtest.Box(r3.NewBox(0, 0, 0, 50, 30, 0.8)), 0.8, 1e-12},
		"plate on end": {meshtest.Box(r3.NewBox(0, 0, 0, 0.4, 30, 50)).Turned(mesh.Z, 30), 0.4, 1e-9},
		"hollow":       {hollow(0.7), 0.7, 1e-12},
		"thicker":      {hollow(5), 2, 1e-12},
		"rod":          {meshtest.Frustum(1, 1, 30, 64), 2 * math.Cos(math.Pi/64), 2e-3}, // between two sides
		"stadium":      {meshtest.Loft(meshtest.Stadium(40, 10, 8), meshtest.Stadium(40, 10, 8), 3), 3, 1e-9},
	} {
		w, ok := tc.m.ThinnestWall()
		if !ok || math.Abs(w.Thickness-tc.want) > tc.tol {
			t.Errorf("%s: %+v, want %v", name, w, tc.want)
		}
	}
}

// A feather edge of 5 degrees is a wall that thins out; one of 30 is an edge.
func TestWallOfWedge(t *testing.T) {
	wedge := func(deg float64) *mesh.Mesh {
		m := meshtest.Box(r3.NewBox(0, 0, 0, 20, 10, 20*math.Tan(deg*math.Pi/180)))
		for i, v := range m.Vertices {
			if v.X == 0 && v.Z > 0 {
				m.Vertices[i].Z = 0.05
			}
		}
		return m
	}
	if w, ok := wedge(5).ThinnestWall(); !ok || w.Thickness < 0.05 || w.Thickness > 0.1 || w.At.X > 1 {
		t.Errorf("5 degrees: %+v %v", w, ok)
	}
	if w, _ := wedge(30).ThinnestWall(); w.Thickness < 1 {
		t.Errorf("30 degrees: %+v", w)
	}
	// A cone on a lip of a micrometre: next to its edge everything is thin, and no wall.
	lip := mesh.Joined(meshtest.Frustum(2.68, 2.66, 0.001, 120), meshtest.Frustum(2.66, 0, 1.54, 120).Moved(r3.Vec{Z: 0.001}))
	kept := lip.Triangles[:0]
	for _, t := range lip.Triangles { // without the two discs between them
		if v := lip.Vertices; v[t[0]].Z != 0.001 || v[t[1]].Z != 0.001 || v[t[2]].Z != 0.001 {
			kept = append(kept, t)
		}
	}
	lip.Triangles = kept
	lip = meshtest.Clean(t, lip.Welded())
	if w, ok := lip.ThinnestWall(); ok {
		t.Errorf("lip: %+v", w)
	}
	// A needle is thin all over.
	if w, ok := meshtest.Frustum(0.1, 0.1, 20, 32).ThinnestWall(); !ok || math.Abs(w.Thickness-0.2) > 0.002 {
		t.Errorf("needle: %+v %v", w, ok)
	}
	if w, ok := meshtest.Tetrahedron(5, 4, 3).ThinnestWall(); ok {
		t.Errorf("tetrahedron: %+v", w)
	}
}

// The figure does not depend on how many processors look, nor on where the solid lies.
func TestWallIsSteady(t *testing.T) {
	m := meshtest.Torus(20, 3, 64, 32)
	first, _ := m.ThinnestWall()
	for range 5 {
		if again, _ := m.ThinnestWall(); again != first {
			t.Fatalf("%+v and %+v", first, again)
		}
	}
	moved, _ := m.Moved(r3.Vec{X: 31, Y: -7, Z: 12}).ThinnestWall()
	if math.Abs(moved.Thickness-first.Thickness) > 1e-9 || first.Thickness < 5.9 || first.Thickness > 6 {
		t.Errorf("%+v, moved %+v", first, moved)
	}
}

func TestFit(t *testing.T) {
	rod := meshtest.Box(r3.NewBox(0, 0, 0, 200, 10, 20))
	for name, tc := range map[string]struct {
		m    *mesh.Mesh
		bed  r3.Vec
		want mesh.Fit
		fits bool
	}{
		"as it stands": {rod, r3.Vec{X: 200, Y: 10, Z: 20}, mesh.Fit{Up: mesh.Z}, true},
		"turned":       {rod, r3.Vec{X: 10, Y: 200, Z: 20}, mesh.Fit{Up: mesh.Z, TurnDeg: 90}, true},
		"on end":       {rod, r3.Vec{X: 30, Y: 30, Z: 250}, mesh.Fit{Up: mesh.X}, true},
		"on its side":  {rod, r3.Vec{X: 210, Y: 210, Z: 15}, mesh.Fit{Up: mesh.Y}, true},
		"too long":     {rod, r3.Vec{X: 120, Y: 120, Z: 120}, mesh.Fit{}, false},
		"askew":        {rod.Turned(mesh.Z, 25), r3.Vec{X: 201, Y: 11, Z: 20}, mesh.Fit{Up: mesh.Z, TurnDeg: 155}, true},
		"too high":     {meshtest.Box(r3.NewBox(0, 0, 0, 30, 30, 30)), r3.Vec{X: 99, Y: 99, Z: 29}, mesh.Fit{}, false},
	} {
		got, fits := tc.m.Fit(tc.bed)
		if fits != tc.fits || got.Up != tc.want.Up || math.Abs(got.TurnDeg-tc.want.TurnDeg) > 1e-6 {
			t.Errorf("%s: %+v %v, want %+v %v", name, got, fits, tc.want, tc.fits)
		}
	}
	// The diagonal of a square of 150 takes a rod of 200 by 10: 210 / sqrt 2 = 148.5.
	got, fits := rod.Fit(r3.Vec{X: 150, Y: 150, Z: 20})
	if !fits || got.TurnDeg < 40 || got.TurnDeg > 50 {
		t.Errorf("across the corner: %+v %v", got, fits)
	}
}

// A turn that is said to make it fit does.
func TestFitHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := rapid.Float64Range(1, 100).Draw(t, "x"), rapid.Float64Range(1, 100).Draw(t, "y")
		m := meshtest.Box(r3.NewBox(0, 0, 0, x, y, 5)).Turned(mesh.Z, rapid.Float64Range(0, 360).Draw(t, "turn"))
		bed := r3.Vec{X: rapid.Float64Range(1, 150).Draw(t, "w"), Y: rapid.Float64Range(1, 150).Draw(t, "d"), Z: 6}
		fit, fits := m.Fit(bed)
		if !fits {
			if (x <= bed.X && y <= bed.Y) || (y <= bed.X && x <= bed.Y) {
				t.Fatalf("%v x %v does not fit %v", x, y, bed)
			}
			return
		}
		if size := m.Turned(mesh.Z, fit.TurnDeg).Bounds().Size(); fit.Up == mesh.Z && (size.X > bed.X+1e-5 || size.Y > bed.Y+1e-5) {
			t.Fatalf("turned by %v: %v on a bed of %v", fit.TurnDeg, size, bed)
		}
	})
}

func ExampleMesh_Overhang() {
	shelf := mesh.Joined(meshtest.Box(r3.NewBox(0, 0, 0, 5, 10, 20)), meshtest.Box(r3.NewBox(6, 0, 18, 20, 10, 20)))
	o := shelf.Overhang(45)
	fmt.Printf("%.0f mm2, the largest at z = %.0f mm\n", o.Area, o.Patches[0].At.Z)
	// Output: 140 mm2, the largest at z = 18 mm
}

func BenchmarkThinnestWall(b *testing.B) {
	m := meshtest.Torus(60, 20, 710, 710)
	for b.Loop() {
		m.ThinnestWall()
	}
}
