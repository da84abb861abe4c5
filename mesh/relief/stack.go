package relief

import (
	"cmp"
	"math"
	"slices"
)

// interval is a span over one corner of a triangle, in grid steps.
type interval struct{ low, high int32 }

// end is the low end, for 0, or the high one of the interval.
func (i interval) end(n int) int32 {
	if n == 0 {
		return i.low
	}
	return i.high
}

// layer is a span that a triangle carries: its number in the triangle's zone, and the interval at
// each corner.
type layer struct {
	at   [3]interval
	span int32
	thin bool
}

// stacks are the layers of each triangle of the plan.
type stacks struct{ groups[layer] }

// of is one layer.
func (s *stacks) of(c carried) *layer { return &s.all[s.number(c)] }

// number is the number of a layer among all.
func (s *stacks) number(c carried) int32 { return s.first[c.triangle] + c.layer }

// stacks are the layers of every triangle, the levels over melded points made one.
func (w *work) stacks() stacks {
	room := make([]int32, 2*len(w.zone))
	s := stacks{groups[layer]{first: room[:len(w.zone)], end: room[len(w.zone):]}}
	spans := 0
	for _, z := range w.zone {
		spans += len(z.spans)
	}
	s.all = make([]layer, 0, spans)
	for i := range w.zone {
		s.first[i] = int32(len(s.all))
		s.all = w.full(s.all, i)
		s.end[i] = int32(len(s.all))
	}
	w.meldEnds(&s)
	s.merge(w)
	s.sharpen(w)
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
		l := layer{span: int32(k), thin: w.thin(z, k, i, thick)}
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
func (w *work) meldEnds(s *stacks) {
	for _, several := range s.several(w) {
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

// met is a level over a point.
type met struct {
	v     int
	level int32
}

// several are the levels of the low ends and of the high ends over points where there are several.
func (s *stacks) several(w *work) (all [2][]met) {
	first := make([]interval, len(w.points)) // over each point those that were met first
	seen := make([]bool, len(w.points))
	for i := range s.first {
		t, layers := w.plan.Triangle(i), s.at(i)
		for n := range layers {
			for j, v := range t {
				at := layers[n].at[j]
				if !seen[v] {
					seen[v], first[v] = true, at
				}
				if at == first[v] {
					continue
				}
				for end := range all {
					if a, b := first[v].end(end), at.end(end); a != b {
						all[end] = append(all[end], met{v, a}, met{v, b})
					}
				}
			}
		}
	}
	return all
}

// levels are the levels over each point that a wall stands over, rising, each once.
func (s *stacks) levels(w *work) groups[int32] {
	levels := grouped(len(w.points), func(add func(v int, level int32)) {
		for i := range s.first {
			t := w.plan.Triangle(i)
			for _, l := range s.at(i) {
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
func (s *stacks) merge(w *work) {
	if len(w.meld) == 0 {
		return
	}
	for i := range s.first {
		t := w.plan.Triangle(i)
		layers := s.at(i)
		for n := range layers {
			for j, v := range t {
				c := &layers[n].at[j]
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
func (w *work) stand(v int, level int32) int32 {
	for {
		to, ok := w.meld[v][level]
		if !ok {
			return level
		}
		level = to
	}
}

// melds puts the level to for the level from over v, and tells whether that was new.
func (w *work) melds(v int, from, to int32) bool {
	from, to = w.stand(v, from), w.stand(v, to)
	if from == to {
		return false
	}
	if w.meld[v] == nil {
		w.meld[v] = make(map[int32]int32)
	}
	w.meld[v][from] = to
	return true
}
