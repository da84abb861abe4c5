package relief

import "slices"

// interval is a span over one corner of a triangle, in grid steps.
type interval struct{ low, high int64 }

// stacks are the spans that each triangle of the plan carries, at its three corners.
type stacks [][][3]interval

// stacks are the spans of every triangle, the levels over melded points made one.
func (w *work) stacks() stacks {
	s := make(stacks, len(w.triangles))
	for i := range w.triangles {
		s[i] = w.full(i)
	}
	s.merge(w)
	return s
}

// full are the spans that triangle i carries, at its corners: those that are open at its middle.
func (w *work) full(i int) [][3]interval {
	r := w.region[i]
	var carried [][3]interval
	for k := range w.spans[r] {
		if w.thickness(r, k, w.middle(i)) <= 0 {
			continue
		}
		var c [3]interval
		for j, v := range w.triangles[i] {
			c[j].low, c[j].high = w.levels(r, k, v)
		}
		carried = append(carried, c)
	}
	return carried
}

// levels are the levels over each point, rising, each once.
func (s stacks) levels(w *work) [][]int64 {
	levels := make([][]int64, len(w.points))
	for i, t := range w.triangles {
		for _, c := range s[i] {
			for j, v := range t {
				levels[v] = append(levels[v], c[j].low, c[j].high)
			}
		}
	}
	for v := range levels {
		slices.Sort(levels[v])
		levels[v] = slices.Compact(levels[v])
	}
	return levels
}

// meldSteps is how near, in grid steps, two levels are that cross along a line are taken for one over the
// end of the line that they are near at.
const meldSteps = 25

// merge makes near levels over melded points one: each that is as near the lowest of a run as the
// point says becomes that one. The two ends of a span stay apart.
func (s stacks) merge(w *work) {
	if len(w.meld) == 0 {
		return
	}
	levels := s.levels(w)
	stand := func(v int, l int64) int64 {
		first := levels[v][0]
		for _, x := range levels[v] {
			if x > first+w.meld[v] {
				first = x
			}
			if x == l {
				return first
			}
		}
		return l
	}
	for i, t := range w.triangles {
		for n := range s[i] {
			for j, v := range t {
				c := &s[i][n][j]
				if w.meld[v] == 0 {
					continue
				}
				low, high := stand(v, c.low), stand(v, c.high)
				if low < high {
					c.low, c.high = low, high
				} else {
					c.low = low
				}
			}
		}
	}
}
