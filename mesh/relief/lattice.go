package relief

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Lattice says where heights may bend without being told so by lines: along two families of straight
// lines that cross at right angles, DX and DY apart. Between them the heights are straight along the lines, as
// those that are read from a grid of nodes are, so that whatever misses them by the most does so at a
// node, or where it crosses a line.
type Lattice struct {
	Origin   r2.Vec  // a node
	AngleDeg float64 // of the first family's lines, and of DX
	DX, DY   float64 // mm; nothing bends where one of them is 0
	Bends    Marks
}

// grid is a lattice with its axes worked out.
type grid struct {
	origin r2.Vec
	x, y   r2.Vec // the way from node to node, divided by its length squared
	marks  Marks

	// Room that calls use again: shares of a way.
	at, all []float64
}

// gridOf is the lattice to be looked at; nil where there is none.
func gridOf(l *Lattice) *grid {
	if l == nil || !(l.DX > 0 && l.DY > 0) {
		return nil
	}
	sin, cos := math.Sincos(l.AngleDeg * math.Pi / 180)
	return &grid{
		origin: l.Origin, marks: l.Bends.all(),
		x: r2.Vec{X: cos / l.DX, Y: sin / l.DX}, y: r2.Vec{X: -sin / l.DY, Y: cos / l.DY},
	}
}

// bends tells whether heights with the marks bend along the grid's lines.
func (g *grid) bends(m Marks) bool { return g != nil && g.marks&m.all() != 0 }

// bent is the grid, nil where heights with the marks do not bend along its lines.
func (g *grid) bent(m Marks) *grid {
	if g.bends(m) {
		return g
	}
	return nil
}

// copied is the grid for one that works beside others; nil for none.
func (g *grid) copied() *grid {
	if g == nil {
		return nil
	}
	c := *g
	c.at, c.all = nil, nil
	return &c
}

// on is p in the grid's axes, in steps.
func (g *grid) on(p r2.Vec) r2.Vec {
	d := r2.Sub(p, g.origin)
	return r2.Vec{X: r2.Dot(g.x, d), Y: r2.Dot(g.y, d)}
}

// stops are the shares of the way from a to b at which a height with the marks is looked at: where
// the grid's lines are crossed and half way between these, or a grain apart. The list holds until the next is asked for.
func (w *work) stops(a, b r2.Vec, m Marks) []float64 {
	if g := w.grid; g.bends(m) {
		return g.halved(g.on(a), g.on(b))
	}
	n := pieces(r2.Norm(r2.Sub(b, a)))
	w.even = w.even[:0]
	for s := 1; s < n; s++ {
		w.even = append(w.even, float64(s)/float64(n))
	}
	return w.even
}

// crossings are the shares of the way from a to b, on the grid's axes, at which its lines are crossed,
// in order.
func (g *grid) crossings(a, b r2.Vec) []float64 {
	at := g.at[:0]
	for _, axis := range [2][2]float64{{a.X, b.X}, {a.Y, b.Y}} {
		low, high := min(axis[0], axis[1]), max(axis[0], axis[1])
		for n := math.Ceil(low); n <= high; n++ {
			if t := (n - axis[0]) / (axis[1] - axis[0]); 0 < t && t < 1 {
				at = append(at, t)
			}
		}
	}
	slices.Sort(at)
	g.at = at
	return at
}

// halved are the crossings of the way from a to b with what lies half way between any two, and before the first and
// after the last.
func (g *grid) halved(a, b r2.Vec) []float64 {
	all := g.all[:0]
	last := 0.0
	for _, t := range g.crossings(a, b) {
		if t-last > 1e-9 {
			all = append(all, (last+t)/2, t)
		}
		last = t
	}
	g.all = append(all, (last+1)/2)
	return g.all
}

// triangle is a triangle on the grid's axes.
func (g *grid) triangle(q [3]r2.Vec) latticed {
	return latticed{g, [3]r2.Vec{g.on(q[0]), g.on(q[1]), g.on(q[2])}}
}

// latticed is a triangle on a grid's axes.
type latticed struct {
	*grid
	c [3]r2.Vec
}

// side calls yield with the weights of the corners at the stops of side k.
func (l latticed) side(k int, yield func(b [3]float64)) {
	for _, t := range l.halved(l.c[k], l.c[(k+1)%3]) {
		var b [3]float64
		b[k], b[(k+1)%3] = 1-t, t
		yield(b)
	}
}

// nodes calls yield with the weights of the corners at every node of the grid in the triangle.
func (l latticed) nodes(yield func(b [3]float64)) {
	c := l.c
	u, v := r2.Sub(c[1], c[0]), r2.Sub(c[2], c[0])
	det := r2.Cross(u, v)
	if det == 0 {
		return
	}
	low, high := min(c[0].Y, c[1].Y, c[2].Y), max(c[0].Y, c[1].Y, c[2].Y)
	for y := math.Ceil(low); y <= high; y++ {
		from, to := row(c, y)
		for x := math.Ceil(from); x <= to; x++ {
			d := r2.Sub(r2.Vec{X: x, Y: y}, c[0])
			s, t := r2.Cross(d, v)/det, r2.Cross(u, d)/det
			if s > 0 && t > 0 && s+t < 1 {
				yield([3]float64{1 - s - t, s, t})
			}
		}
	}
}

// fewIn tells whether so few nodes are in a triangle that it is worth the while to look at all of them at once for the one that
// is missed by the most, and not first at a few points for any that is missed.
func (g *grid) fewIn(q [3]r2.Vec) bool {
	const few = 40
	return math.Abs(r2.Cross(r2.Sub(q[1], q[0]), r2.Sub(q[2], q[0])))/2*r2.Norm(g.x)*r2.Norm(g.y) < few
}

// row is the stretch of a level line that lies in a triangle.
func row(c [3]r2.Vec, y float64) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for k := range 3 {
		a, b := c[k], c[(k+1)%3]
		if (a.Y > y) == (b.Y > y) {
			continue
		}
		x := a.X + (y-a.Y)/(b.Y-a.Y)*(b.X-a.X)
		from, to = min(from, x), max(to, x)
	}
	return from, to
}
