package relief

import (
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
	span int
	at   [3]interval
	thin bool
}

// stacks are the layers of each triangle of the plan.
type stacks [][]layer

// stacks are the layers of every triangle, the levels over melded points made one.
func (w *work) stacks() stacks {
	s := make(stacks, len(w.triangles))
	all := make([]layer, 0, len(w.triangles)+len(w.triangles)/2)
	for i := range w.triangles {
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
		if !w.open(z, k, i) {
			continue
		}
		l := layer{span: k, thin: w.thin(z, k, i)}
		for j, v := range w.triangles[i] {
			l.at[j] = w.levels(z, k, v)
		}
		list = append(list, l)
	}
	return list
}

// open tells whether span k is open over triangle i: at the corner off the foot where that is the
// clearest, or at the middle if all corners are on the foot.
func (w *work) open(z *zone, k, i int) bool {
	clearest := 0.0
	for _, v := range w.triangles[i] {
		if h := w.thickness(z, k, v); !w.foot[v] && math.Abs(h) > math.Abs(clearest) {
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
	first := make([]int64, len(w.points)) // over each point the level that was met first
	for end := range 2 {
		met := make([]bool, len(w.points))
		more := make([][]int64, len(w.points)) // that and others, where there are several
		for i, t := range w.triangles {
			for _, l := range s[i] {
				for j, v := range t {
					switch level := l.at[j].end(end); {
					case !met[v]:
						met[v], first[v] = true, level
					case level == first[v]:
					case more[v] == nil:
						more[v] = []int64{first[v], level}
					default:
						more[v] = append(more[v], level)
					}
				}
			}
		}
		for v, list := range more {
			slices.Sort(list)
			for n := 1; n < len(list); n++ {
				if list[n] != list[n-1] && isNear(list[n]-list[n-1]) {
					w.melds(v, list[n], list[n-1])
				}
			}
		}
	}
}

// levels are the levels over each point that a wall stands over, rising, each once.
func (s stacks) levels(w *work) [][]int64 {
	levels := make([][]int64, len(w.points))
	bare := w.bare
	for i, t := range w.triangles {
		for _, l := range s[i] {
			for j, v := range t {
				if bare[v] {
					levels[v] = append(levels[v], l.at[j].low, l.at[j].high)
				}
			}
		}
	}
	for v := range levels {
		slices.Sort(levels[v])
		levels[v] = slices.Compact(levels[v])
	}
	return levels
}

// merge puts one level for another over points where two were melded. The two ends of a span stay
// apart.
func (s stacks) merge(w *work) {
	if len(w.meld) == 0 {
		return
	}
	for i, t := range w.triangles {
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
