package sets_test

import (
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"formbuck/mesh/sets"
)

// TestJoined joins numbers at random, one after the other and all at once, and compares the sets with those that are
// found by painting every number anew at every join.
func TestJoined(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		n := 1 + r.IntN(60)
		pairs := make([][2]int32, r.IntN(2*n))
		alone, shared, painted := sets.New(n), sets.New(n), sets.New(n)
		for i := range pairs {
			pairs[i] = [2]int32{r.Int32N(int32(n)), r.Int32N(int32(n))}
		}
		var wait sync.WaitGroup
		for _, p := range pairs {
			alone.Join(p[0], p[1])
			wait.Go(func() { shared.JoinShared(p[0], p[1]) })
			from, to := max(painted[p[0]], painted[p[1]]), min(painted[p[0]], painted[p[1]])
			for i, c := range painted {
				if c == from {
					painted[i] = to
				}
			}
		}
		wait.Wait()
		roots := func(f sets.Forest) (all []int32) {
			for i := range f {
				all = append(all, f.Root(int32(i)))
			}
			return all
		}
		if !slices.Equal(roots(alone), painted) || !slices.Equal(roots(shared), painted) {
			t.Fatalf("%v: %v, all at once %v, want %v", pairs, roots(alone), roots(shared), painted)
		}
	}
}
