package dxf

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// almostTurn is how near a stated sweep comes to a whole turn, as a share of it, for it to be meant:
// files round their angles.
const almostTurn = 1e-5

// sweep is the angle from start counter-clockwise to end, above 0 and up to a whole turn.
func sweep(start, end, turn float64) float64 {
	s := end - start
	if math.Abs(math.Abs(s)-turn) <= almostTurn*turn {
		return turn
	}
	if s = math.Mod(s, turn); s <= fullTurn {
		s += turn
	}
	return min(s, turn)
}

// arc gives a circular arc of the plane of m, as a chain where it stays round.
func (w *walker) arc(it Item, centre r3.Vec, radius, startDeg, sweepDeg float64, m *matrix) {
	if radius == 0 {
		w.sink.Skip(it, "no size")
		return
	}
	u, v := m.planVec(r3.Vec{X: radius}), m.planVec(r3.Vec{Y: radius})
	t0 := startDeg * math.Pi / 180
	w.conic(it, Conic{Centre: m.plan(centre), U: u, V: v, T0: t0, T1: t0 + sweepDeg*math.Pi/180})
}

// fullTurn is how near a sweep comes to a whole turn, in radians, for it to count as one.
const fullTurn = 1e-9

// conic gives an arc of an ellipse, as a chain where it is a circle's.
func (w *walker) conic(it Item, c Conic) {
	if !sameCircle(c.U, c.V) {
		w.sink.Conic(it, c)
		return
	}
	turn := c.T1 - c.T0
	full := turn >= 2*math.Pi-fullTurn
	n := max(1, int(math.Ceil(turn/math.Pi-fullTurn)))
	bulge := math.Tan(turn / float64(n) / 4)
	if r2.Cross(c.U, c.V) < 0 {
		bulge = -bulge
	}
	w.vertices = w.vertices[:0]
	for i := range n + 1 {
		p := c.at(c.T0 + turn*float64(i)/float64(n))
		w.vertices = append(w.vertices, Vertex{X: p.X, Y: p.Y, Bulge: bulge})
	}
	if full {
		w.vertices = w.vertices[:n]
	}
	w.sink.Chain(it, w.vertices, full)
}

// at is the point at the parameter t. At quarter turns it is exact.
func (c *Conic) at(t float64) r2.Vec {
	sin, cos := math.Sincos(t)
	if q := t / (math.Pi / 2); math.Abs(q-math.Round(q)) < 1e-14*max(1, math.Abs(q)) {
		sin, cos = math.Round(sin), math.Round(cos)
	}
	return r2.Add(c.Centre, r2.Add(r2.Scale(cos, c.U), r2.Scale(sin, c.V)))
}

// At is the point at the parameter t, in radians.
func (c Conic) At(t float64) r2.Vec { return c.at(t) }

// Derivative is the rate of change of At.
func (c Conic) Derivative(t float64) r2.Vec {
	sin, cos := math.Sincos(t)
	return r2.Add(r2.Scale(-sin, c.U), r2.Scale(cos, c.V))
}

// ellipse gives an elliptic arc: its minor axis is the normal crossed with the major axis.
func (w *walker) ellipse(it Item, e *Ellipse, normal r3.Vec, m *matrix) {
	minor := r3.Scale(e.Ratio, r3.Cross(normal, e.Major))
	u, v := m.vec(e.Major), m.vec(minor)
	it.Tilted = u.Z != 0 || v.Z != 0
	w.conic(it, Conic{
		Centre: m.plan(e.Centre), U: r2.Vec{X: u.X, Y: u.Y}, V: r2.Vec{X: v.X, Y: v.Y}, T0: e.Start, T1: e.Start + sweep(e.Start, e.End, 2*math.Pi),
	})
}

// polyline gives a row of lines and arcs; where the map does not keep circles round, piece by piece.
func (w *walker) polyline(it Item, p *Polyline, own matrix, m *matrix) {
	if p.Mesh {
		w.sink.Unread(it, nil)
		return
	}
	if p.World {
		own = *m
	} else {
		w.inPlane(&it, &own, m)
	}
	if len(p.Vertices) < 2 {
		w.sink.Skip(it, "a single point")
		return
	}
	if own == identity {
		w.sink.Chain(it, p.Vertices, p.Closed)
		return
	}
	round, mirrored := own.round()
	w.vertices = w.vertices[:0]
	straight := true
	for _, v := range p.Vertices {
		q := own.plan(r3.Vec{X: v.X, Y: v.Y, Z: p.Elevation})
		if mirrored && v.Bulge != 0 {
			v.Bulge = -v.Bulge
		}
		straight = straight && v.Bulge == 0
		w.vertices = append(w.vertices, Vertex{X: q.X, Y: q.Y, Bulge: v.Bulge})
	}
	if round || straight {
		w.sink.Chain(it, w.vertices, p.Closed)
		return
	}
	w.bulges(it, p, &own)
}

// bulges gives a polyline piece by piece, its arcs as arcs of ellipses.
func (w *walker) bulges(it Item, p *Polyline, m *matrix) {
	n := len(p.Vertices)
	for i, v := range p.Vertices {
		if i == n-1 && !p.Closed {
			return
		}
		next := p.Vertices[(i+1)%n]
		a, b := r2.Vec{X: v.X, Y: v.Y}, r2.Vec{X: next.X, Y: next.Y}
		chord := r2.Sub(b, a)
		if v.Bulge == 0 || chord == (r2.Vec{}) {
			qa, qb := m.plan(r3.Vec{X: a.X, Y: a.Y, Z: p.Elevation}), m.plan(r3.Vec{X: b.X, Y: b.Y, Z: p.Elevation})
			w.vertices = append(w.vertices[:0], Vertex{X: qa.X, Y: qa.Y}, Vertex{X: qb.X, Y: qb.Y})
			w.sink.Chain(it, w.vertices, false)
			continue
		}
		k := (1 - v.Bulge*v.Bulge) / (4 * v.Bulge)
		c := r2.Add(r2.Scale(0.5, r2.Add(a, b)), r2.Scale(k, r2.Vec{X: -chord.Y, Y: chord.X}))
		u := r2.Sub(a, c)
		side := r2.Vec{X: -u.Y, Y: u.X}
		if v.Bulge < 0 {
			side = r2.Scale(-1, side)
		}
		w.conic(it, Conic{
			Centre: m.plan(r3.Vec{X: c.X, Y: c.Y, Z: p.Elevation}),
			U:      m.planVec(r3.Vec{X: u.X, Y: u.Y}),
			V:      m.planVec(r3.Vec{X: side.X, Y: side.Y}),
			T1:     4 * math.Atan(math.Abs(v.Bulge)),
		})
	}
}
