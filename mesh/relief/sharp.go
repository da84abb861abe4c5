package relief

// edged is a point of a foot at which the ends of a span may meet.
type edged struct {
	at    interval // the span over it
	level int32    // at which they meet
	sides int      // of triangles that end there with nothing beyond
	not   bool     // they may not
}

// meet tells whether they do: the triangles are one run round the point.
func (e *edged) meet() bool { return !e.not && e.sides == 2 }

// sharp is where the ends of spans meet.
type sharp struct {
	number []int32 // of each point among those found, from 1
	found  []edged
}

// of is what is known of a point at which the ends of a span may meet; nil where they may not.
func (s *sharp) of(v int) *edged {
	if s.number[v] == 0 {
		return nil
	}
	return &s.found[s.number[v]-1]
}

// has tells whether the ends of a span meet at a point.
func (s *sharp) has(v int) bool { return s.number[v] > 0 && s.of(v).meet() }

// sharpen lets the ends of spans meet over the points of a foot about which they part fast on all triangles: one edge there, where
// they would stand leastSteps apart.
func (s *stacks) sharpen(w *work) {
	w.sharp = sharp{number: make([]int32, len(w.points))}
	for i, z := range w.zone {
		for j, v := range w.plan.Triangle(i) {
			if len(s.at(i)) == 0 || !w.foot[v] {
				continue
			}
			if w.sharp.number[v] == 0 {
				at := s.at(i)[0].at[j]
				e := edged{at: at, level: at.high}
				if z.ends[2*s.at(i)[0].span].flat {
					e.level = at.low
				}
				w.sharp.found = append(w.sharp.found, e)
				w.sharp.number[v] = int32(len(w.sharp.found))
			}
			s.edge(w, w.sharp.of(v), i, j)
		}
	}
	s.joinEnds(w)
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

// joinEnds makes the ends of spans meet where they do, and stand apart again where they do no more.
func (s *stacks) joinEnds(w *work) {
	for i := range s.first {
		for j, v := range w.plan.Triangle(i) {
			if len(s.at(i)) == 0 {
				continue
			}
			at := &s.at(i)[0].at[j]
			switch e := w.sharp.of(v); {
			case e == nil:
			case e.meet():
				*at = interval{e.level, e.level}
			case *at == interval{e.level, e.level}:
				*at = e.at
			}
		}
	}
}

// chord notes a side within a skin that joins two points at which the ends of a span meet.
func (s *stitcher) chord(end, a, b int) {
	if s.sharp.has(a) && s.sharp.has(b) {
		s.chords[end] = append(s.chords[end], side{min(a, b), max(a, b)})
	}
}

// blunt parts the ends of spans again at points that a side within a lid and one within a floor both join: the two would be one.
// It tells whether there are any.
func (w *work) blunt(chords [2][]side) bool {
	if len(chords[0]) == 0 || len(chords[1]) == 0 {
		return false
	}
	low, found := make(map[side]bool, len(chords[0])), false
	for _, c := range chords[0] {
		low[c] = true
	}
	for _, c := range chords[1] {
		if low[c] {
			w.sharp.of(c.a).not, w.sharp.of(c.b).not = true, true
			found = true
		}
	}
	if found {
		w.layers.joinEnds(w)
	}
	return found
}
