package twin_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"formbuck/buck/internal/twin"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/relief"

	"github.com/deadsy/sdfx/sdf"
	"github.com/deadsy/sdfx/vec/v2"
	"github.com/deadsy/sdfx/vec/v3"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

func box(t testing.TB, size v3.Vec) sdf.SDF3 {
	t.Helper()
	b, err := sdf.Box3D(size, 0)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.6f, want %.6f +- %.2g", what, got, want, tol)
	}
}

// Faults put into a cube of 4 mm must come back at their size.
func TestMeasureFindsWhatIsWrong(t *testing.T) {
	t.Parallel()
	cube := meshtest.Box(r3.NewBox(-2, -2, -2, 2, 2, 2))
	for name, tc := range map[string]struct {
		mesh               *mesh.Mesh
		twin               sdf.SDF3
		fromMesh, fromTwin float64
		tol                float64
	}{
		"alike":   {cube, box(t, v3.Vec{X: 4, Y: 4, Z: 4}), 0, 0, 1e-4},
		"moved":   {cube.Moved(r3.Vec{X: 0.03}), box(t, v3.Vec{X: 4, Y: 4, Z: 4}), 0.03, 0.03, 1e-4},
		"taller":  {meshtest.Box(r3.NewBox(-2, -2, -2, 2, 2, 2.5)), box(t, v3.Vec{X: 4, Y: 4, Z: 4}), 0.5, 0.5, 1e-4},
		"corners": {cube.Moved(r3.Vec{X: 0.03, Y: 0.03, Z: 0.03}), box(t, v3.Vec{X: 4, Y: 4, Z: 4}), 0.03 * math.Sqrt(3), 0.03 * math.Sqrt(3), 2e-3},
		"part lost": {
			cube, sdf.Union3D(box(t, v3.Vec{X: 4, Y: 4, Z: 4}), sdf.Transform3D(box(t, v3.Vec{X: 1, Y: 1, Z: 1}), sdf.Translate3d(v3.Vec{Z: 2.25}))),
			0.413, 0.75, 0.001, // the lid under the part is half a millimetre from its sides; its places nearest the middle are 0.087 off it
		},
	} {
		t.Run(name, func(t *testing.T) {
			d, err := twin.Measure(tc.mesh, tc.twin, twin.Options{Step: 0.25})
			if err != nil {
				t.Fatal(err)
			}
			near(t, "from mesh", d.FromMesh.Distance, tc.fromMesh, tc.tol)
			near(t, "from twin", d.FromTwin.Distance, tc.fromTwin, tc.tol)
		})
	}
}

func TestMeasureRefuses(t *testing.T) {
	if _, err := twin.Measure(&mesh.Mesh{}, box(t, v3.Vec{X: 1, Y: 1, Z: 1}), twin.Options{}); !errors.Is(err, twin.ErrEmptyMesh) {
		t.Errorf("empty mesh: %v", err)
	}
	far := sdf.Transform3D(box(t, v3.Vec{X: 1, Y: 1, Z: 1}), sdf.Translate3d(v3.Vec{X: 500}))
	if _, err := twin.Measure(meshtest.Box(r3.NewBox(0, 0, 0, 1, 1, 1)), far, twin.Options{}); !errors.Is(err, twin.ErrNoSurface) {
		t.Errorf("twin elsewhere: %v", err)
	}
}

func TestMeasureIsTheSameOnEveryRun(t *testing.T) {
	t.Parallel()
	p := bodies(t, hunter(t))[1]
	if a, b := measured(t, p, 0.1, 1), measured(t, p, 0.1, 1); a != b {
		t.Errorf("%+v, then %+v", a, b)
	}
}

// A feather toe: a wedge of 0.4 mm that runs out to nothing over 6 mm. Extraction from samples half a
// millimetre apart loses it. Both its mesh and one whose toe is cut off are measured.
func TestFeatherToeIsWhole(t *testing.T) {
	t.Parallel()
	const thick, long, wide = 0.4, 6.0, 10.0
	profile, err := sdf.Polygon2D([]v2.Vec{{}, {X: long}, {Y: thick}})
	if err != nil {
		t.Fatal(err)
	}
	// Extruded along z; the quarter turn about x lays the profile's y on z.
	wedge := sdf.Transform3D(sdf.Extrude3D(profile, wide), sdf.RotateX(sdf.DtoR(90)))
	height := func(p r2.Vec) float64 { return thick * (1 - p.X/long) }
	made := func(to float64) *mesh.Mesh {
		rim := []r2.Vec{{Y: -wide / 2}, {X: to, Y: -wide / 2}, {X: to, Y: wide / 2}, {Y: wide / 2}}
		m, err := relief.Build(relief.Body{
			Lines: []relief.Line{{Points: rim, Closed: true}},
			Spans: func(p r2.Vec) []relief.Span {
				if p.X < 0 || p.X > to || math.Abs(p.Y) > wide/2 {
					return nil
				}
				return []relief.Span{{Low: func(r2.Vec) float64 { return 0 }, High: height}}
			},
		}, relief.Options{Tolerance: 0.01})
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	d, err := twin.Measure(made(long), wedge, twin.Options{Step: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("whole: from mesh %.5f, from twin %.5f", d.FromMesh.Distance, d.FromTwin.Distance)
	if !(d.Worst() <= 0.01) {
		t.Errorf("%.5f mm from its twin", d.Worst())
	}
	d, err = twin.Measure(made(long-0.5), wedge, twin.Options{Step: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	if !(d.FromTwin.Distance > 0.4 && d.FromTwin.Distance <= 0.5001) {
		t.Errorf("half a millimetre of the toe cut off: seen as %.5f mm", d.FromTwin.Distance)
	}
}

// Volumes from closed forms: a frustum R5 r3 h4, pi h/3 (R2 + R r + r2), and a cone, pi r2 h/3.
func TestVolumeAgainstClosedForms(t *testing.T) {
	t.Parallel()
	frustum, err := sdf.Cone3D(4, 5, 3, 0)
	if err != nil {
		t.Fatal(err)
	}
	nub, err := twin.Nub(&pieces.NubPiece{Base: 6, AngleDeg: 2 * 180 / math.Pi * math.Atan(1.5)})
	if err != nil {
		t.Fatal(err)
	}
	for name, tc := range map[string]struct {
		twin sdf.SDF3
		want float64
	}{"frustum": {frustum, 205.2507}, "nub r3 h2": {nub, 18.8496}} {
		got, sigma := twin.Volume(tc.twin, r3.NewBox(-6, -6, -3, 6, 6, 3), 0.2)
		t.Logf("%s: %.4f +- %.4f mm3", name, got, sigma)
		near(t, name, got, tc.want, 4*sigma)
		if sigma > 0.01*tc.want {
			t.Errorf("%s: +- %.4f mm3 tells nothing", name, sigma)
		}
	}
}

// The tree against every triangle in turn.
func TestDistanceToMesh(t *testing.T) {
	t.Parallel()
	m, err := bodies(t, hunter(t))[1].mesh(0.05)
	if err != nil {
		t.Fatal(err)
	}
	distance := twin.DistanceTo(m)
	dice := rand.New(rand.NewPCG(1, 2))
	b := m.Bounds()
	for range 100 {
		size := r3.Sub(b.Max, b.Min)
		p := r3.Add(b.Min, r3.Vec{X: (1.4*dice.Float64() - 0.2) * size.X, Y: (1.4*dice.Float64() - 0.2) * size.Y, Z: (1.4*dice.Float64() - 0.2) * size.Z})
		want := math.Inf(1)
		for _, n := range m.Triangles {
			tri := sdf.Triangle3{v3.Vec(m.Vertices[n[0]]), v3.Vec(m.Vertices[n[1]]), v3.Vec(m.Vertices[n[2]])}
			want = min(want, byCorners(tri, p))
		}
		near(t, "distance", distance(p), want, 1e-6)
	}
}

// byCorners is the distance from p to a triangle by steepest descent over its barycentric
// coordinates, coarse to fine: slow, and of another kind than what is tested.
func byCorners(c sdf.Triangle3, p r3.Vec) float64 {
	at := func(u, v float64) float64 {
		q := r3.Add(r3.Vec(c[0]), r3.Add(r3.Scale(u, r3.Sub(r3.Vec(c[1]), r3.Vec(c[0]))), r3.Scale(v, r3.Sub(r3.Vec(c[2]), r3.Vec(c[0])))))
		return r3.Norm(r3.Sub(p, q))
	}
	u, v := 1./3, 1./3
	best := at(u, v)
	for step := 0.5; step > 1e-9; {
		better := false
		for _, d := range [...][2]float64{{1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, -1}, {-1, 1}, {1, 1}, {-1, -1}, {2, -1}, {-1, 2}, {-2, 1}, {1, -2}} {
			a, b := u+step*d[0], v+step*d[1]
			if a < 0 || b < 0 || a+b > 1 {
				continue
			}
			if z := at(a, b); z < best {
				u, v, best, better = a, b, z, true
			}
		}
		if !better {
			step /= 2
		}
	}
	return best
}
