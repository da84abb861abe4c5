// Package sets joins numbers into sets, of which each is known by its lowest number.
package sets

import "sync/atomic"

// Forest is a union-find forest over the numbers from 0: what has been joined has one root.
type Forest []int32

// New makes n sets of one.
func New(n int) Forest {
	s := make(Forest, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

// Root is the lowest number of the set that holds i.
func (s Forest) Root(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// Join makes one set of two. The lower root stays, so that the result does not depend on the order.
func (s Forest) Join(i, j int32) {
	i, j = s.Root(i), s.Root(j)
	s[max(i, j)] = min(i, j)
}

// JoinShared is Join while others join too (after Anderson and Woll, "Wait-free parallel algorithms for
// the union-find problem", STOC 1991; from memory). A number only ever gets a lower one above it, so
// that no circle can come about.
func (s Forest) JoinShared(i, j int32) {
	for {
		i, j = s.rootShared(i), s.rootShared(j)
		if i == j || atomic.CompareAndSwapInt32(&s[max(i, j)], max(i, j), min(i, j)) {
			return
		}
	}
}

// rootShared is Root while others join; it may be out of date at once.
func (s Forest) rootShared(i int32) int32 {
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
