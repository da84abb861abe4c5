package profile_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestWalk compares a walk in small steps, and now and then a leap, with asking for each of its points alone.
func TestWalk(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 8))
	point := func() r2.Vec { return r2.Vec{X: 100 * r.Float64(), Y: 40 * r.Float64()} }
	for range 50 {
		var p profile.Path
		for a := point(); len(p) < 1+r.IntN(30); {
			s := profile.Segment{A: a, B: point(), Bulge: r.NormFloat64() / 2}
			if r.IntN(2) == 0 {
				s.Bulge = 0
			}
			p, a = append(p, s), s.B
		}
		near := profile.NewNear(p)
		walk := near.Walk()
		q, step := point(), r2.Vec{}
		for n := range 400 {
			if n%60 == 0 {
				q, step = point(), r2.Vec{X: r.NormFloat64() / 4, Y: r.NormFloat64() / 4}
			}
			q = r2.Add(q, step)
			if _, want := near.Nearest(q); walk.Distance(q) != want {
				t.Fatalf("%v of %v: %g, alone %g", q, p, walk.Distance(q), want)
			}
		}
	}
	none := profile.NewNear(nil).Walk()
	if d := none.Distance(r2.Vec{}); !math.IsInf(d, 1) {
		t.Errorf("an empty path is %g away", d)
	}
}
