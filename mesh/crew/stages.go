package crew

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Stage is so many pieces of work. Count is asked once, when all stages before it are done.
type Stage struct {
	Count func() int
	Work  func(i int)
}

// Things are a stage of some things.
func Things(things ...func()) Stage {
	return Stage{Count: func() int { return len(things) }, Work: func(i int) { things[i]() }}
}

// Stages does one stage after the other, the work of each as Each does. Who has nothing left to do in a stage waits awake for the
// next: to wake up again can take longer than the stage does. So it is for short stages, with work for all.
func Stages(stages ...Stage) {
	r := &relay{stages: stages, legs: make([]leg, len(stages))}
	r.start(0)
	var group sync.WaitGroup
	for range runtime.GOMAXPROCS(0) - 1 {
		group.Go(r.run)
	}
	r.run()
	group.Wait()
}

// relay is a run through stages.
type relay struct {
	stages []Stage
	legs   []leg
	at     atomic.Int32 // the stage that is being done
}

// leg is how far a stage has come.
type leg struct {
	count      int64
	next, left atomic.Int64
}

// start begins a stage, or the next one with any work.
func (r *relay) start(s int) {
	for ; s < len(r.stages); s++ {
		l := &r.legs[s]
		l.count = int64(r.stages[s].Count())
		l.left.Store(l.count)
		if l.count > 0 {
			break
		}
	}
	r.at.Store(int32(s))
}

// run takes part in every stage.
func (r *relay) run() {
	for s := range r.stages {
		for int(r.at.Load()) < s {
			runtime.Gosched()
		}
		if int(r.at.Load()) > s {
			continue
		}
		l := &r.legs[s]
		for i := l.next.Add(1) - 1; i < l.count; i = l.next.Add(1) - 1 {
			r.stages[s].Work(int(i))
			if l.left.Add(-1) == 0 {
				r.start(s + 1)
			}
		}
	}
}
