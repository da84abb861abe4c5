package relief

import (
	"errors"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

var errCross = errors.New("two heights cross along a line again and again")

// uncrossWalls cuts the sides of triangles along which the ends of two neighbours' spans change
// places, so that along every side they stand in one order.
func (w *work) uncrossWalls() error {
	for range 40 {
		cuts, melded := w.crossings()
		if w.bad != nil {
			return w.bad
		}
		if len(cuts) == 0 && !melded {
			return nil
		}
		for _, p := range cuts {
			v, err := w.plan.SplitBetween(p.a, p.b, p.at)
			if err != nil {
				return fmt.Errorf("plan: %w", err)
			}
			w.meld[v] = meldSteps
		}
		if len(cuts) > 0 {
			w.survey()
		}
	}
	return errCross
}

// crossings are the points where sides must be cut; where two ends change places so near a point
// that a cut would be no use, the levels over that point are melded instead.
func (w *work) crossings() (cuts []addition, melded bool) {
	s := w.stacks()
	for i, t := range w.triangles {
		for k := range 3 {
			j := w.across(i, k)
			if j < i || w.region[i] == w.region[j] {
				continue
			}
			a, b := t[k], t[(k+1)%3]
			at, found := w.crossing(s.ends(w, i, a, b), s.ends(w, j, a, b), a, b)
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

// ends are the levels of the ends of the spans that triangle i carries, over points a and b.
func (s stacks) ends(w *work, i, a, b int) [][2]int64 {
	ja, jb := slices.Index(w.triangles[i][:], a), slices.Index(w.triangles[i][:], b)
	var found [][2]int64
	for _, c := range s[i] {
		found = append(found, [2]int64{c[ja].low, c[jb].low}, [2]int64{c[ja].high, c[jb].high})
	}
	return found
}

// What was found where two ends change places.
type finding int

const (
	nothing finding = iota
	cutting         // a side is to be cut
	melding         // levels over a point are now one
)

// crossing looks for two ends that change places along the side from a to b. It answers with a cut,
// or melds the two over the end of the side that they change places at.
func (w *work) crossing(mine, other [][2]int64, a, b int) (addition, finding) {
	pa, pb := w.points[a], w.points[b]
	for _, m := range mine {
		for _, o := range other {
			da, db := m[0]-o[0], m[1]-o[1]
			if da >= 0 && db >= 0 || da <= 0 && db <= 0 {
				continue
			}
			t := float64(da) / float64(da-db)
			p := r2.Add(r2.Scale(1-t, pa), r2.Scale(t, pb))
			atA := isNear(da) || r2.Norm(r2.Sub(p, pa)) < nearby
			atB := isNear(db) || r2.Norm(r2.Sub(p, pb)) < nearby
			if !atA && !atB {
				return addition{at: p, a: a, b: b}, cutting
			}
			if atA && w.melds(a, da) || atB && w.melds(b, db) {
				return addition{}, melding
			}
		}
	}
	return addition{}, nothing
}

// melds sees to it that levels over v that differ by some steps are one, and tells whether they were not.
func (w *work) melds(v int, steps int64) bool {
	steps = max(steps, -steps, meldSteps)
	if w.meld[v] >= steps {
		return false
	}
	w.meld[v] = steps
	return true
}

// isNear tells whether two levels are so close that melding makes them one.
func isNear(steps int64) bool { return -meldSteps <= steps && steps <= meldSteps }
