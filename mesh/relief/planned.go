package relief

import (
	"math"
	"sync/atomic"

	"formbuck/mesh/crew"
	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// planned adds a skin to the mesh as the body's plan has it, if a plan of its own would be no other and no point needs
// to be added to it, so far as a few triangles show. All are looked at in the background.
func (s *stitcher) planned(k *skin) bool {
	if s.fitAll || !s.ownLines(k) || s.missesFew(k) {
		return false
	}
	s.begin(k)
	for n, c := range k.parts {
		t, l := s.plan.Triangle(int(c.triangle)), s.of(c)
		var corners [3]int32
		for j, v := range t {
			corners[j] = s.vertex(v, l.at[j].end(k.end))
			if k.rim[n]>>j&1 == 0 {
				s.chord(k.end, v, t[(j+1)%3])
			}
		}
		if k.end == 0 {
			corners[1], corners[2] = corners[2], corners[1]
		}
		s.triangle(corners[0], corners[1], corners[2])
	}
	return true
}

// ownLines tells whether the plan has nothing within the skin but the lines that bend it and their points.
func (s *stitcher) ownLines(k *skin) bool {
	if k.crossed || len(k.split) > 0 {
		return false
	}
	marks := s.end(k.parts[0], k.end).marks
	border := s.local[:len(k.points)]
	clear(border)
	for _, e := range k.border {
		border[s.number[e.a]-1] = 1
	}
	for n, v := range k.points {
		if border[n] == 0 && s.draft.marks(v)&marks == 0 {
			return false
		}
	}
	return true
}

// missesFew tells whether one of a few triangles of the skin misses the height by more than is allowed.
func (s *stitcher) missesFew(k *skin) bool {
	const step = 32
	l := s.looker(k)
	for n := 0; n < len(k.parts); n += step {
		if l.misses(n) {
			return true
		}
	}
	return false
}

// check is a look at all triangles of a skin.
type check struct {
	missed atomic.Bool // one misses the height by more than is allowed
	finish func()
}

// begin begins a check of the skin.
func (s *stitcher) begin(k *skin) {
	const some = 64 // looked at in one go
	c := new(check)
	c.finish = crew.Begin((len(k.parts)+some-1)/some, func(i int) {
		l := s.looker(k)
		for n := i * some; n < min((i+1)*some, len(k.parts)) && !c.missed.Load(); n++ {
			if l.misses(n) {
				c.missed.Store(true)
			}
		}
	})
	s.checks = append(s.checks, c)
}

// missed tells, once all checks have come to an end, whether one has found a miss.
func (s *stitcher) missed() bool {
	missed := false
	for _, c := range s.checks {
		c.missed.CompareAndSwap(false, missed) // one is enough
		c.finish()
		missed = missed || c.missed.Load()
	}
	s.checks = nil
	return missed
}

// looker looks at triangles of a skin.
type looker struct {
	*stitcher
	skin  *skin
	at    carried // that is looked at
	facet facet
}

func (s *stitcher) looker(k *skin) *looker {
	l := &looker{stitcher: s, skin: k}
	l.facet = facet{
		grid: s.grid.bent(s.end(k.parts[0], k.end).marks).copied(), any: true,
		height: l.height,
		room:   func(int, r2.Vec) bool { return true },
		missed: func(int, float64) float64 { return unknown },
	}
	return l
}

// height is the skin's height at p; where it is no number it is missed.
func (l *looker) height(p r2.Vec) float64 {
	h := l.end(l.at, l.skin.end).height(p)
	if !(math.Abs(h) <= plan.MaxCoordinate) {
		return math.Inf(1)
	}
	return h
}

// misses tells whether triangle n of the skin misses the height. Along lines it was looked at when the plan was
// cut, and along a short side it is looked at once.
func (l *looker) misses(n int) bool {
	l.at = l.skin.parts[n]
	i, f := int(l.at.triangle), &l.facet
	at := &l.of(l.at).at
	for j, v := range l.plan.Triangle(i) {
		f.corners[j], f.z[j] = l.points[v], float64(at[j].end(l.skin.end))*plan.Grid
	}
	for j := range f.closed {
		f.closed[j] = l.plan.Constrained(i, j) || l.skin.rim[n]>>j&1 != 0
		if next, _ := l.plan.Across(i, j); !f.closed[j] && next < i {
			f.closed[j] = r2.Norm2(r2.Sub(f.corners[(j+1)%3], f.corners[j])) < 4*grain*grain
		}
	}
	_, bad := l.planeMiss(f)
	return bad
}
