package relief

import (
	"cmp"
	"math"
	"slices"
)

// interval is a span over one corner of a triangle, in grid steps.
type interval struct{ low, high int64 }

// end is the low end, for 0, or the high one of the interval.
func (i interval) end(n int) int64 {
	if n == 0 {
		return i.low
	}
	return i.high
}

// layer is a span that a triangle carries: its number in the triangle's zone, and the interval at
// each corner.
type layer struct {
	at    [3]interval
	span  int32
	thin  bool
	taken [2]bool // of its ends, whether they are in a skin
}

// stacks are the layers of each triangle of the plan.
type stacks [][]layer

// stacks are the layers of every triangle, the levels over melded points made one.
func (w *work) stacks() stacks {
	s := make(stacks, len(w.zone))
	spans := 0
	for _, z := range w.zone {
		spans += len(z.spans)
	}
	all := make([]layer, 0, spans)
	for i := range s {
		from := len(all)
		all = w.full(all, i)
		s[i] = all[from:len(all):len(all)]
	}
	w.meldEnds(s)
	s.merge(w)
	return s
}

// full adds the layers of triangle i to a list: the spans that are open over it.
func (w *work) full(list []layer, i int) []layer {
	z := w.zone[i]
	for k := range z.spans {
		thick := w.thicknesses(z, k, i)
		if !w.open(z, k, i, thick) {
			continue
		}
		l := layer{span: int32(k), thin: w.thin(i, thick)}
		for j, v := range w.plan.Triangle(i) {
			l.at[j] = w.levels(z, k, v)
		}
		list = append(list, l)
	}
	return list
}

// open tells whether span k, of which the thicknesses are given, is open over triangle i: at the corner off the foot where that is the
// clearest, or at the middle if all corners are on the foot.
func (w *work) open(z *zone, k, i int, thick [3]float64) bool {
	clearest := 0.0
	for j, v := range w.plan.Triangle(i) {
		if h := thick[j]; !w.foot[v] && math.Abs(h) > math.Abs(clearest) {
			clearest = h
		}
	}
	if math.Abs(clearest) < nearby {
		return w.thicknessAt(z, k, w.middle(i)) > 0
	}
	return clearest > 0
}

// meldEnds makes one of the low ends over a point that are nearly level, and of the high ends: they
// are one skin, which two zones have put to the plan's grid, or to a line's chord, each for itself.
func (w *work) meldEnds(s stacks) {
	type met struct {
		v     int
		level int64
	}
	first := make([]int64, len(w.points)) // over each point the level that was met first
	for end := range 2 {
		seen := make([]bool, len(w.points))
		var several []met // that and others, where there are several
		for i := range s {
			t := w.plan.Triangle(i)
			for _, l := range s[i] {
				for j, v := range t {
					switch level := l.at[j].end(end); {
					case !seen[v]:
						seen[v], first[v] = true, level
					case level != first[v]:
						several = append(several, met{v, first[v]}, met{v, level})
					}
				}
			}
		}
		slices.SortFunc(several, func(a, b met) int { return cmp.Or(a.v-b.v, cmp.Compare(a.level, b.level)) })
		for n := 1; n < len(several); n++ {
			a, b := several[n-1], several[n]
			if a.v == b.v && a.level != b.level && isNear(b.level-a.level) {
				if b.level <= 0 { // as below z = 0, so above it
					a, b = b, a
				}
				w.melds(b.v, b.level, a.level)
			}
		}
	}
}

// levels are the levels over each point that a wall stands over, rising, each once.
func (s stacks) levels(w *work) groups[int64] {
	levels := grouped(len(w.points), func(add func(v int, level int64)) {
		for i := range s {
			t := w.plan.Triangle(i)
			for _, l := range s[i] {
				for j, v := range t {
					if w.bare[v] {
						add(v, l.at[j].low)
						add(v, l.at[j].high)
					}
				}
			}
		}
	})
	for v := range levels.first {
		list := levels.at(v)
		slices.Sort(list)
		levels.end[v] = levels.first[v] + int32(len(slices.Compact(list)))
	}
	return levels
}

// merge puts one level for another over points where two were melded. The two ends of a span stay
// apart.
func (s stacks) merge(w *work) {
	if len(w.meld) == 0 {
		return
	}
	for i := range s {
		t := w.plan.Triangle(i)
		for n := range s[i] {
			for j, v := range t {
				c := &s[i][n].at[j]
				low, high := w.stand(v, c.low), w.stand(v, c.high)
				switch {
				case low < high:
					c.low, c.high = low, high
				case low < c.high:
					c.low = low
				case c.low < high:
					c.high = high
				}
			}
		}
	}
}

// stand is the level over v that stands for a level.
func (w *work) stand(v int, level int64) int64 {
	for {
		to, ok := w.meld[v][level]
		if !ok {
			return level
		}
		level = to
	}
}

// melds puts the level to for the level from over v, and tells whether that was new.
func (w *work) melds(v int, from, to int64) bool {
	from, to = w.stand(v, from), w.stand(v, to)
	if from == to {
		return false
	}
	if w.meld[v] == nil {
		w.meld[v] = make(map[int64]int64)
	}
	w.meld[v][from] = to
	return true
}
