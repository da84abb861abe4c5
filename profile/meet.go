package profile

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// meeting is where two segments meet: up to two points, or a stretch that both share.
type meeting struct {
	at     [2]r2.Vec
	n      int
	shared bool // at[0] to at[1] lies on both
}

func (m *meeting) add(p r2.Vec) {
	if m.n < 2 {
		m.at[m.n] = p
		m.n++
	}
}

// touch is how far beyond its end, in mm, a segment still meets another: rounding of coordinates up
// to the size of a knife.
const touch = 1e-9

// shareLeast is the least length, in mm, of a stretch that counts as shared, and shareOff how far
// apart the two may lie on it.
const (
	shareLeast = 0.005
	shareOff   = 1e-5
)

// meetingOf finds where two segments meet.
func meetingOf(a, b Segment) meeting {
	sa, sb := a.Straight(), b.Straight()
	switch {
	case sa && sb:
		return meetLines(a, b)
	case sa:
		return meetLineArc(a, b)
	case sb:
		return meetLineArc(b, a)
	}
	return meetArcs(a, b)
}

// meetLines is meetingOf for two lines.
func meetLines(a, b Segment) (m meeting) {
	da, db := r2.Sub(a.B, a.A), r2.Sub(b.B, b.A)
	la, lb := r2.Norm(da), r2.Norm(db)
	if la == 0 || lb == 0 {
		return m
	}
	w := r2.Sub(b.A, a.A)
	den := r2.Cross(da, db)
	if math.Abs(den) > 1e-9*la*lb {
		t, u := r2.Cross(w, db)/den, r2.Cross(w, da)/den
		if t >= -touch/la && t <= 1+touch/la && u >= -touch/lb && u <= 1+touch/lb {
			m.add(r2.Add(a.A, r2.Scale(t, da)))
		}
		return m
	}
	// parallel: the stretch of a that lies beside b
	t0, t1 := r2.Dot(w, da)/la, r2.Dot(r2.Sub(b.B, a.A), da)/la
	t0, t1 = max(0, min(t0, t1)), min(la, max(t0, t1))
	if t1-t0 < -touch || math.Abs(r2.Cross(da, w))/la > shareOff {
		return m
	}
	m.add(r2.Add(a.A, r2.Scale(t0/la, da)))
	if t1-t0 >= shareLeast {
		m.add(r2.Add(a.A, r2.Scale(t1/la, da)))
		m.shared = true
	}
	return m
}

// meetLineArc is meetingOf for a line and an arc.
func meetLineArc(l, a Segment) (m meeting) {
	c, r := a.circle()
	d := r2.Sub(l.B, l.A)
	n := r2.Norm(d)
	if n == 0 {
		return m
	}
	d = r2.Scale(1/n, d)
	w := r2.Sub(c, l.A)
	foot, off := r2.Dot(w, d), r2.Cross(d, w)
	h2 := r*r - off*off
	if h2 < 0 {
		return m
	}
	h := math.Sqrt(h2)
	for i, t := range [2]float64{foot - h, foot + h} {
		if i == 1 && h < touch {
			break
		}
		p := r2.Add(l.A, r2.Scale(t, d))
		if t >= -touch && t <= n+touch && a.holds(p) {
			m.add(p)
		}
	}
	return m
}

// holds reports whether a point of the arc's circle lies on the arc or within touch of its ends.
func (s Segment) holds(p r2.Vec) bool {
	return s.onArcSide(p) || r2.Norm2(r2.Sub(p, s.A)) <= touch*touch || r2.Norm2(r2.Sub(p, s.B)) <= touch*touch
}

// meetArcs is meetingOf for two arcs.
func meetArcs(a, b Segment) (m meeting) {
	ca, ra := a.circle()
	cb, rb := b.circle()
	d := r2.Sub(cb, ca)
	n := math.Sqrt(r2.Norm2(d))
	if n+math.Abs(ra-rb) <= shareOff {
		return shareArc(a, b)
	}
	if n > ra+rb || n < math.Abs(ra-rb) || n == 0 {
		return m
	}
	x := (n*n + ra*ra - rb*rb) / (2 * n)
	h2 := ra*ra - x*x
	if h2 < 0 {
		h2 = 0
	}
	h := math.Sqrt(h2)
	u := r2.Scale(1/n, d)
	for i, s := range [2]float64{h, -h} {
		if i == 1 && h < touch {
			break
		}
		p := r2.Add(ca, r2.Add(r2.Scale(x, u), r2.Scale(s, r2.Vec{X: -u.Y, Y: u.X})))
		if a.holds(p) && b.holds(p) {
			m.add(p)
		}
	}
	return m
}

// shareArc is meetingOf for two arcs of one circle: a point of one lies within the other, or they
// meet at ends only.
func shareArc(a, b Segment) (m meeting) {
	for _, t := range [...]float64{0.5, 0.1, 0.9, 0.01, 0.99} {
		for _, pair := range [2][2]Segment{{a, b}, {b, a}} {
			p := pair[0].At(t)
			far := min(r2.Norm(r2.Sub(p, pair[1].A)), r2.Norm(r2.Sub(p, pair[1].B)))
			if pair[1].onArcSide(p) && far > shareLeast {
				m.at = [2]r2.Vec{p, p}
				m.n, m.shared = 2, true
				return m
			}
		}
	}
	for _, p := range [2]r2.Vec{a.A, a.B} {
		if r2.Norm(r2.Sub(p, b.A)) <= touch || r2.Norm(r2.Sub(p, b.B)) <= touch {
			m.add(p)
		}
	}
	return m
}
