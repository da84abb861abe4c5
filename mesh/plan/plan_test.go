package plan_test

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
)

func TestRandomPoints(t *testing.T) {
	for seed := range uint64(20) {
		rnd := rand.New(rand.NewPCG(seed, 1))
		size := []int{10, 1000, 1e6, 1e9}[seed%4]
		tr := cover(t, size)
		for range 500 {
			if _, err := tr.Insert(mm(rnd.IntN(2*size)-size, rnd.IntN(2*size)-size)); err != nil {
				t.Fatal(err)
			}
		}
		verify(t, tr)
	}
}

// Segments between random points, on grids so small that most of them meet in the same few points and on wide ones.
func TestRandomLines(t *testing.T) {
	for seed := range uint64(200) {
		rnd := rand.New(rand.NewPCG(seed, 2))
		size := []int{3, 5, 10, 30, 100, 1000, 1e6, 1e9}[seed%8]
		tr := cover(t, size)
		pick := func() r2.Vec { return mm(rnd.IntN(2*size)-size, rnd.IntN(2*size)-size) }
		var lines [][2]r2.Vec
		for range 60 {
			l := [2]r2.Vec{pick(), pick()}
			lines = append(lines, l)
			if err := tr.AddLine(l[:], false); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
		}
		s := verify(t, tr)
		for _, l := range lines {
			s.verifyLine(t, grid(l[0]), grid(l[1]), 2)
		}
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}
