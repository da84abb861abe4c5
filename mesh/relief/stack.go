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

// part takes away what touches the rest in one upright line only: over each point the spans of its
// triangles hang together round the point, and two bundles of them that do not, yet share a height,
// would touch there. The one over the smaller area goes.
func (s stacks) part(w *work) {
	around := make([][]int, len(w.points))
	for i, t := range w.triangles {
		if len(s[i]) > 0 {
			for _, v := range t {
				around[v] = append(around[v], i)
			}
		}
	}
	for range 4 {
		again := false
		for v, list := range around {
			again = s.partAt(w, v, list) || again
		}
		if !again {
			return
		}
	}
}

// carried names one span of one triangle.
type carried struct{ triangle, span int }

// partAt takes away the smaller of two bundles that touch over point v.
func (s stacks) partAt(w *work, v int, list []int) bool {
	var all []carried
	for _, i := range list {
		for n := range s[i] {
			all = append(all, carried{i, n})
		}
	}
	bundles := s.bundles(w, v, all)
	if len(bundles) < 2 {
		return false
	}
	for x := range bundles {
		for y := x + 1; y < len(bundles); y++ {
			if !s.touch(w, v, bundles[x], bundles[y]) {
				continue
			}
			less := bundles[x]
			if w.cover(bundles[y]) < w.cover(less) {
				less = bundles[y]
			}
			s.remove(less)
			return true
		}
	}
	return false
}

// bundles are the spans around point v that hang together across the sides that end in v.
func (s stacks) bundles(w *work, v int, all []carried) [][]carried {
	group := make([]int, len(all))
	for n := range group {
		group[n] = n
	}
	var find func(n int) int
	find = func(n int) int {
		if group[n] != n {
			group[n] = find(group[n])
		}
		return group[n]
	}
	for x := range all {
		for y := x + 1; y < len(all); y++ {
			if s.joined(w, v, all[x], all[y]) {
				group[find(y)] = find(x)
			}
		}
	}
	var bundles [][]carried
	place := make(map[int]int)
	for n, c := range all {
		g := find(n)
		if _, ok := place[g]; !ok {
			place[g] = len(bundles)
			bundles = append(bundles, nil)
		}
		bundles[place[g]] = append(bundles[place[g]], c)
	}
	return bundles
}

// joined tells whether two spans of neighbouring triangles share more than a line along the side between
// them, which ends in v.
func (s stacks) joined(w *work, v int, x, y carried) bool {
	if x.triangle == y.triangle {
		return false
	}
	other := -1
	for _, u := range w.triangles[x.triangle] {
		if u != v && slices.Contains(w.triangles[y.triangle][:], u) {
			other = u
		}
	}
	if other < 0 {
		return false
	}
	for _, u := range []int{v, other} {
		a, b := s.over(w, x, u), s.over(w, y, u)
		if max(a.low, b.low) < min(a.high, b.high) {
			return true
		}
	}
	return false
}

// over is the interval of a span over point v.
func (s stacks) over(w *work, c carried, v int) interval {
	return s[c.triangle][c.span][slices.Index(w.triangles[c.triangle][:], v)]
}

// touch tells whether two bundles share a height over v.
func (s stacks) touch(w *work, v int, x, y []carried) bool {
	for _, a := range x {
		for _, b := range y {
			p, q := s.over(w, a, v), s.over(w, b, v)
			if max(p.low, q.low) <= min(p.high, q.high) {
				return true
			}
		}
	}
	return false
}

// cover is the area of the triangles of a bundle.
func (w *work) cover(bundle []carried) float64 {
	sum := 0.0
	for _, c := range bundle {
		sum += w.area(c.triangle)
	}
	return sum
}

// remove takes the spans of a bundle away, the last of a triangle first.
func (s stacks) remove(bundle []carried) {
	for n := len(bundle) - 1; n >= 0; n-- {
		c := bundle[n]
		s[c.triangle] = slices.Delete(s[c.triangle], c.span, c.span+1)
	}
}
