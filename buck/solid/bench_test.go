package solid_test

import (
	"testing"

	"formbuck/buck"
	"formbuck/buck/bucktest"
	"formbuck/buck/solid"
	"formbuck/mesh"
)

// BenchmarkPieces meshes and checks each piece of the test knife at 0.01 mm.
func BenchmarkPieces(b *testing.B) {
	k := bucktest.Knife(b, bucktest.Hunter(), bucktest.Spec())
	flat := bucktest.Knife(b, bucktest.Strip(), bucktest.Spec())
	st, err := buck.NewStandoff(k)
	if err != nil {
		b.Fatal(err)
	}
	spec := bucktest.Spec()
	spec.Standoff.Y = 8 // on the flat above the grind line
	flat = bucktest.Knife(b, bucktest.Strip(), spec)
	onFlat, err := buck.NewStandoff(flat)
	if err != nil {
		b.Fatal(err)
	}
	ramps, err := buck.NewRamps(buck.NewDraw(k))
	if err != nil {
		b.Fatal(err)
	}
	drain, err := buck.NewDrain(k)
	if err != nil {
		b.Fatal(err)
	}
	for _, bench := range []struct {
		name string
		mesh func() (*mesh.Mesh, error)
	}{
		{"standoff", func() (*mesh.Mesh, error) { return solid.Standoff(st, 0) }},
		{"standoff-on-flat", func() (*mesh.Mesh, error) { return solid.Standoff(onFlat, 0) }},
		{"ramp", func() (*mesh.Mesh, error) { return solid.Ramp(ramps[0], 0) }},
		{"drain", func() (*mesh.Mesh, error) { return solid.Drain(drain, 0) }},
		{"knife", func() (*mesh.Mesh, error) { return solid.Knife(k, 0.02) }},
	} {
		b.Run(bench.name, func(b *testing.B) {
			n := 0
			for b.Loop() {
				m, err := bench.mesh()
				if err != nil {
					b.Fatal(err)
				}
				n = len(m.Triangles)
			}
			b.ReportMetric(float64(n), "triangles")
		})
	}
}
