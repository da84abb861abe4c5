package batch

import (
	"fmt"
	"math"
)

// Slot is a step of a load in its time: minutes of working time from the batch's start.
type Slot struct {
	Load       int
	Step       Step
	Machine    int // which of the machines or people of the step's place, from 0
	Begin, End float64
}

// floor is the heat and the presses while loads are put on them one after the other.
type floor struct {
	shop   *Shop
	copies func(Key) int
	press  []pressState
	heat   [][]Slot          // by place, each in the order of time
	bucks  map[Key][]float64 // when each copy is free
}

type pressState struct {
	free float64
	last *Load
}

func newFloor(s *Shop, copies func(Key) int) *floor {
	return &floor{
		shop: s, copies: copies, press: make([]pressState, s.Press.Count),
		heat: make([][]Slot, s.Heat.Count), bucks: make(map[Key][]float64),
	}
}

// put heats a load and presses it at once: on the press, from the heating place and over the copy of
// the buck that let it be done soonest. A hot sheet cannot wait, so the heat begins that much before
// the press is free, and both are done within one day.
func (f *floor) put(n int, l *Load) (heat, press Slot) {
	copies := f.bucks[l.Article.Key]
	if copies == nil {
		copies = make([]float64, f.copies(l.Article.Key))
		f.bucks[l.Article.Key] = copies
	}
	copy := earliest(copies)
	on, at, place := 0, math.Inf(1), 0
	for i := range f.press {
		p := &f.press[i]
		from := max(p.free+f.shop.change(p.last, l), copies[copy])
		hot, spot := f.hot(from, l)
		keep := hot == at && p.last != nil && p.last.Article == l.Article
		if hot < at || keep {
			on, at, place = i, hot, spot
		}
	}
	heat = Slot{Load: n, Step: Heating, Machine: place, Begin: at - l.heat(f.shop), End: at}
	press = Slot{Load: n, Step: Pressing, Machine: on, Begin: at, End: at + f.shop.Press.Minutes}
	f.heat[place] = append(f.heat[place], heat)
	for i := len(f.heat[place]) - 1; i > 0 && f.heat[place][i-1].Begin > heat.Begin; i-- {
		f.heat[place][i-1], f.heat[place][i] = f.heat[place][i], f.heat[place][i-1]
	}
	f.press[on] = pressState{free: press.End, last: l}
	copies[copy] = press.End
	return heat, press
}

// earliest is the index of the least of the times.
func earliest(times []float64) int {
	best := 0
	for i, t := range times {
		if t < times[best] {
			best = i
		}
	}
	return best
}

// hot is the soonest time, not before from, at which the load can be hot, and the heating place
// that is free for it until then.
func (f *floor) hot(from float64, l *Load) (float64, int) {
	heat := l.heat(f.shop)
	best, place := math.Inf(1), 0
	for i := range f.heat {
		at := f.shop.Day.within(max(from, heat)-heat, heat+f.shop.Press.Minutes) + heat
		for k := f.first(i, at-heat); k < len(f.heat[i]); k++ {
			if other := f.heat[i][k]; other.Begin < at-tiny && other.End > at-heat+tiny {
				at = f.shop.Day.within(other.End, heat+f.shop.Press.Minutes) + heat
			}
		}
		if at < best {
			best, place = at, i
		}
	}
	return best, place
}

// tiny is the rounding that times are compared with, in minutes.
const tiny = 1e-9

// first is the index of the first heat of a place that ends after a time.
func (f *floor) first(place int, after float64) int {
	heats := f.heat[place]
	k := len(heats)
	for k > 0 && heats[k-1].End > after {
		k--
	}
	return k
}

// within is the soonest time, not before t, at which something of so many minutes can begin so that it is
// done on the same day. What takes longer than a day begins with one.
func (h Hours) within(t, minutes float64) float64 {
	day := math.Floor(t/h.Minutes + tiny)
	if t+minutes <= (day+1)*h.Minutes+tiny || t <= day*h.Minutes+tiny {
		return t
	}
	return (day + 1) * h.Minutes
}

// Clock is the working day, from 0, on which a moment lies, and the time of that day as on a clock.
func (h Hours) Clock(t float64) (day int, clock string) {
	day = h.dayOf(t)
	return day, clockOf(h.Begins + t - float64(day)*h.Minutes)
}

// opens is when a day begins.
func (h Hours) opens() string { return clockOf(h.Begins) }

func clockOf(minutes float64) string {
	m := int(math.Round(minutes))
	return fmt.Sprintf("%d:%02d", m/60%24, m%60)
}
