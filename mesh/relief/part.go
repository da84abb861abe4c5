package relief

import "slices"

// partArea is the plan area, in mm2, of what may be taken away for touching the rest in a line only.
const partArea = 0.1

// carried names one layer of one triangle.
type carried struct{ triangle, layer int }

// part takes away what touches the rest in an upright line only. Over a point, between two levels of
// it, the triangles that carry material must be one run round the point; of two runs the one over
// the smaller area goes.
func (s stacks) part(w *work) {
	for range 4 {
		around := make([][]int, len(w.points))
		bare := s.bare(w)
		for i, t := range w.triangles {
			for _, v := range t {
				if bare[v] && len(s[i]) > 0 {
					around[v] = append(around[v], i)
				}
			}
		}
		again := false
		for v, list := range around {
			again = s.partAt(w, v, list) || again
		}
		if !again {
			return
		}
	}
}

// bare tells of each point whether a wall stands over it.
func (s stacks) bare(w *work) []bool {
	bare := make([]bool, len(w.points))
	for i, t := range w.triangles {
		for k := range 3 {
			if !s.level(w, i, k) {
				bare[t[k]], bare[t[(k+1)%3]] = true, true
			}
		}
	}
	return bare
}

// level tells whether along side k of triangle i all its ends stand level with its neighbour's, so
// that it has no wall there.
func (s stacks) level(w *work, i, k int) bool {
	if len(s[i]) == 0 {
		return true // what the neighbour carries is the neighbour's wall
	}
	j := w.across(i, k)
	if j < 0 || len(s[i]) != len(s[j]) {
		return false
	}
	t, u := w.triangles[i], w.triangles[j]
	ka, kb := slices.Index(u[:], t[k]), slices.Index(u[:], t[(k+1)%3])
	for n, l := range s[i] {
		m := s[j][n]
		if l.at[k] != m.at[ka] || l.at[(k+1)%3] != m.at[kb] {
			return false
		}
	}
	return true
}

// partAt takes away the smallest of several runs over point v, of the triangles in the list.
func (s stacks) partAt(w *work, v int, list []int) bool {
	var all []carried
	var levels []int64
	for _, i := range list {
		for n := range s[i] {
			c := carried{i, n}
			all = append(all, c)
			levels = append(levels, s.over(w, c, v).low, s.over(w, c, v).high)
		}
	}
	slices.Sort(levels)
	levels = slices.Compact(levels)
	for n := 1; n < len(levels); n++ {
		var here []carried
		for _, c := range all {
			if o := s.over(w, c, v); o.low <= levels[n-1] && levels[n] <= o.high {
				here = append(here, c)
			}
		}
		if least := w.leastRun(v, here); len(least) > 0 && w.cover(least) < partArea {
			s.remove(least)
			return true
		}
	}
	return false
}

// leastRun is the run over the smallest area of those that the triangles make round point v; none where
// they are one run.
func (w *work) leastRun(v int, here []carried) []carried {
	run := make([]int, len(here))
	for n := range run {
		run[n] = n
	}
	for again := true; again; {
		again = false
		for x := range here {
			for y := range here {
				if run[y] > run[x] && w.besides(v, here[x].triangle, here[y].triangle) {
					run[y] = run[x]
					again = true
				}
			}
		}
	}
	runs := make(map[int][]carried)
	for n, c := range here {
		runs[run[n]] = append(runs[run[n]], c)
	}
	if len(runs) < 2 {
		return nil
	}
	var least []carried
	for n := range here {
		if r := runs[n]; len(r) > 0 && (least == nil || w.cover(r) < w.cover(least)) {
			least = r
		}
	}
	return least
}

// besides tells whether two triangles about v share a side that ends in v.
func (w *work) besides(v, x, y int) bool {
	if x == y {
		return false
	}
	for _, u := range w.triangles[x] {
		if u != v && slices.Contains(w.triangles[y][:], u) {
			return true
		}
	}
	return false
}

// over is the interval of a layer over point v.
func (s stacks) over(w *work, c carried, v int) interval {
	return s[c.triangle][c.layer].at[slices.Index(w.triangles[c.triangle][:], v)]
}

// cover is the area of the triangles of a run.
func (w *work) cover(run []carried) float64 {
	sum := 0.0
	for _, c := range run {
		sum += area(w.plan, c.triangle)
	}
	return sum
}

// remove takes the layers of a run away, the last of a triangle first.
func (s stacks) remove(run []carried) {
	for n := len(run) - 1; n >= 0; n-- {
		c := run[n]
		s[c.triangle] = slices.Delete(s[c.triangle], c.layer, c.layer+1)
	}
}
