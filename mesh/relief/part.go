package relief

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// partArea is the plan area, in mm2, of what may be taken away for touching the rest in a line only,
// and tipLength how far, in mm, from that line what is larger is cut off.
const (
	partArea  = 0.1
	tipLength = 0.1
)

// carried names one layer of one triangle.
type carried struct{ triangle, layer int32 }

// part takes away what touches the rest in an upright line only. Over a point, between two levels of
// it, the triangles that carry material must be one run round the point; of two runs the one over
// the smaller area goes.
func (s *stacks) part(w *work) {
	for range 4 {
		again := false
		around := s.around(w, w.bare)
		for v := range w.points {
			if least := s.apart(w, v, around.at(v)); len(least) > 0 && w.cover(least) < partArea {
				s.remove(least)
				again = true
			}
		}
		if !again {
			return
		}
		w.bare = s.bare(w)
	}
}

// trim cuts the triangles of runs that are too large to go, so that what goes is only their tip.
func (w *work) trim() error {
	for range 4 {
		var cuts []addition
		w.bare, w.whole = w.layers.bare(w), true
		around := w.layers.around(w, w.bare)
		for v := range w.points {
			least := w.layers.apart(w, v, around.at(v))
			if len(least) > 0 {
				w.whole = false
			}
			if len(least) > 0 && w.cover(least) >= partArea {
				cuts = append(cuts, w.tips(v, least)...)
			}
		}
		if len(cuts) == 0 {
			return nil
		}
		if err := w.cutTips(cuts); err != nil {
			return err
		}
		if err := w.uncrossWalls(); err != nil {
			return err
		}
	}
	w.bare = w.layers.bare(w)
	return nil
}

// tips are the cuts of the sides of a run's triangles that end in point v.
func (w *work) tips(v int, run []carried) []addition {
	var cuts []addition
	for _, c := range run {
		for _, u := range w.plan.Triangle(int(c.triangle)) {
			along := r2.Sub(w.points[u], w.points[v])
			if l := r2.Norm(along); u != v && l > 2*tipLength {
				at := r2.Add(w.points[v], r2.Scale(tipLength/l, along))
				cuts = append(cuts, addition{at: at, a: min(u, v), b: max(u, v)})
			}
		}
	}
	return cuts
}

// cutTips cuts sides; a point on a side of a foot is on the foot.
func (w *work) cutTips(cuts []addition) error {
	var feet []r2.Vec
	for _, c := range cuts {
		if w.foot[c.a] && w.foot[c.b] && w.plan.Lined(c.a, c.b) {
			feet = append(feet, c.at)
		}
	}
	if err := w.add(cuts); err != nil {
		return err
	}
	w.survey()
	for _, p := range feet {
		v, err := w.plan.Insert(p) // it is there already
		if err != nil {
			return fmt.Errorf("plan: %w", err)
		}
		if v < len(w.foot) {
			w.foot[v] = true
		}
	}
	return nil
}

// around are the triangles that carry material about each point that a wall stands over.
func (s *stacks) around(w *work, bare []bool) groups[int32] {
	return grouped(len(w.points), func(add func(v int, i int32)) {
		for i := range s.first {
			for _, v := range w.plan.Triangle(i) {
				if bare[v] && len(s.at(i)) > 0 {
					add(v, int32(i))
				}
			}
		}
	})
}

// bare tells of each point whether a wall stands over it.
func (s *stacks) bare(w *work) []bool {
	bare := make([]bool, len(w.points))
	for i := range s.first {
		t := w.plan.Triangle(i)
		for k := range 3 {
			j, _ := w.plan.Across(i, k)
			if j >= 0 && (j < i || len(s.at(i))+len(s.at(j)) == 0) {
				continue // the same from the other side, or nothing
			}
			if len(s.at(i)) == 0 && j >= 0 || !s.level(w, i, k) {
				bare[t[k]], bare[t[(k+1)%3]] = true, true
			}
		}
	}
	return bare
}

// level tells whether along side k of triangle i all its ends stand level with its neighbour's, so
// that it has no wall there.
func (s *stacks) level(w *work, i, k int) bool {
	mine := s.at(i)
	if len(mine) == 0 {
		return true // what the neighbour carries is the neighbour's wall
	}
	j, from := w.plan.Across(i, k)
	if j < 0 || len(mine) != len(s.at(j)) {
		return false
	}
	for n := range mine {
		l, m := &mine[n], &s.at(j)[n]
		if l.at[k] != m.at[(from+1)%3] || l.at[(k+1)%3] != m.at[from] {
			return false
		}
	}
	return true
}

// apart is the smallest of several runs over point v, of the triangles in the list; none where they
// are one run between all levels.
func (s *stacks) apart(w *work, v int, list []int32) []carried {
	all, levels := w.about[:0], w.rungs[:0]
	for _, i := range list {
		for n := range s.at(int(i)) {
			c := carried{i, int32(n)}
			all = append(all, c)
			levels = append(levels, s.over(w, c, v).low, s.over(w, c, v).high)
		}
	}
	w.about, w.rungs = all, levels
	slices.Sort(levels)
	levels = slices.Compact(levels)
	for n := 1; n < len(levels); n++ {
		var here []carried
		for _, c := range all {
			if o := s.over(w, c, v); o.low <= levels[n-1] && levels[n] <= o.high {
				here = append(here, c)
			}
		}
		if least := w.leastRun(v, here); len(least) > 0 {
			return least
		}
	}
	return nil
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
				if run[y] > run[x] && w.besides(v, int(here[x].triangle), int(here[y].triangle)) {
					run[y] = run[x]
					again = true
				}
			}
		}
	}
	if len(run) == 0 || slices.Max(run) == 0 {
		return nil
	}
	runs := make(map[int][]carried)
	for n, c := range here {
		runs[run[n]] = append(runs[run[n]], c)
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
	for _, u := range w.plan.Triangle(x) {
		if u != v && w.plan.Corner(y, u) >= 0 {
			return true
		}
	}
	return false
}

// over is the interval of a layer over point v.
func (s *stacks) over(w *work, c carried, v int) interval {
	return s.of(c).at[w.plan.Corner(int(c.triangle), v)]
}

// cover is the area of the triangles of a run.
func (w *work) cover(run []carried) float64 {
	sum := 0.0
	for _, c := range run {
		sum += area(w.plan, int(c.triangle))
	}
	return sum
}

// remove takes the layers of a run away, the last of a triangle first.
func (s *stacks) remove(run []carried) {
	for n := len(run) - 1; n >= 0; n-- {
		c := run[n]
		layers := s.at(int(c.triangle))
		copy(layers[c.layer:], layers[c.layer+1:])
		s.end[c.triangle]--
	}
}
