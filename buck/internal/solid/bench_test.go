package solid_test

import (
	"math"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/solid"
	"formbuck/buck/pieces"
	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r2"
)

// BenchmarkPieces meshes and checks each piece of the test knife at 0.01 mm.
func BenchmarkPieces(b *testing.B) {
	k := bucktest.Knife(b, bucktest.Hunter(), bucktest.Spec())
	st, err := pieces.NewStandoff(k)
	if err != nil {
		b.Fatal(err)
	}
	spec := bucktest.Spec()
	spec.Standoff.Y = 8 // on the flat above the grind line
	flat := bucktest.Knife(b, bucktest.Strip(), spec)
	onFlat, err := pieces.NewStandoff(flat)
	if err != nil {
		b.Fatal(err)
	}
	ramps, err := pieces.NewRamps(pieces.NewDraw(k))
	if err != nil {
		b.Fatal(err)
	}
	drain, err := pieces.NewDrain(k)
	if err != nil {
		b.Fatal(err)
	}
	for _, bench := range []struct {
		name string
		mesh func() (*mesh.Mesh, error)
	}{
		{"standoff", func() (*mesh.Mesh, error) { return solid.Standoff(st, 0) }},
		{"standoff-on-flat", func() (*mesh.Mesh, error) { return solid.Standoff(onFlat, 0) }},
		{"ramp", func() (*mesh.Mesh, error) { return solid.Ramp(ramps.Bossed[0], 0) }},
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

// boss is a mount boss 38 mm long, 14 mm wide and 9 mm high at its foot, with a draft of 5 degrees, an
// edge radius of 2 mm and two nubs of 120 degrees 19 mm apart, on a level face that none of the knife's lines cross.
func boss(t testing.TB) *pieces.StandoffPiece {
	k := bucktest.Knife(t, bucktest.Strip(), bucktest.Spec())
	const height, draft = 9, 5
	grow := height * math.Tan(draft*math.Pi/180)
	s := &pieces.StandoffPiece{
		Knife: k, DraftDeg: draft, EdgeRadius: 2, Gap: 0.1, TopZ: height + 1.7,
		Top: pieces.Pill{Centre: r2.Vec{X: 40, Y: 24 + 8}, Length: 38 - 2*grow, Width: 14 - 2*grow},
	}
	for _, x := range []float64{-9.5, 9.5} {
		s.Nubs = append(s.Nubs, pieces.NubPiece{
			Centre: s.Top.At(r2.Vec{X: x}), BaseZ: s.TopZ, Base: 5.35, AngleDeg: 120,
		})
	}
	return s
}

// gated meshes a body and puts it through the gate, again and again.
func gated(b *testing.B, body func() (*mesh.Mesh, error)) {
	n := 0
	for b.Loop() {
		m, err := body()
		if err == nil {
			m, err = mesh.Gate(m)
		}
		if err != nil {
			b.Fatal(err)
		}
		n = len(m.Triangles)
	}
	b.ReportMetric(float64(n), "triangles")
}

// BenchmarkBoss meshes a boss and puts it through the gate.
func BenchmarkBoss(b *testing.B) {
	s := boss(b)
	gated(b, func() (*mesh.Mesh, error) { return solid.Standoff(s, 0) })
}

// BenchmarkFullKnife meshes a whole knife of 220 mm by 35 mm at 0.02 mm and puts it through the gate.
func BenchmarkFullKnife(b *testing.B) {
	k := bucktest.Knife(b, bucktest.Full(), bucktest.Spec())
	gated(b, func() (*mesh.Mesh, error) { return solid.Knife(k, 0.02) })
}
