package batch

import (
	"cmp"
	"math"
	"slices"

	"formbuck/buck/internal/flow"
)

// Schedule is the loads in their time.
type Schedule struct {
	Slots   []Slot    // by step, each in the order of time
	Ready   []float64 // when each order's last sheath is done; minutes of working time from the start
	Minutes float64   // when all is done
	Pressed float64   // when the last load leaves the press
	Use     []Use     // of each kind of place
}

// InTime are the slots in the order of time, those that begin at once in the order of their loads.
func (s *Schedule) InTime() []Slot {
	slots := slices.Clone(s.Slots)
	slices.SortStableFunc(slots, func(a, b Slot) int { return cmp.Or(cmp.Compare(a.Begin, b.Begin), cmp.Compare(a.Load, b.Load)) })
	return slots
}

// Use is how busy a kind of place is.
type Use struct {
	Place string
	Count int
	Busy  float64 // minutes, over all of that kind
	Share float64 // of the time until all is done
}

// scheduler looks for a good order of the loads.
type scheduler struct {
	shop   *Shop
	loads  []*Load
	orders int
	start  Day // zero: nobody is late
	copies func(Key) int
	due    []int     // rank of each load's date
	todo   [][]stint // of each load, after the press
	dates  []Day     // of the working days that were asked for

	begin [][]int // an order to begin from beside the usual ones
	share int     // the share of the usual tries that are made is one in so many
}

// score is what orders are compared by: first the working days by which orders are late, summed,
// then when all is pressed, then when all is done.
type score struct{ late, pressed, done float64 }

func (a score) better(b score) bool {
	const least = 1e-6
	switch {
	case math.Abs(a.late-b.late) > least:
		return a.late < b.late
	case math.Abs(a.pressed-b.pressed) > least:
		return a.pressed < b.pressed
	default:
		return a.done < b.done-least
	}
}

// simulate is the schedule that an order of the loads comes to.
func (s *scheduler) simulate(order []int) *Schedule {
	f := newFloor(s.shop, s.copies)
	heats, presses := make([]Slot, 0, len(order)), make([]Slot, 0, len(order))
	st := &stages{shop: s.shop, todo: s.todo, due: s.due, free: make([]float64, len(s.loads))}
	for _, n := range order {
		if s.loads[n].Did(Pressing) {
			continue
		}
		heat, press := f.put(n, s.loads[n])
		heats, presses = append(heats, heat), append(presses, press)
		st.free[n] = press.End
	}
	later := st.run()
	out := &Schedule{Slots: slices.Concat(heats, presses, later), Ready: make([]float64, s.orders)}
	for _, slot := range out.Slots {
		o := s.loads[slot.Load].Order
		out.Ready[o] = max(out.Ready[o], slot.End)
		out.Minutes = max(out.Minutes, slot.End)
		if slot.Step == Pressing {
			out.Pressed = max(out.Pressed, slot.End)
		}
	}
	return out
}

// score is what a schedule is worth.
func (s *scheduler) score(out *Schedule) score {
	sc := score{pressed: out.Pressed, done: out.Minutes}
	if s.start.None() {
		return sc
	}
	seen := make([]bool, s.orders)
	for _, l := range s.loads {
		if !seen[l.Order] && !l.Due.None() {
			seen[l.Order] = true
			sc.late += float64(s.lateBy(out.Ready[l.Order], l.Due))
		}
	}
	return sc
}

// dayOf is the working day on which a moment lies, from 0; a moment that ends a day is of that day.
func (h Hours) dayOf(t float64) int { return max(0, int(math.Ceil(t/h.Minutes-tiny))-1) }

// lateBy is how many working days after its date something is ready.
func (s *scheduler) lateBy(ready float64, due Day) int {
	late := 0
	for day := s.shop.Day.dayOf(ready); day >= 0 && due.Before(s.date(day)); day-- {
		late++
	}
	return late
}

// date is that of a working day.
func (s *scheduler) date(day int) Day {
	for len(s.dates) <= day {
		s.dates = append(s.dates, s.start.After(len(s.dates)))
	}
	return s.dates[day]
}

// best looks for the order: from several beginnings, the best is bettered by moving runs of loads
// over one buck to other places for as long as that helps.
func (s *scheduler) best() (*Schedule, []int) {
	var best *Schedule
	var order []int
	for _, begin := range append(s.beginnings(), s.begin...) {
		out := s.simulate(begin)
		if best == nil || s.score(out).better(s.score(best)) {
			best, order = out, begin
		}
	}
	if best == nil {
		return &Schedule{}, nil
	}
	best, order = s.improve(best, order)
	s.use(best)
	return best, order
}

// beginnings are orders to begin from: by bucks, then colours, the bucks by date; the same with the
// gauges kept together; all by date; and as would be best if nothing had to be changed.
func (s *scheduler) beginnings() [][]int {
	first := make(map[Key]Day) // the first date of each buck
	gauge := make(map[float64]Day)
	for _, l := range s.loads {
		if d, known := first[l.Article.Key]; !known || compareDue(l.Due, d) < 0 {
			first[l.Article.Key] = l.Due
		}
		if d, known := gauge[l.Article.Gauge]; !known || compareDue(l.Due, d) < 0 {
			gauge[l.Article.Gauge] = l.Due
		}
	}
	byKey := func(a, b *Load) int {
		x, y := a.Article.Key, b.Article.Key
		return cmp.Or(
			compareDue(first[x], first[y]), cmp.Compare(x.Gauge, y.Gauge), cmp.Compare(x.Variant, y.Variant),
			cmp.Compare(x.Hand, y.Hand), cmp.Compare(a.Colour, b.Colour), compareDue(a.Due, b.Due),
		)
	}
	sorted := func(rule func(a, b *Load) int) []int {
		order := make([]int, len(s.loads))
		for n := range order {
			order[n] = n
		}
		slices.SortStableFunc(order, func(a, b int) int { return rule(s.loads[a], s.loads[b]) })
		return order
	}
	tasks := make([]flow.Task, len(s.loads))
	for n, l := range s.loads {
		tasks[n] = flow.Task{First: l.heat(s.shop), Second: s.shop.Press.Minutes}
	}
	return [][]int{
		sorted(byKey),
		sorted(func(a, b *Load) int {
			x, y := a.Article.Gauge, b.Article.Gauge
			return cmp.Or(compareDue(gauge[x], gauge[y]), cmp.Compare(x, y), byKey(a, b))
		}),
		sorted(func(a, b *Load) int { return cmp.Or(compareDue(a.Due, b.Due), byKey(a, b)) }),
		flow.NoWait(tasks),
	}
}

// tries is how many orders are looked at: fewer of long ones, so that a plan takes a second at most.
func (s *scheduler) tries() int {
	return max(60, 100_000/(len(s.loads)+1)/(len(s.loads)/20+1)) / max(s.share, 1)
}

// improve moves runs of loads over the same buck with the same colour.
func (s *scheduler) improve(best *Schedule, order []int) (*Schedule, []int) {
	for left := s.tries(); left > 0; {
		runs := s.runs(order)
		better := false
		for from := range runs {
			for to := range runs {
				if from == to || left == 0 {
					continue
				}
				left--
				moved := slices.Clone(runs)
				run := moved[from]
				moved = slices.Insert(slices.Delete(moved, from, from+1), to, run)
				next := slices.Concat(moved...)
				if out := s.simulate(next); s.score(out).better(s.score(best)) {
					best, order, better = out, next, true
					break
				}
			}
			if better || left == 0 {
				break
			}
		}
		if !better {
			break
		}
	}
	return best, order
}

// runs are the stretches of an order that need no change.
func (s *scheduler) runs(order []int) [][]int {
	var runs [][]int
	for i, n := range order {
		if i > 0 && s.shop.change(s.loads[order[i-1]], s.loads[n]) == 0 && s.loads[n].Due == s.loads[order[i-1]].Due {
			runs[len(runs)-1] = append(runs[len(runs)-1], n)
		} else {
			runs = append(runs, []int{n})
		}
	}
	return runs
}

// use reckons how busy each kind of place is: a press also while it is changed for its next load.
func (s *scheduler) use(out *Schedule) {
	for _, p := range Places() {
		out.Use = append(out.Use, Use{Place: p.One(), Count: s.shop.Count(p)})
	}
	before := make([]*Load, s.shop.Press.Count)
	for _, slot := range out.Slots {
		use := &out.Use[slot.Step.Place()]
		use.Busy += slot.End - slot.Begin
		if slot.Step == Pressing {
			use.Busy += s.shop.change(before[slot.Machine], s.loads[slot.Load])
			before[slot.Machine] = s.loads[slot.Load]
		}
	}
	for p := range out.Use {
		if use := &out.Use[p]; out.Minutes > 0 {
			use.Share = use.Busy / (out.Minutes * float64(use.Count))
		}
	}
}
