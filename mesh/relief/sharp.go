package relief

// findEven finds the ends of spans that are level over zones with a foot, as far as the corners of the plan and the middles of its
// triangles show, of a body that may have sharp feet.
func (w *work) findEven() {
	if !w.body.SharpFeet || w.allThin {
		return
	}
	footed := make(map[*zone]bool)
	for i, z := range w.zone {
		if t := w.plan.Triangle(i); w.foot[t[0]] || w.foot[t[1]] || w.foot[t[2]] {
			footed[z] = true
		}
	}
	for _, z := range w.zones {
		for n := range z.ends {
			if e := &z.ends[n]; footed[z] {
				e.even, e.level = true, w.at(z, n, z.inside)
			}
		}
	}
	for i, z := range w.zone {
		for n := range z.ends {
			z.ends[n].even = z.ends[n].even && w.isEven(i, z, n)
		}
	}
}

// isEven tells whether an end of a span over triangle i is at its level, on the plan's grid.
func (w *work) isEven(i int, z *zone, n int) bool {
	e := &z.ends[n]
	for _, v := range w.plan.Triangle(i) {
		if snap(w.over(z, n, v)) != snap(e.level) {
			return false
		}
	}
	return snap(w.at(z, n, w.middle(i))) == snap(e.level)
}

// edged is a point of a foot at which the ends of a span may meet.
type edged struct {
	at    interval // the span over it
	level int32    // at which they meet
	sides int      // of triangles that end there with nothing beyond
	not   bool     // they may not
}

// meet tells whether they do: the triangles are one run round the point.
func (e *edged) meet() bool { return !e.not && e.sides == 2 }

// edges are the points of feet at which the ends of spans may meet.
type edges struct {
	number []int32 // of each point of the plan among those found, from 1; nil where feet are not sharp
	found  []edged
}

// has tells whether the ends of a span meet at a point.
func (e *edges) has(v int) bool {
	return e.number != nil && e.number[v] > 0 && e.found[e.number[v]-1].meet()
}

// sharpen lets the ends of spans meet over the points of a foot about which they part fast on all triangles: one edge there, where
// they would stand leastSteps apart.
func (s *stacks) sharpen(w *work) {
	w.edges = edges{}
	if !w.body.SharpFeet || w.allThin {
		return
	}
	w.edges.number = make([]int32, len(w.points))
	for i, z := range w.zone {
		for j, v := range w.plan.Triangle(i) {
			if len(s.at(i)) > 0 && w.foot[v] {
				s.edge(w, z, i, j)
			}
		}
	}
	for i := range s.first {
		for j, v := range w.plan.Triangle(i) {
			if len(s.at(i)) > 0 && w.edges.has(v) {
				level := w.edges.found[w.edges.number[v]-1].level
				s.at(i)[0].at[j] = interval{level, level}
			}
		}
	}
}

// edge takes corner j of triangle i, which is on a foot, into what is found of its point.
func (s *stacks) edge(w *work, z *zone, i, j int) {
	t, l := w.plan.Triangle(i), &s.at(i)[0]
	if w.edges.number[t[j]] == 0 {
		at := l.at[j]
		e := edged{at: at, level: at.high}
		if z.ends[2*l.span].even {
			e.level = at.low
		}
		w.edges.found = append(w.edges.found, e)
		w.edges.number[t[j]] = int32(len(w.edges.found))
	}
	e := &w.edges.found[w.edges.number[t[j]]-1]
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

// chord notes a side within a skin that joins two points at which the ends of a span meet.
func (s *stitcher) chord(end, a, b int) {
	if s.edges.has(a) && s.edges.has(b) {
		s.chords[end] = append(s.chords[end], side{min(a, b), max(a, b)})
	}
}

// shareChords tells whether a side within a lid is also one within a floor: the two are one where the ends meet.
func (s *stitcher) shareChords() bool {
	if len(s.chords[0]) == 0 || len(s.chords[1]) == 0 {
		return false
	}
	low := make(map[side]bool, len(s.chords[0]))
	for _, c := range s.chords[0] {
		low[c] = true
	}
	for _, c := range s.chords[1] {
		if low[c] {
			return true
		}
	}
	return false
}
