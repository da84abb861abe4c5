package relief

import (
	"errors"
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"
)

var errCross = errors.New("two heights cross along a line again and again")

// uncrossWalls cuts the sides of triangles along which the ends of two neighbours' spans change
// places, so that along every side they stand in one order.
func (w *work) uncrossWalls() error {
	for range 40 {
		s := w.stacks()
		cuts, melded := w.crossings(&s)
		if w.bad != nil {
			return w.bad
		}
		if len(cuts) == 0 && !melded {
			w.layers = s
			return nil
		}
		for _, p := range cuts {
			if _, err := w.plan.SplitBetween(p.a, p.b, p.at); err != nil {
				return fmt.Errorf("plan: %w", err)
			}
		}
		if len(cuts) > 0 {
			w.survey()
		}
	}
	return errCross
}

// crossings are the points where sides must be cut; where two ends change places so near a point
// that a cut would be no use, the levels over that point are melded instead.
func (w *work) crossings(s *stacks) (cuts []addition, melded bool) {
	var mine, other [][2]int32
	for i := range w.zone {
		t := w.plan.Triangle(i)
		for k := range 3 {
			j, l := w.plan.Across(i, k)
			if j < i || w.zone[i] == w.zone[j] {
				continue
			}
			next := (k + 1) % 3
			mine, other = s.ends(mine[:0], i, k, next), s.ends(other[:0], j, (l+1)%3, l)
			at, found := w.crossing(mine, other, t[k], t[next])
			switch found {
			case cutting:
				cuts = append(cuts, at)
			case melding:
				melded = true
			}
		}
	}
	return cuts, melded
}

// ends adds to a list the levels of the ends of the spans that triangle i carries, over its corners a and b.
func (s *stacks) ends(list [][2]int32, i, a, b int) [][2]int32 {
	for _, l := range s.at(i) {
		list = append(list, [2]int32{l.at[a].low, l.at[b].low}, [2]int32{l.at[a].high, l.at[b].high})
	}
	return list
}

// What was found where two ends change places.
type finding int

const (
	nothing finding = iota
	cutting         // a side is to be cut
	melding         // levels over a point are now one
)

// meldSteps is how near, in grid steps, two levels that cross along a line are taken for one over
// the end of the line that they are near at.
const meldSteps = 25

// crossing looks for two ends that change places along the side from a to b. It answers with a cut,
// or melds the two over the end of the side that they change places at. Of mine and other, those at
// even places are low ends, and the high end of the same span follows.
func (w *work) crossing(mine, other [][2]int32, a, b int) (addition, finding) {
	pa, pb := w.points[a], w.points[b]
	for x, m := range mine {
		for y, o := range other {
			da, db := m[0]-o[0], m[1]-o[1]
			if da >= 0 && db >= 0 || da <= 0 && db <= 0 {
				continue
			}
			t := float64(da) / (float64(da) - float64(db))
			at := r2.Add(r2.Scale(1-t, pa), r2.Scale(t, pb))
			atA := isNear(da) || r2.Norm(r2.Sub(at, pa)) < nearby
			atB := isNear(db) || r2.Norm(r2.Sub(at, pb)) < nearby
			if !atA && !atB {
				return addition{at: at, a: a, b: b}, cutting
			}
			p, q := mine[x^1], other[y^1]
			if atA && w.meldPair(a, [2]int32{m[0], p[0]}, [2]int32{o[0], q[0]}) ||
				atB && w.meldPair(b, [2]int32{m[1], p[1]}, [2]int32{o[1], q[1]}) {
				return addition{}, melding
			}
		}
	}
	return addition{}, nothing
}

// meldPair makes one of the levels over v that two spans begin with here; the other end of each span
// follows. The one stays that is not the other's far end.
func (w *work) meldPair(v int, mine, other [2]int32) bool {
	if other[1] != mine[0] {
		return w.melds(v, other[0], mine[0])
	}
	return mine[1] != other[0] && w.melds(v, mine[0], other[0])
}

// isNear tells whether two levels are so close that melding makes them one.
func isNear(steps int32) bool { return -meldSteps <= steps && steps <= meldSteps }
