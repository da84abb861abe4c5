package flow_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"formbuck/buck/internal/flow"
)

// best is the least figure over all orders of n tasks.
func best(n int, figure func([]int) float64) float64 {
	least := math.Inf(1)
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	var permute func(int)
	permute = func(k int) {
		if k == n {
			least = min(least, figure(order))
			return
		}
		for i := k; i < n; i++ {
			order[k], order[i] = order[i], order[k]
			permute(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	permute(0)
	return least
}

// Heats of 2 to 4.5 minutes, presses of 5 to 10, worked by hand: where no heat is longer than any
// press, the press stands still for the first heat only, so 2.0 + 43 = 45.
func TestNoWaitPress(t *testing.T) {
	heats, presses := []float64{2.5, 3.5, 2.5, 4.5, 3.5, 2.0}, []float64{6, 8, 6, 10, 8, 5}
	var tasks []flow.Task
	for i := range heats {
		tasks = append(tasks, flow.Task{First: heats[i], Second: presses[i]})
	}
	if got := flow.NoWaitMakespan(tasks, flow.NoWait(tasks)); math.Abs(got-45) > 1e-9 {
		t.Errorf("done after %g, want 45", got)
	}
}

// random are small cases: whole minutes, so that many are equal, or any.
func random(rng *rand.Rand, n int) []flow.Task {
	tasks := make([]flow.Task, n)
	whole := rng.IntN(2) == 0
	for i := range tasks {
		tasks[i] = flow.Task{First: rng.Float64() * 12, Second: rng.Float64() * 12}
		if whole {
			tasks[i] = flow.Task{First: float64(rng.IntN(8)), Second: float64(rng.IntN(8))}
		}
	}
	return tasks
}

func TestAgainstAllOrders(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1964))
	for range 400 {
		tasks := random(rng, 1+rng.IntN(7))
		order := flow.NoWait(tasks)
		sorted := slices.Sorted(slices.Values(order))
		for i, n := range sorted {
			if i != n || len(sorted) != len(tasks) {
				t.Fatalf("%v is not an order of %d tasks", order, len(tasks))
			}
		}
		got := flow.NoWaitMakespan(tasks, order)
		want := best(len(tasks), func(o []int) float64 { return flow.NoWaitMakespan(tasks, o) })
		if got > want+1e-9 {
			t.Errorf("%v is done after %g, the best order after %g", tasks, got, want)
		}
	}
}

// TestStarts checks that no task waits and no machine does two things at once.
func TestStarts(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	for range 100 {
		tasks := random(rng, 8)
		order := flow.NoWait(tasks)
		starts := flow.Starts(tasks, order)
		for i := 1; i < len(order); i++ {
			a, b := tasks[order[i-1]], tasks[order[i]]
			heated, pressed := starts[i]-(starts[i-1]+a.First), starts[i]+b.First-(starts[i-1]+a.First+a.Second)
			if heated < -1e-9 || pressed < -1e-9 || min(heated, pressed) > 1e-9 {
				t.Fatalf("task %d starts %g after the first machine is free and %g after the second", i, heated, pressed)
			}
		}
	}
}
