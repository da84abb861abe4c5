// Package crew does numbered pieces of work side by side, on as many processors as there are.
package crew

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Each calls work for 0 to n-1, in no set order and several at once, and returns when all are done.
func Each(n int, work func(i int)) { begin(n, n-1, work)() }

// All does some things at once.
func All(things ...func()) {
	Each(len(things), func(i int) { things[i]() })
}

// Begin is Each in the background, on the processors that are left: finish, which must be called, does what is not done yet and returns
// when all is.
func Begin(n int, work func(i int)) (finish func()) { return begin(n, n, work) }

func begin(n, helpers int, work func(i int)) (finish func()) {
	var next atomic.Int64
	some := func() {
		for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
			work(i)
		}
	}
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0)-1, helpers) {
		group.Go(some)
	}
	return func() {
		some()
		group.Wait()
	}
}
