package batch

import (
	"container/heap"
	"slices"
)

// stages lets the loads that leave the presses run through drilling, splitting, trimming, finishing
// and riveting: whenever a machine or a person is free, the load that is due first goes on.
type stages struct {
	shop  *Shop
	todo  [][]stint      // of each load, after the press
	due   []int          // rank of each load's date
	free  []float64      // when each load leaves the press; 0: it was pressed before
	next  []int          // step of each load that is next
	wait  [places_][]int // loads that wait at a place
	idle  [places_][]int // machines that stand idle
	queue events
	slots []Slot
}

// event is that a load is ready for its next step, or, with done, that the machine of its step is free as well.
type event struct {
	time    float64
	load    int
	done    bool
	machine int
}

type events []event

func (e events) Len() int { return len(e) }
func (e events) Less(i, j int) bool {
	return e[i].time < e[j].time || e[i].time == e[j].time && e[i].load < e[j].load
}
func (e events) Swap(i, j int) { e[i], e[j] = e[j], e[i] }

// Push and Pop are for package heap.
func (e *events) Push(x any) { *e = append(*e, x.(event)) }

// Pop takes the last.
func (e *events) Pop() any {
	last := (*e)[len(*e)-1]
	*e = (*e)[:len(*e)-1]
	return last
}

// run gives the slots of the later steps of all loads.
func (s *stages) run() []Slot {
	for _, at := range []Place{AtMill, AtBench} {
		for m := range s.shop.Count(at) {
			s.idle[at] = append(s.idle[at], m)
		}
	}
	s.next = make([]int, len(s.todo))
	s.slots = make([]Slot, 0, len(s.todo)*len(Steps()))
	for n := range s.todo {
		heap.Push(&s.queue, event{time: s.free[n], load: n})
	}
	for s.queue.Len() > 0 {
		now := s.queue[0].time
		for s.queue.Len() > 0 && s.queue[0].time <= now+tiny {
			s.happen(heap.Pop(&s.queue).(event))
		}
		s.dispatch(AtMill, now)
		s.dispatch(AtBench, now)
	}
	return s.slots
}

// happen takes an event.
func (s *stages) happen(e event) {
	if e.done {
		at := s.todo[e.load][s.next[e.load]].step.Place()
		i, _ := slices.BinarySearch(s.idle[at], e.machine)
		s.idle[at] = slices.Insert(s.idle[at], i, e.machine)
		s.next[e.load]++
	}
	if steps := s.todo[e.load]; s.next[e.load] < len(steps) {
		at := steps[s.next[e.load]].step.Place()
		s.wait[at] = append(s.wait[at], e.load)
	}
}

// dispatch gives what waits at a place to the machines that stand idle there.
func (s *stages) dispatch(at Place, now float64) {
	for len(s.idle[at]) > 0 && len(s.wait[at]) > 0 {
		best := 0
		for i, n := range s.wait[at] {
			if s.before(n, s.wait[at][best]) {
				best = i
			}
		}
		n, machine := s.wait[at][best], s.idle[at][0]
		s.wait[at] = slices.Delete(s.wait[at], best, best+1)
		s.idle[at] = s.idle[at][1:]
		w := s.todo[n][s.next[n]]
		begin := s.shop.Day.within(now, w.minutes)
		s.slots = append(s.slots, Slot{Load: n, Step: w.step, Machine: machine, Begin: begin, End: begin + w.minutes})
		heap.Push(&s.queue, event{time: begin + w.minutes, load: n, done: true, machine: machine})
	}
}

// before tells whether load a goes before load b: due first, then further along, then in the order
// of the list.
func (s *stages) before(a, b int) bool {
	switch {
	case s.due[a] != s.due[b]:
		return s.due[a] < s.due[b]
	case s.next[a] != s.next[b]:
		return s.next[a] > s.next[b]
	default:
		return a < b
	}
}

// ranks are the places of the loads' dates among all dates, none last.
func ranks(loads []*Load) []int {
	var days []Day
	for _, l := range loads {
		days = append(days, l.Due)
	}
	slices.SortFunc(days, compareDue)
	days = slices.Compact(days)
	out := make([]int, len(loads))
	for n, l := range loads {
		out[n], _ = slices.BinarySearchFunc(days, l.Due, compareDue)
	}
	return out
}

// compareDue puts the earlier date first, and none last.
func compareDue(a, b Day) int {
	switch {
	case a.None() && b.None():
		return 0
	case a.None():
		return 1
	case b.None():
		return -1
	default:
		return a.t.Compare(b.t)
	}
}
