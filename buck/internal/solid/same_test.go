package solid_test

import (
	"math"
	"runtime"
	"slices"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// makers mesh the pieces of the test knife.
func makers(t testing.TB) map[string]func() (*mesh.Mesh, error) {
	t.Helper()
	k := bucktest.Knife(t, bucktest.Hunter(), bucktest.Spec())
	s, err := pieces.NewStandoff(k)
	if err != nil {
		t.Fatal(err)
	}
	d, err := pieces.NewDrain(k)
	if err != nil {
		t.Fatal(err)
	}
	r, err := pieces.NewRamps(pieces.NewDraw(k))
	if err != nil {
		t.Fatal(err)
	}
	return map[string]func() (*mesh.Mesh, error){
		"standoff": func() (*mesh.Mesh, error) { return solid.Standoff(s, 0) },
		"drain":    func() (*mesh.Mesh, error) { return solid.Drain(d, 0) },
		"ramp":     func() (*mesh.Mesh, error) { return solid.Ramp(r.Bossed[0], 0) },
		"knife":    func() (*mesh.Mesh, error) { return solid.Knife(k, 0.05) },
	}
}

// TestSameOnEveryRun makes each piece twenty times on one, two and eight processors; it is the same
// to the last bit, through the gate.
func TestSameOnEveryRun(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for name, make := range makers(t) {
		t.Run(name, func(t *testing.T) {
			var first *mesh.Mesh
			for run := range 20 {
				runtime.GOMAXPROCS([]int{1, 2, 8}[run%3])
				m, err := make()
				if err == nil {
					m, err = mesh.Gate(m)
				}
				if err != nil {
					t.Fatal(err)
				}
				if first == nil {
					first = m
				}
				if !slices.Equal(m.Vertices, first.Vertices) || !slices.Equal(m.Triangles, first.Triangles) {
					t.Fatalf("run %d differs from the first", run)
				}
			}
		})
	}
}

// TestBoss holds a boss to the figures that are asked of it: at most 2 500 triangles, and within 0.01 mm
// of its twin both ways.
func TestBoss(t *testing.T) {
	s := boss(t)
	m, err := solid.Standoff(s, 0)
	if err != nil {
		t.Fatal(err)
	}
	meshtest.Clean(t, m)
	if n := len(m.Triangles); n > 2500 {
		t.Errorf("%d triangles", n)
	}
	body, err := twin.Standoff(s)
	if err != nil {
		t.Fatal(err)
	}
	d, err := twin.Measure(m, body, twin.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d triangles, %.5f mm from mesh to twin, %.5f mm from twin to mesh", len(m.Triangles), d.FromMesh.Distance, d.FromTwin.Distance)
	if !(d.Worst() <= 0.01) {
		t.Errorf("%.5f mm from its twin", d.Worst())
	}
	off, sides := footMiss(m, s)
	t.Logf("foot: %d sides within %.5f mm", sides, off)
	if sides < 50 || off > 0.002 {
		t.Errorf("the foot has %d sides, up to %.5f mm off", sides, off)
	}
}

// footMiss is how far the ends and middles of the sides of a mesh's sharp foot, on a level face, are from the
// pill that the boss's walls reach there, and how many sides there are.
func footMiss(m *mesh.Mesh, s *pieces.StandoffPiece) (worst float64, sides int) {
	low := m.Bounds().Min.Z
	foot := s.Top.Grown((s.TopZ - low) * math.Tan(s.DraftDeg*math.Pi/180))
	off := func(v r3.Vec) float64 { return math.Abs(foot.Distance(r2.Vec{X: v.X, Y: v.Y})) }
	for _, c := range m.Triangles {
		if max(m.Vertices[c[0]].Z, m.Vertices[c[1]].Z, m.Vertices[c[2]].Z) == low {
			continue // of the floor
		}
		for k := range c {
			a, b := m.Vertices[c[k]], m.Vertices[c[(k+1)%3]]
			if max(a.Z, b.Z) > low+0.0005 || max(off(a), off(b)) > 0.3 {
				continue
			}
			sides++
			worst = max(worst, max(off(r3.Scale(0.5, r3.Add(a, b))), off(a), off(b)))
		}
	}
	return worst, sides
}

// TestPlacements moves a boss across the blade, so that its foot runs over and along the knife's lines; wherever
// it stands it is as close to its twin.
func TestPlacements(t *testing.T) {
	size.Long(t)
	for y := -3.0; y <= 4; y += size.Or(1.5, 0.5) {
		spec := bucktest.Spec()
		spec.Plate.Width, spec.Standoff.Y, spec.Standoff.CantDeg = 9, y, y/3
		s, err := pieces.NewStandoff(bucktest.Knife(t, bucktest.Hunter(), spec))
		if err != nil {
			t.Fatal(err)
		}
		m, err := solid.Standoff(s, 0)
		if err != nil {
			t.Fatal(err)
		}
		meshtest.Clean(t, m)
		body, err := twin.Standoff(s)
		if err != nil {
			t.Fatal(err)
		}
		d, err := twin.Measure(m, body, twin.Options{Step: 0.5})
		if err != nil {
			t.Fatal(err)
		}
		if !(d.Worst() <= 0.01) {
			t.Errorf("y = %g: %.5f mm from its twin", y, d.Worst())
		}
	}
}

// TestDemoFigures holds the demo's pieces and the demo knives to the triangles that are allowed them.
func TestDemoFigures(t *testing.T) {
	size.Long(t)
	at := func(what string, m *mesh.Mesh, err error, most int) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		meshtest.Clean(t, m)
		t.Logf("%s: %d triangles", what, len(m.Triangles))
		if n := len(m.Triangles); n > most {
			t.Errorf("%s: %d triangles, more than %d", what, n, most)
		}
	}
	for _, name := range bucktest.Demos() {
		v, plan := bucktest.Demo(t, name)
		k := bucktest.Knife(t, plan, v.Spec)
		m, err := solid.Knife(k, 0.02)
		at(name+" knife", m, err, 20000)
		if name != "thistle" {
			continue
		}
		d, err := pieces.NewDrain(k)
		if err != nil {
			t.Fatal(err)
		}
		m, err = solid.Drain(d, 0)
		at("drain", m, err, 2500)
		_, ramps, err := k.Ramps()
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range ramps.Bossed {
			m, err = solid.Ramp(r, 0)
			at("ramp at the "+r.Side, m, err, 2500)
		}
	}
}
