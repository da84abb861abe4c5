package mesh_test

import (
	"math/rand/v2"
	"testing"

	"formbuck/mesh"
)

// TestCells compares the cells of random boxes with the boxes: those that meet meet as cells, those that are apart by more than
// rounding are apart.
func TestCells(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	all := [6]float32{-20, 3, 0, 180, 3.5, 0} // level: nothing is told by z
	random := func() (b [6]float32) {
		for k := range 2 {
			span := all[k+3] - all[k]
			low := all[k] + r.Float32()*span
			b[k], b[k+3] = low, min(all[k+3], low+r.Float32()*span/4)
		}
		return b
	}
	met := 0
	for range 100_000 {
		a, b := random(), random()
		if r.IntN(2) == 0 {
			b[r.IntN(2)] = a[r.IntN(2)+3] // a touch, maybe
			for k := range 2 {
				b[k] = max(all[k], min(b[k], b[k+3]))
			}
		}
		meet, apart := true, false
		for k := range 2 {
			little := 3 * (all[k+3] - all[k]) / (1 << 20)
			meet = meet && a[k] <= b[k+3] && b[k] <= a[k+3]
			apart = apart || a[k] > b[k+3]+little || b[k] > a[k+3]+little
		}
		got := mesh.CellsMeet(all, a, b)
		if meet && !got || apart && got {
			t.Fatalf("%v and %v: cells meet: %v, boxes: %v", a, b, got, meet)
		}
		if meet {
			met++
		}
	}
	if met < 1000 {
		t.Errorf("only %d pairs met", met)
	}
}
