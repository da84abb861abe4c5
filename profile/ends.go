package profile

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// ends finds which ends of strands lie near each other. End 2i is the start of strand i, 2i+1 its
// end.
type ends struct {
	at   []r2.Vec
	cell float64
	head []int32 // by hash of the cell, the last end added, -1: none
	next []int32 // the end added before in the same list
}

// newEnds prepares a search among points up to reach apart.
func newEnds(at []r2.Vec, use func(i int) bool, reach float64) *ends {
	size := 16
	for size < 2*len(at) {
		size *= 2
	}
	e := &ends{at: at, cell: reach, head: make([]int32, size), next: make([]int32, len(at))}
	for i := range e.head {
		e.head[i] = -1
	}
	for i, p := range at {
		if use(i) {
			h := e.hash(e.cellOf(p))
			e.next[i], e.head[h] = e.head[h], int32(i)
		}
	}
	return e
}

func (e *ends) cellOf(p r2.Vec) (x, y int64) {
	return int64(math.Floor(p.X / e.cell)), int64(math.Floor(p.Y / e.cell))
}

func (e *ends) hash(x, y int64) int {
	h := uint64(x)*0x9E3779B97F4A7C15 ^ uint64(y)*0xC2B2AE3D27D4EB4F
	h ^= h >> 29
	h *= 0xBF58476D1CE4E5B9
	return int((h >> 32) & uint64(len(e.head)-1))
}

// throng is at how many ends in the cells about one is looked.
const throng = 1000

// near calls visit for every other end within reach of end i, until it returns false or has been through a throng.
func (e *ends) near(i int, visit func(j int, d float64) bool) {
	left := throng
	x, y := e.cellOf(e.at[i])
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for j := e.head[e.hash(x+dx, y+dy)]; j >= 0; j = e.next[j] {
				if left--; left < 0 {
					return
				}
				if int(j) == i {
					continue
				}
				if cx, cy := e.cellOf(e.at[j]); cx != x+dx || cy != y+dy {
					continue // of another cell with the same hash
				}
				if d := r2.Norm(r2.Sub(e.at[j], e.at[i])); d <= e.cell && !visit(int(j), d) {
					return
				}
			}
		}
	}
}

// crowd is how many ends within reach of one are looked at; a clean joint has one.
const crowd = 16

// match is a pair of ends that may be joined.
type match struct {
	i, j int32
	d    float64
}

// exact is how near ends lie, in mm, that were drawn as one point.
const exact = 1e-4

// matchEnds pairs ends within the gap, nearest first, so that every pair is each other's nearest of
// what was left: first those that coincide, then, among the rest, those with a gap. It gives the
// partner of each end, -1 for none, and the ends that more than one other meets: branches. Short
// says of an end that its strand is shorter than the gap, so that what lies near may be its own row.
func matchEnds(at []r2.Vec, gap float64, short func(i int) bool) (partner []int32, branches []int) {
	partner = make([]int32, len(at))
	for i := range partner {
		partner[i] = -1
	}
	free := func(i int) bool { return partner[i] < 0 }
	for round, reach := range []float64{min(exact, gap), gap} {
		e := newEnds(at, free, reach)
		found := make([]match, 0, len(at)/2)
		for i := range at {
			if !free(i) {
				continue
			}
			n := 0
			if found, n = e.matches(found, i, short); n > 1 && round == 0 {
				branches = append(branches, i)
			}
		}
		slices.SortFunc(found, func(a, b match) int {
			return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.i, b.i), cmp.Compare(a.j, b.j))
		})
		for _, m := range found {
			if free(int(m.i)) && free(int(m.j)) {
				partner[m.i], partner[m.j] = m.j, m.i
			}
		}
	}
	return partner, append(branches, findBranches(at, gap, partner, short)...)
}

// matches adds the pairs of end i with later ones, and counts the ends of other rows that i has near.
func (e *ends) matches(found []match, i int, short func(i int) bool) ([]match, int) {
	seen, others := 0, 0
	e.near(i, func(j int, d float64) bool {
		if i < j {
			found = append(found, match{int32(i), int32(j), d})
		}
		if j != i^1 && !short(j) {
			others++
		}
		seen++
		return seen < crowd
	})
	return found, others
}

// findBranches finds free ends that lie with joined ones.
func findBranches(at []r2.Vec, gap float64, partner []int32, short func(i int) bool) (branches []int) {
	var all *ends
	for i, p := range partner {
		if p >= 0 {
			continue
		}
		if all == nil {
			all = newEnds(at, func(j int) bool { return partner[j] >= 0 }, gap)
		}
		all.near(i, func(j int, d float64) bool {
			if d <= sameWithin && j != i^1 || !short(i) && !short(j) {
				branches = append(branches, i)
				return false
			}
			return true
		})
	}
	return branches
}

// nearestFree is, for each listed end, the nearest other listed one within reach, and how far it is;
// -1 for none.
func nearestFree(at []r2.Vec, free []int, reach float64) (nearest []int, dist []float64) {
	listed := make([]bool, len(at))
	for _, i := range free {
		listed[i] = true
	}
	e := newEnds(at, func(i int) bool { return listed[i] }, reach)
	for _, i := range free {
		best, bestD := -1, math.Inf(1)
		n := 0
		e.near(i, func(j int, d float64) bool {
			if d < bestD {
				best, bestD = j, d
			}
			n++
			return n < 1000
		})
		nearest, dist = append(nearest, best), append(dist, bestD)
	}
	return nearest, dist
}
