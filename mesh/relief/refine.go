package relief

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// grain is the distance, in mm, at which heights are looked at along lines and over triangles: what
// is smaller may be missed. No piece has features smaller than two beads of a 0.4 mm nozzle.
const grain = 0.5

// allowed is the miss that is let pass where it is looked for; the rest of the tolerance is for what
// lies between.
func (w *work) allowed() float64 { return 0.7 * w.opt.Tolerance }

// addition is a point to add to the plan: on the edge between two points of it, or, where these are
// equal, within a triangle.
type addition struct {
	at   r2.Vec
	a, b int
}

// refine adds points to the plan until no chord of a line misses a height that ends there, and no
// chord of a foot the foot, by more than is allowed.
func (w *work) refine() error {
	for {
		want := w.misses(w.plan.Fresh())
		if w.bad != nil {
			return w.bad
		}
		before := len(w.points)
		if err := w.add(want); err != nil {
			return err
		}
		if w.plan.Len() == before {
			return nil
		}
		w.survey()
		if len(w.points) > w.opt.MaxPoints {
			return fmt.Errorf("%w: %d", ErrTooFine, w.opt.MaxPoints)
		}
	}
}

// add cuts the plan at points, but no edge twice.
func (w *work) add(points []addition) error {
	done := make(map[[2]int]bool)
	for _, p := range points {
		edge := [2]int{p.a, p.b}
		if p.a != p.b && done[edge] {
			continue
		}
		done[edge] = true
		if _, err := w.plan.SplitBetween(p.a, p.b, p.at); err != nil {
			return fmt.Errorf("plan: %w", err)
		}
	}
	return nil
}

// look is one look at triangles for points to add.
type look struct {
	*work
	long  []float64 // of each triangle its longest side, in mm; 0 where nothing is looked for
	later []bool    // of each triangle, whether it is still to be looked at
}

func (w *work) newLook(triangles []int) *look {
	l := &look{work: w, long: make([]float64, len(w.zone)), later: make([]bool, len(w.zone))}
	for i, z := range w.zone {
		if len(z.spans) == 0 {
			continue
		}
		if far := w.longest(i); far >= 2*w.opt.Tolerance {
			l.long[i] = far
		}
	}
	for _, i := range triangles {
		l.later[i] = true
	}
	return l
}

// beyond is the zone beyond side j of triangle i, if the side was looked at there already.
func (l *look) beyond(i, j int) *zone {
	if n, _ := l.plan.Across(i, j); n >= 0 && !l.later[n] && l.long[n] > 0 {
		return l.zone[n]
	}
	return nil
}

// misses are the points to add for the sides and the feet of triangles.
func (w *work) misses(triangles []int) []addition {
	var sides, feet []addition
	l := w.newLook(triangles)
	for _, i := range triangles {
		l.later[i] = false
		if l.long[i] == 0 {
			continue
		}
		for j := range 3 {
			if p, ok := l.sideMiss(i, j); ok {
				sides = append(sides, p)
			}
		}
		z := w.zone[i]
		for k := range z.spans {
			if z.like(z, k, k) {
				continue
			}
			thick := w.thicknesses(z, k, i)
			if min(thick[0], thick[1], thick[2]) > l.long[i] {
				continue // so thick that no foot is looked for
			}
			for j := range 3 {
				if p, ok := l.poke(k, i, j); ok {
					sides = append(sides, p)
				}
			}
			if p, ok := l.footMiss(z, k, i, thick); ok {
				feet = append(feet, w.within(i, p))
			}
		}
	}
	return append(sides, feet...)
}

func (w *work) longest(i int) float64 {
	q := w.corners(i)
	return math.Sqrt(max(r2.Norm2(r2.Sub(q[0], q[1])), r2.Norm2(r2.Sub(q[1], q[2])), r2.Norm2(r2.Sub(q[2], q[0]))))
}

// within puts a point in triangle i, or on the line along its side that it is near.
func (w *work) within(i int, p r2.Vec) addition {
	t := w.plan.Triangle(i)
	for k, v := range t {
		if !w.plan.Constrained(i, k) {
			continue
		}
		u := t[(k+1)%3]
		if at, off := onSide(w.points[v], w.points[u], p); off < nearby {
			return addition{at: at, a: min(u, v), b: max(u, v)}
		}
	}
	return addition{at: p}
}

// pieces is into how many pieces a length is cut to be looked at.
func pieces(length float64) int { return max(2, int(math.Ceil(length/grain))) }

// sideMiss is where side j of triangle i, if it is part of a line, misses the most of a height that
// the line bends and that was not looked at in the zone beyond.
func (l *look) sideMiss(i, j int) (addition, bool) {
	if !l.plan.Constrained(i, j) {
		return addition{}, false
	}
	z, beyond, t := l.zone[i], l.beyond(i, j), l.plan.Triangle(i)
	a, b := min(t[j], t[(j+1)%3]), max(t[j], t[(j+1)%3])
	p, q := l.points[a], l.points[b]
	mark := Marks(l.plan.Mark(i, j))
	best, worst := addition{a: a, b: b}, l.allowed()
	for end := range z.ends {
		m := z.ends[end].marks
		if m&mark == 0 || beyond != nil && l.shows(beyond, &z.ends[end], a, b) {
			continue
		}
		for _, u := range l.stops(p, q, m) {
			at := r2.Add(r2.Scale(1-u, p), r2.Scale(u, q))
			far := math.Abs(l.at(z, end, at) - (1-u)*l.over(z, end, a) - u*l.over(z, end, b))
			if far <= worst || l.thicknessAt(z, end/2, at) <= 0 && !l.openOver(z, end/2, a, b) {
				continue
			}
			if far /= l.flattest(z, end, at); far > worst {
				worst, best.at = far, at
			}
		}
	}
	return best, worst > l.allowed()
}

// poke is where a foot pokes through side j of triangle i and back, so that the side's ends do not show
// it: the span is open there where it is not at the ends, or the other way about, by more than a foot
// may be missed. It is looked for where the span is thinner at the ends than the side is long.
func (l *look) poke(k, i, j int) (addition, bool) {
	z := l.zone[i]
	if b := l.beyond(i, j); b != nil && b.like(z, k, len(b.spans)) {
		return addition{}, false
	}
	t := l.plan.Triangle(i)
	a, b := min(t[j], t[(j+1)%3]), max(t[j], t[(j+1)%3])
	p, q := l.points[a], l.points[b]
	ta, tb := l.thickness(z, k, a), l.thickness(z, k, b)
	thinnest := min(math.Abs(ta), math.Abs(tb))
	if ta*tb < 0 || thinnest*thinnest > r2.Norm2(r2.Sub(q, p)) {
		return addition{}, false
	}
	sign := math.Copysign(1, ta+tb)
	best, worst := addition{a: a, b: b}, l.allowed()
	for _, u := range l.stops(p, q, z.marks(k)) {
		at := r2.Add(r2.Scale(1-u, p), r2.Scale(u, q))
		deep := -sign * l.thicknessAt(z, k, at)
		if deep <= worst {
			continue
		}
		if deep /= l.steepness(z, 2*k, at) + l.steepness(z, 2*k+1, at); deep > worst {
			worst, best.at = deep, at
		}
	}
	return best, worst > l.allowed()
}

// footMiss is a point of the foot of span k in triangle i that the foot's chord misses, or one that
// shows a foot which the corners do not.
func (l *look) footMiss(z *zone, k, i int, thick [3]float64) (r2.Vec, bool) {
	switch ends := l.footings(i, z, k, thick); len(ends) {
	case 0, 1:
		return l.hidden(z, k, i, thick)
	default:
		return chord{l.work, z, k, ends[0].at, ends[1].at}.miss()
	}
}

// hidden is a point of the triangle at which the span is open where it is not at its corners, or the
// other way about. It is looked for where the span is thinner than the triangle is long.
func (l *look) hidden(z *zone, k, i int, thick [3]float64) (r2.Vec, bool) {
	least, clearest := math.Inf(1), 0.0
	for _, h := range thick {
		least = min(least, math.Abs(h))
		if math.Abs(h) > math.Abs(clearest) {
			clearest = h
		}
	}
	sign := math.Copysign(1, clearest)
	if least > l.long[i] {
		return r2.Vec{}, false
	}
	q := l.corners(i)
	for _, p := range [4]r2.Vec{
		l.middle(i),
		r2.Scale(0.5, r2.Add(q[0], q[1])), r2.Scale(0.5, r2.Add(q[1], q[2])), r2.Scale(0.5, r2.Add(q[2], q[0])),
	} {
		if sign*l.thicknessAt(z, k, p) < -l.allowed() {
			return p, true
		}
	}
	return r2.Vec{}, false
}
