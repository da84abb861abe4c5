package twin_test

import (
	"math"
	"slices"
	"testing"

	"formbuck/buck/internal/solid"
	"formbuck/buck/internal/twin"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/testdata/size"

	"github.com/deadsy/sdfx/sdf"
	"gonum.org/v1/gonum/spatial/r3"
)

// piece is one piece with its twin, and how it is meshed.
type piece struct {
	name string
	mesh func(tol float64) (*mesh.Mesh, error)
	twin sdf.SDF3
}

// bodies are the pieces of a knife that are made of standard bodies, made once: standoff, drain insert and nub.
func bodies(t testing.TB, k *pieces.Buck) []piece {
	t.Helper()
	made.Lock()
	defer made.Unlock()
	if made.bodies == nil {
		made.bodies = map[*pieces.Buck][]piece{}
	}
	if made.bodies[k] == nil {
		made.bodies[k] = newBodies(t, k)
	}
	return slices.Clone(made.bodies[k])
}

func newBodies(t testing.TB, k *pieces.Buck) []piece {
	t.Helper()
	s, err := pieces.NewStandoff(k)
	if err != nil {
		t.Fatal(err)
	}
	d, err := pieces.NewDrain(k)
	if err != nil {
		t.Fatal(err)
	}
	n, err := pieces.NewNub(k)
	if err != nil {
		t.Fatal(err)
	}
	must := func(b sdf.SDF3, err error) sdf.SDF3 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	return []piece{
		{"standoff", func(tol float64) (*mesh.Mesh, error) { return solid.Standoff(s, tol) }, must(twin.Standoff(s))},
		{"drain", func(tol float64) (*mesh.Mesh, error) { return solid.Drain(d, tol) }, must(twin.Drain(d))},
		{"nub", func(tol float64) (*mesh.Mesh, error) { return solid.Nub(n, tol) }, must(twin.Nub(n))},
	}
}

// measured is the deviation of a piece meshed within tol.
func measured(t testing.TB, p piece, tol, step float64) twin.Deviation {
	t.Helper()
	m, err := p.mesh(tol)
	if err != nil {
		t.Fatal(err)
	}
	d, err := twin.Measure(m, p.twin, twin.Options{Step: step})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%s within %.3g mm: %d triangles; from mesh %.5f at %.3f, from twin %.5f at %.3f; %d and %d points",
		p.name, tol, len(m.Triangles), d.FromMesh.Distance, d.FromMesh.At, d.FromTwin.Distance, d.FromTwin.At, d.OnMesh, d.OnTwin)
	return d
}

func TestPiecesAreWithinToleranceOfTheirTwins(t *testing.T) {
	for name, k := range everyKnife(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for _, p := range bodies(t, k) {
				if d := measured(t, p, solid.Tolerance, 1); !(d.Worst() <= solid.Tolerance) {
					t.Errorf("%s: %.5f mm from its twin", p.name, d.Worst())
				}
			}
		})
	}
}

// A mesh ten times finer must be about ten times closer.
func TestFinerMeshesAreCloser(t *testing.T) {
	size.Long(t)
	t.Parallel()
	for _, p := range bodies(t, hunter(t)) {
		coarse, middle, fine := measured(t, p, 0.1, 1).Worst(), measured(t, p, 0.03, 1).Worst(), measured(t, p, 0.01, 1).Worst()
		if !(coarse <= 0.1 && fine <= 0.01) {
			t.Errorf("%s: %.5f mm within 0.1, %.5f mm within 0.01", p.name, coarse, fine)
		}
		if !(fine < middle && middle < coarse && fine < coarse/5) {
			t.Errorf("%s: %.5f, %.5f, %.5f mm within 0.1, 0.03, 0.01", p.name, coarse, middle, fine)
		}
	}
}

// The difference of two volumes is at most the surface times what lies between them.
func TestVolumesAgree(t *testing.T) {
	size.Long(t)
	for name, k := range everyKnife(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for _, p := range bodies(t, k) {
				m, err := p.mesh(0)
				if err != nil {
					t.Fatal(err)
				}
				b := m.Bounds()
				edge := r3.Vec{X: 0.1, Y: 0.1, Z: 0.1}
				want, sigma := twin.Volume(p.twin, r3.Box{Min: r3.Sub(b.Min, edge), Max: r3.Add(b.Max, edge)}, math.Cbrt(m.Volume())/16)
				t.Logf("%s: mesh %.2f mm3, twin %.2f +- %.2f", p.name, m.Volume(), want, sigma)
				if !(math.Abs(m.Volume()-want) <= 4*sigma+solid.Tolerance*m.Area()) {
					t.Errorf("%s: mesh %.2f mm3, twin %.2f +- %.2f", p.name, m.Volume(), want, sigma)
				}
			}
		})
	}
}
