package relief

import (
	"fmt"
	"math"
	"slices"

	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// end is an end of a span, and what is known of its height over the points of the plan: NaN where it was not
// asked yet. Ends with the same or opposite keys know together, the one with the negative key by its mirror.
type end struct {
	height Height
	marks  Marks
	key    int
	known  *[]float64
	sign   float64 // 1, or -1 where the negative of what is known is its height
	even   bool    // it is level over the zone, see findEven
	level  float64 // at which
}

func (w *work) newEnd(h Height, m Marks, key int) end {
	e := end{height: h, marks: m.all(), key: key, sign: 1}
	if key == 0 {
		e.known = new([]float64)
		return e
	}
	one := max(key, -key)
	if key < 0 {
		e.sign = -1
	}
	if w.known[one] == nil {
		w.known[one] = new([]float64)
	}
	e.known = w.known[one]
	return e
}

// marks are those of both ends of span k.
func (z *zone) marks(k int) Marks { return z.ends[2*k].marks | z.ends[2*k+1].marks }

// is tells whether two ends are known to be the same height.
func (e *end) is(other *end) bool { return e.key != 0 && e.key == other.key }

// mirrors tells whether two ends are known to be mirrors in z = 0.
func (e *end) mirrors(other *end) bool { return e.key != 0 && e.key == -other.key }

// like tells whether one of the first spans of a zone is known to be span k of another, or its mirror.
func (z *zone) like(other *zone, k, first int) bool {
	low, high := &other.ends[2*k], &other.ends[2*k+1]
	for n := range first {
		l, h := &z.ends[2*n], &z.ends[2*n+1]
		if l.is(low) && h.is(high) || l.mirrors(high) && h.mirrors(low) {
			return true
		}
	}
	return false
}

// shows tells whether a zone has the height, or its mirror, for an end of a span that is open over two points.
func (w *work) shows(z *zone, e *end, a, b int) bool {
	for n := range z.ends {
		if o := &z.ends[n]; (o.is(e) || o.mirrors(e)) && w.openOver(z, n/2, a, b) {
			return true
		}
	}
	return false
}

// over is the height of an end of a zone's spans over point v of the plan, remembered. Ends are
// numbered from the lowest span's Low upwards.
func (w *work) over(z *zone, end, v int) float64 {
	e := &z.ends[end]
	if h := *e.known; v < len(h) && !math.IsNaN(h[v]) {
		return e.sign * h[v]
	}
	return w.learn(z, end, v)
}

// learn remembers the height of an end of a zone's spans over point v, and tells it.
func (w *work) learn(z *zone, end, v int) float64 {
	e := &z.ends[end]
	h := *e.known
	if v >= len(h) {
		h = slices.Grow(h, cap(w.points)-len(h))
		for len(h) < len(w.points) {
			h = append(h, math.NaN())
		}
		*e.known = h
	}
	at := w.at(z, end, w.points[v])
	h[v] = e.sign * at
	return at
}

// at is the height of an end of a zone's spans at p.
func (w *work) at(z *zone, end int, p r2.Vec) float64 {
	h := z.ends[end].height(p)
	if !(math.Abs(h) <= plan.MaxCoordinate) {
		if w.bad == nil {
			w.bad = fmt.Errorf("%w: %v at (%.3f, %.3f)", ErrHeight, h, p.X, p.Y)
		}
		return 0
	}
	return h
}
