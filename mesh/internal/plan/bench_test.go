package plan_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// rings are closed lines one inside the other, like those of a rounded edge, of n points each.
func rings(count, n int) [][]r2.Vec {
	list := make([][]r2.Vec, count)
	for i := range list {
		for k := range n {
			s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
			r := 1 - float64(i)/float64(2*count)
			list[i] = append(list[i], r2.Vec{X: 100 * r * c, Y: 20 * r * s})
		}
	}
	return list
}

// scatter are random points in a box.
func scatter(n int, w, h float64) []r2.Vec {
	rnd := rand.New(rand.NewPCG(1, 2))
	list := make([]r2.Vec, n)
	for i := range list {
		list[i] = r2.Vec{X: (rnd.Float64() - 0.5) * w, Y: (rnd.Float64() - 0.5) * h}
	}
	return list
}

// A plan of 2 000 constraint edges in ten rings, refined by 3 000 points in no order.
func BenchmarkPlan(b *testing.B) {
	lines, points := rings(10, 200), scatter(3000, 200, 40)
	b.ReportAllocs()
	for b.Loop() {
		tr, _ := plan.New(r2.NewBox(-100, -20, 100, 20))
		for _, l := range lines {
			if err := tr.AddLine(l, true); err != nil {
				b.Fatal(err)
			}
		}
		for _, p := range points {
			if _, err := tr.Insert(p); err != nil {
				b.Fatal(err)
			}
		}
		if n := len(tr.Triangles()); n < 9000 {
			b.Fatal(n)
		}
	}
}

// The lines come last, across 3 000 points in no order: every segment has edges to clear away.
func BenchmarkLinesLast(b *testing.B) {
	lines, points := rings(10, 200), scatter(3000, 200, 40)
	b.ReportAllocs()
	for b.Loop() {
		tr, _ := plan.New(r2.NewBox(-100, -20, 100, 20))
		for _, p := range points {
			if _, err := tr.Insert(p); err != nil {
				b.Fatal(err)
			}
		}
		for _, l := range lines {
			if err := tr.AddLine(l, true); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkInsert(b *testing.B) {
	for _, n := range []int{1000, 10000, 100000} {
		points := scatter(n, 200, 40)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				tr, _ := plan.New(r2.NewBox(-100, -20, 100, 20))
				for _, p := range points {
					if _, err := tr.Insert(p); err != nil {
						b.Fatal(err)
					}
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/point")
		})
	}
}

// 200 lines across each other: about 5 000 crossings.
func BenchmarkCrossings(b *testing.B) {
	points := scatter(400, 200, 40)
	for b.Loop() {
		tr, _ := plan.New(r2.NewBox(-100, -20, 100, 20))
		for i := 0; i < len(points); i += 2 {
			if err := tr.AddLine(points[i:i+2], false); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(tr.Len()), "points")
	}
}

func BenchmarkInCircle(b *testing.B) {
	yes := false
	for b.Loop() {
		yes = plan.InCircle([2]int32{0, 0}, [2]int32{100000, 20000}, [2]int32{50000, 80000}, [2]int32{100000, 80001}) != yes
	}
	if b.N > 1 && plan.Orient([2]int32{0, 0}, [2]int32{1, 0}, [2]int32{0, 1}) != 1 {
		b.Fatal(yes)
	}
}
