package mesh

import "sync/atomic"

// sets is a union-find forest over the numbers from 0: what has been joined has one root.
type sets []int32

// newSets makes n sets of one.
func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

// root is the lowest number of the set that holds i.
func (s sets) root(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join makes one set of two. The lower root stays, so that the result does not depend on the order.
func (s sets) join(i, j int32) {
	i, j = s.root(i), s.root(j)
	s[max(i, j)] = min(i, j)
}

// joinShared is join while others join too (after Anderson and Woll, "Wait-free parallel algorithms for
// the union-find problem", STOC 1991; from memory). A number only ever gets a lower one above it, so
// that no circle can come about.
func (s sets) joinShared(i, j int32) {
	for {
		i, j = s.rootShared(i), s.rootShared(j)
		if i == j || atomic.CompareAndSwapInt32(&s[max(i, j)], max(i, j), min(i, j)) {
			return
		}
	}
}

// rootShared is root while others join; it may be out of date at once.
func (s sets) rootShared(i int32) int32 {
	for {
		up := atomic.LoadInt32(&s[i])
		if up == i {
			return i
		}
		top := atomic.LoadInt32(&s[up])
		if top != up {
			atomic.CompareAndSwapInt32(&s[i], up, top)
		}
		i = up
	}
}
