package crew_test

import (
	"runtime"
	"sync/atomic"
	"testing"

	"formbuck/mesh/crew"
)

func TestEach(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	for _, n := range []int{0, 1, 3, 1000} {
		for _, how := range []struct {
			name string
			do   func(n int, work func(i int))
		}{
			{"each", crew.Each},
			{"begin", func(n int, work func(i int)) { crew.Begin(n, work)() }},
		} {
			done := make([]atomic.Int32, n)
			how.do(n, func(i int) { done[i].Add(1) })
			for i := range done {
				if times := done[i].Load(); times != 1 {
					t.Errorf("%s of %d: %d was done %d times", how.name, n, i, times)
				}
			}
		}
	}
}

// TestStages has each stage find all of the one before it done.
func TestStages(t *testing.T) {
	for _, procs := range []int{1, 2, 4} {
		before := runtime.GOMAXPROCS(procs)
		var done [4]atomic.Int32
		count := func(n int) func() int { return func() int { return n } }
		stage := func(s, n int) crew.Stage {
			return crew.Stage{Count: count(n), Work: func(int) {
				if s > 0 && done[0].Load() != 100 || s > 2 && done[2].Load() != 7 {
					t.Errorf("%d processors: stage %d began too early", procs, s)
				}
				done[s].Add(1)
			}}
		}
		crew.Stages(stage(0, 100), stage(1, 0), stage(2, 7), crew.Things(func() { done[3].Add(1) }, func() { done[3].Add(1) }))
		for s, want := range []int32{100, 0, 7, 2} {
			if got := done[s].Load(); got != want {
				t.Errorf("%d processors: %d of stage %d done, want %d", procs, got, s, want)
			}
		}
		runtime.GOMAXPROCS(before)
	}
}

// TestBegin has the work wait for what is done after it has begun.
func TestBegin(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	goOn, got := make(chan int), 0
	finish := crew.Begin(1, func(int) { got = <-goOn })
	goOn <- 1
	finish()
	if got != 1 {
		t.Errorf("got %d", got)
	}
}

// TestAll has two things wait for each other, which they could not do one after the other.
func TestAll(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(2))
	there, back := make(chan int), make(chan int)
	got := 0
	crew.All(func() { there <- 1; got = <-back }, func() { back <- <-there + 1 })
	if got != 2 {
		t.Errorf("got %d", got)
	}
}
