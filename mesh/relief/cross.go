package relief

import (
	"errors"
	"fmt"
	"slices"

	"formbuck/mesh/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

var errCross = errors.New("two heights cross along a line again and again")

// uncrossWalls cuts the sides of triangles along which the ends of two neighbours' spans change
// places, so that along every side they stand in one order.
func (w *work) uncrossWalls() error {
	for range 30 {
		cuts := w.crossings()
		if w.bad != nil {
			return w.bad
		}
		if len(cuts) == 0 {
			return nil
		}
		for _, p := range cuts {
			if _, err := w.plan.SplitBetween(p.a, p.b, p.at); err != nil {
				return fmt.Errorf("plan: %w", err)
			}
		}
		w.survey()
	}
	return errCross
}

func (w *work) crossings() []addition {
	var cuts []addition
	full := make([][][3]interval, len(w.triangles))
	for i := range w.triangles {
		full[i] = w.full(i)
	}
	for i, t := range w.triangles {
		for k := range 3 {
			j := w.across(i, k)
			if j < i || w.region[i] == w.region[j] {
				continue
			}
			a, b := t[k], t[(k+1)%3]
			mine, other := w.ends(full[i], i, a, b), w.ends(full[j], j, a, b)
			if p, ok := w.crossing(mine, other, a, b); ok {
				cuts = append(cuts, addition{p, a, b})
			}
		}
	}
	return cuts
}

// ends are the levels of the ends of the spans that triangle i carries, over points a and b.
func (w *work) ends(full [][3]interval, i, a, b int) [][2]int64 {
	ja, jb := slices.Index(w.triangles[i][:], a), slices.Index(w.triangles[i][:], b)
	var found [][2]int64
	for _, c := range full {
		found = append(found, [2]int64{c[ja].low, c[jb].low}, [2]int64{c[ja].high, c[jb].high})
	}
	return found
}

// crossing is the point of the side from a to b where two ends change places, if it is further from
// both than what merging levels mends.
func (w *work) crossing(mine, other [][2]int64, a, b int) (r2.Vec, bool) {
	pa, pb := w.points[a], w.points[b]
	for _, m := range mine {
		for _, o := range other {
			da, db := m[0]-o[0], m[1]-o[1]
			if da >= 0 && db >= 0 || da <= 0 && db <= 0 || near(da) || near(db) {
				continue
			}
			t := float64(da) / float64(da-db)
			p := r2.Add(r2.Scale(1-t, pa), r2.Scale(t, pb))
			if r2.Norm(r2.Sub(p, pa)) > plan.Grid && r2.Norm(r2.Sub(p, pb)) > plan.Grid {
				return p, true
			}
		}
	}
	return r2.Vec{}, false
}

// near tells whether two levels are so close that they are merged.
func near(steps int64) bool { return -mergeSteps <= steps && steps <= mergeSteps }
