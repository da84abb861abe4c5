package relief

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// miss is a point of a triangle at which its plane misses a height.
type miss struct {
	triangle int
	corners  [3]int
	at       r2.Vec
	side     int     // that it is on, -1 for none
	far      float64 // in terms of what is allowed
}

// improve adds points to a plan until no triangle misses a height by more than is allowed. worst
// tells the worst miss of a triangle, if it is past that; added is called when points have been
// added.
func (w *work) improve(t *plan.Triangulation, worst func(i int) (miss, bool), added func()) error {
	var misses []miss
	look := func(i int) {
		if m, ok := worst(i); ok {
			m.triangle, m.corners = i, t.Triangle(i)
			misses = append(misses, m)
		}
	}
	for i := range t.CountTriangles() {
		look(i)
	}
	t.Seen()
	for {
		if w.bad != nil {
			return w.bad
		}
		slices.SortStableFunc(misses, func(a, b miss) int { return cmp.Compare(b.far, a.far) })
		before := t.Len()
		for _, m := range misses {
			if err := put(t, m); err != nil {
				return fmt.Errorf("plan: %w", err)
			}
		}
		if t.Len() == before {
			return nil
		}
		if t.Len() > w.opt.MaxPoints {
			return fmt.Errorf("%w: %d", ErrTooFine, w.opt.MaxPoints)
		}
		added()
		misses = misses[:0]
		for _, i := range t.Fresh() {
			look(i)
		}
	}
}

// put adds a point, if the triangle that it was found in is still there.
func put(t *plan.Triangulation, m miss) (err error) {
	switch {
	case t.Triangle(m.triangle) != m.corners:
	case m.side >= 0:
		_, err = t.Split(m.triangle, m.side, m.at)
	default:
		_, err = t.Insert(m.at)
	}
	return err
}

// facet is a triangle of which the plane is compared with a height.
type facet struct {
	corners [3]r2.Vec
	z       [3]float64 // over the corners
	height  func(r2.Vec) float64
	closed  [3]bool                              // sides that may not be cut
	room    func(side int, p r2.Vec) bool        // whether a point can be put there
	missed  func(side int, most float64) float64 // what is remembered of a side, see planeMiss
	any     bool                                 // whether any miss will do, not the worst only
	grid    *grid                                // along whose lines the height bends; nil for none
}

// planeMiss is the point of a triangle at which the plane through the heights over its corners is
// the furthest from the height, square to the surface, of those for which there is room. By how much a height
// is missed along a side of a lattice's triangle is told to missed, which tells it again to the triangle beyond.
func (w *work) planeMiss(f *facet) (miss, bool) {
	const (
		share = 0.85 // of the tolerance; the rest is for what lies between the points looked at
		sharp = 0.93 // the same where it is known at which points it is missed by the most
	)
	allowed := share * w.opt.Tolerance
	if f.grid != nil {
		allowed = sharp * w.opt.Tolerance
	}
	m := miss{far: 1, side: -1}
	q, z := f.corners, f.z
	under, _ := through(q, z)
	allowed *= under.steep()
	off := 0.0
	look := func(b [3]float64) {
		side := sideOf(b)
		if side >= 0 && f.closed[side] || f.any && m.far > 1 {
			return
		}
		p := blend(q, b)
		off = math.Abs(f.height(p) - (b[0]*z[0] + b[1]*z[1] + b[2]*z[2]))
		if far := off / allowed; far > m.far && f.room(side, p) {
			m.far, m.at, m.side = far, p, side
		}
	}
	few := f.grid != nil && f.grid.fewIn(q)
	if !few { // else all points at which it may be missed by the most are looked at
		newSampler(q).each(look)
	}
	if f.grid == nil || m.far > 1 && (f.any || !few) {
		return m, m.far > 1
	}
	on := f.grid.triangle(q)
	for k := range 3 {
		if f.closed[k] || f.missed(k, unknown) <= (m.far-1e-9)*allowed {
			continue
		}
		most := 0.0
		on.side(k, func(b [3]float64) {
			look(b)
			most = max(most, off)
		})
		if f.any && m.far > 1 {
			return m, true
		}
		f.missed(k, most)
	}
	on.nodes(look)
	return m, m.far > 1
}

// unknown is a miss that was not looked for yet.
var unknown = math.Inf(1)

// room tells whether a point in triangle i of a plan, and on a side of it or on none, can be put there:
// not near a corner, and not near a line unless it is on it.
func (w *work) room(t *plan.Triangulation, i, side int, p r2.Vec) bool {
	keep := max(nearby, w.opt.Tolerance/2)
	for _, v := range t.Triangle(i) {
		if r2.Norm2(r2.Sub(p, t.Point(v))) < keep*keep {
			return false
		}
	}
	if side >= 0 && t.Constrained(i, side) {
		return true
	}
	if nearLine(t, i, p, keep) {
		return false
	}
	for _, j := range t.Neighbours(i) {
		if j >= 0 && nearLine(t, j, p, keep) {
			return false
		}
	}
	return true
}

// nearLine tells whether p is near a side of triangle i that is part of a line.
func nearLine(t *plan.Triangulation, i int, p r2.Vec, keep float64) bool {
	c := t.Triangle(i)
	for k, v := range c {
		if !t.Constrained(i, k) {
			continue
		}
		if _, off := onSide(t.Point(v), t.Point(c[(k+1)%3]), p); off < keep {
			return true
		}
	}
	return false
}
