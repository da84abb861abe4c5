package relief

// edged is a point of a foot at which the ends of a span may meet.
type edged struct {
	at    interval // the span over it
	level int32    // at which they meet
	sides int      // of triangles that end there with nothing beyond
	not   bool     // they may not
}

// sharpen lets the ends of spans meet over the points of a foot about which they part fast on all triangles: one edge there, where
// they would stand leastSteps apart. The triangles must be one run round the point.
func (s *stacks) sharpen(w *work) {
	number := make([]int32, len(w.points)) // of each point among those found, from 1
	var found []edged
	for i, z := range w.zone {
		for j, v := range w.plan.Triangle(i) {
			if len(s.at(i)) == 0 || !w.foot[v] {
				continue
			}
			if number[v] == 0 {
				at := s.at(i)[0].at[j]
				e := edged{at: at, level: at.high}
				if z.ends[2*s.at(i)[0].span].flat {
					e.level = at.low
				}
				found = append(found, e)
				number[v] = int32(len(found))
			}
			s.edge(w, &found[number[v]-1], i, j)
		}
	}
	for i := range s.first {
		for j, v := range w.plan.Triangle(i) {
			if len(s.at(i)) == 0 || number[v] == 0 {
				continue
			}
			if e := &found[number[v]-1]; !e.not && e.sides == 2 {
				s.at(i)[0].at[j] = interval{e.level, e.level}
			}
		}
	}
}

// edge takes corner j of triangle i into what is found of its point.
func (s *stacks) edge(w *work, e *edged, i, j int) {
	t, l := w.plan.Triangle(i), &s.at(i)[0]
	e.not = e.not || len(s.at(i)) > 1 || l.thin || l.at[j] != e.at
	for _, k := range [2]int{j, (j + 2) % 3} {
		switch n, _ := w.plan.Across(i, k); {
		case n < 0 || len(s.at(n)) == 0:
			e.sides++
		case w.foot[t[k]] && w.foot[t[(k+1)%3]], !s.level(w, i, k):
			e.not = true
		}
	}
}
