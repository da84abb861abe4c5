package twin_test

import (
	"testing"
	"time"

	"formbuck/buck"
	"formbuck/buck/solid"
	"formbuck/buck/twin"
	"formbuck/mesh"

	"github.com/deadsy/sdfx/sdf"
)

// piece is one piece with its twin, and how it is meshed.
type piece struct {
	name string
	mesh func(tol float64) (*mesh.Mesh, error)
	twin sdf.SDF3
}

// bodies are the pieces of a knife that are made of standard bodies: standoff, drain insert and nub.
func bodies(t testing.TB, k *buck.Knife) []piece {
	t.Helper()
	s, err := buck.NewStandoff(k)
	if err != nil {
		t.Fatal(err)
	}
	d, err := buck.NewDrain(k)
	if err != nil {
		t.Fatal(err)
	}
	n, err := buck.NewNub(k)
	if err != nil {
		t.Fatal(err)
	}
	made := func(b sdf.SDF3, err error) sdf.SDF3 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	return []piece{
		{"standoff", func(tol float64) (*mesh.Mesh, error) { return solid.Standoff(s, tol) }, made(twin.Standoff(s))},
		{"drain", func(tol float64) (*mesh.Mesh, error) { return solid.Drain(d, tol) }, made(twin.Drain(d))},
		{"nub", func(tol float64) (*mesh.Mesh, error) { return solid.Nub(n, tol) }, made(twin.Nub(n))},
	}
}

// measured is the deviation of a piece meshed within tol.
func measured(t testing.TB, p piece, tol float64) twin.Deviation {
	t.Helper()
	m, err := p.mesh(tol)
	if err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	d, err := twin.Measure(m, p.twin, twin.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%s within %.3g: %d triangles; from mesh %.5f at %.3f (own bound %.5f, %d points), from twin %.5f at %.3f (%d points); %v",
		p.name, tol, len(m.Triangles), d.FromMesh.Distance, d.FromMesh.At, d.Bound, d.OnMesh, d.FromTwin.Distance, d.FromTwin.At, d.OnTwin, time.Since(start).Round(time.Millisecond))
	return d
}

func TestPiecesAreWithinToleranceOfTheirTwins(t *testing.T) {
	for name, k := range knives(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for _, p := range bodies(t, k) {
				if d := measured(t, p, solid.Tolerance); !(d.Worst() <= solid.Tolerance) {
					t.Errorf("%s: %.5f mm from its twin", p.name, d.Worst())
				}
			}
		})
	}
}
