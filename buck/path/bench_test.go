package path_test

import (
	"fmt"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/path"

	"gonum.org/v1/gonum/spatial/r2"
)

// otter is the demo knife with a recurve, and the buck with all its pieces.
func otter(t testing.TB) path.Buck {
	t.Helper()
	v, plan := bucktest.Demo(t, "otter")
	b, err := path.Made(bucktest.Knife(t, plan, v.Spec), measures.Right)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// BenchmarkStudy computes all fields of both faces over 240 by 60 mm, which holds the whole knife.
func BenchmarkStudy(b *testing.B) {
	on := otter(b)
	box := r2.Box{Min: r2.Vec{X: -110, Y: -30}, Max: r2.Vec{X: 130, Y: 30}}
	for _, step := range []float64{0.4, 0.2, 0.1, 0.05} {
		b.Run(fmt.Sprintf("step=%g", step), func(b *testing.B) {
			cells := 0
			for b.Loop() {
				cells = path.New(on, path.Options{Step: step, Box: &box}).Knife.Cells()
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(cells), "ns/cell")
		})
	}
}
