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

// merge puts one level for another over points where two were melded. The two ends of a span stay
// apart.
func (s stacks) merge(w *work) {
	if len(w.meld) == 0 {
		return
	}
	for i, t := range w.triangles {
		for n := range s[i] {
			for j, v := range t {
				c := &s[i][n][j]
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
