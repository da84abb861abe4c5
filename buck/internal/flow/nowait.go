package flow

import (
	"cmp"
	"slices"
)

// NoWait is an order with the least [NoWaitMakespan] (Gilmore & Gomory, "Sequencing a One
// State-Variable Machine: A Solvable Case of the Traveling Salesman Problem", Operations Research
// 12, 1964; the steps from memory, the result held to trying all orders by the tests).
//
// From task i to task j the makespan grows by the longer of Second of i and First of j, and a task
// without times stands for the beginning and the end: what is sought is the shortest round trip over
// all of them. Matching the shortest Second with the shortest First, the next with the next and so
// on is the cheapest way to give each task a follower, but it may fall into several rounds. They are
// joined by exchanging followers of neighbours in the order of Second, each join as cheap as can be,
// and the exchanges done in the one sequence in which their costs do not add to each other's.
func NoWait(tasks []Task) []int {
	if len(tasks) == 0 {
		return nil
	}
	t := newTrip(tasks)
	t.exchange(t.joins())
	order := make([]int, 0, len(tasks))
	for n := t.follow(0); n != 0; n = t.follow(n) {
		order = append(order, n-1)
	}
	return order
}

// trip gives every task its follower. Task 0 is the one without times, task n+1 the n-th given.
type trip struct {
	all  []Task
	rank []int // tasks by rising Second
	at   []int // and where each stands there
	next []int // by rank: the follower
}

func newTrip(tasks []Task) *trip {
	t := &trip{all: append([]Task{{}}, tasks...)}
	byFirst := make([]int, len(t.all))
	for n := range byFirst {
		byFirst[n] = n
	}
	t.rank, t.at = slices.Clone(byFirst), make([]int, len(t.all))
	slices.SortStableFunc(t.rank, func(a, b int) int { return cmp.Compare(t.all[a].Second, t.all[b].Second) })
	slices.SortStableFunc(byFirst, func(a, b int) int { return cmp.Compare(t.all[a].First, t.all[b].First) })
	t.next = byFirst
	for r, n := range t.rank {
		t.at[n] = r
	}
	return t
}

// follow is the task after n.
func (t *trip) follow(n int) int { return t.next[t.at[n]] }

// leaves and enters are the times between which the step after the task of rank r is made.
func (t *trip) leaves(r int) float64 { return t.all[t.rank[r]].Second }
func (t *trip) enters(r int) float64 { return t.all[t.next[r]].First }

// cost is what exchanging the followers of ranks r and r+1 adds: the overlap of the two intervals.
func (t *trip) cost(r int) float64 {
	return max(0, min(t.leaves(r+1), t.enters(r+1))-max(t.leaves(r), t.enters(r)))
}

// joins are the exchanges, by the lower rank, that make one round of all at the least cost.
func (t *trip) joins() []int {
	round := t.rounds()
	ranks := make([]int, len(t.rank)-1)
	for r := range ranks {
		ranks[r] = r
	}
	slices.SortStableFunc(ranks, func(a, b int) int { return cmp.Compare(t.cost(a), t.cost(b)) })
	var joins []int
	for _, r := range ranks {
		a, b := round[t.rank[r]], round[t.rank[r+1]]
		if a == b {
			continue
		}
		joins = append(joins, r)
		for n := range round {
			if round[n] == b {
				round[n] = a
			}
		}
	}
	return joins
}

// rounds tells for every task which round it is in.
func (t *trip) rounds() []int {
	round := make([]int, len(t.all))
	for start := range round {
		for n := start; round[n] == 0; n = t.follow(n) {
			round[n] = start + 1
		}
	}
	return round
}

// exchange makes the joins: first, from the highest rank down, those whose lower task is left before its
// follower is entered, then the others from the lowest up. Each exchanges the followers as the
// earlier ones left them.
func (t *trip) exchange(joins []int) {
	var down, up []int
	for _, r := range joins {
		if t.leaves(r) <= t.enters(r) {
			down = append(down, r)
		} else {
			up = append(up, r)
		}
	}
	slices.Sort(down)
	slices.Reverse(down)
	slices.Sort(up)
	for _, r := range append(down, up...) {
		t.next[r], t.next[r+1] = t.next[r+1], t.next[r]
	}
}
