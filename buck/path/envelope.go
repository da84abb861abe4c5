package path

import (
	"math"
	"slices"

	"formbuck/buck/internal/formed"
	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r2"
)

// Straight is the draw envelope of a straight draw against x of the map's axes: what of the map passes
// over a cell on its way out, E(q) = max over a >= 0 of h(q + a x). Seen from the tip back it is the
// running maximum of each row.
func Straight(h *Map) *Map {
	e := formed.NewMap(h.Grid)
	crew.Each(e.NY, func(j int) {
		copy(e.Row(j), h.Row(j))
		running(e.Row(j))
	})
	return e
}

// running puts the greatest of a height and of all those after it in the place of each.
func running(row []float64) {
	most := math.Inf(-1)
	for i, z := range slices.Backward(row) {
		most = max(most, z)
		row[i] = most
	}
}

// Arc is the draw envelope of a draw along circles about a centre, given on the grid's axes: each cell
// is passed by what lies ahead of it, towards the tip, on its circle. h gives the height at a point of
// the grid's axes; what lies beyond the half turn that the grid's side of the centre spans is not seen.
//
// The running maximum is taken on a grid of circles and rays no further apart than a step, and read
// back at the middles of the grid's cells, straight between the four around each. So a cliff is passed over
// a step too early or too late at most.
func Arc(g Grid, centre r2.Vec, h func(r2.Vec) float64) *Map {
	p := newPolar(g, centre)
	circles := make([][]float64, p.circles)
	crew.Each(p.circles, func(c int) {
		row := make([]float64, p.rays)
		for r := range row {
			row[r] = h(p.at(c, r))
		}
		running(row)
		circles[c] = row
	})
	e := formed.NewMap(g)
	crew.Each(g.NY, func(j int) {
		for i, row := 0, e.Row(j); i < g.NX; i++ {
			c, r, u, v := p.place(g.Middle(i, j))
			low := circles[c][r] + (circles[c][r+1]-circles[c][r])*v
			high := circles[c+1][r] + (circles[c+1][r+1]-circles[c+1][r])*v
			row[i] = low + (high-low)*u
		}
	})
	return e
}

// polar is a grid of circles about a centre and of rays from it that covers a grid.
type polar struct {
	centre        r2.Vec
	low           float64 // radius of the first circle
	step, turn    float64 // between circles, mm, and between rays, radians
	circles, rays int
	start, way    float64 // angle of the first ray, and 1 or -1: which way the rays go towards the tip
}

func newPolar(g Grid, centre r2.Vec) polar {
	p := polar{centre: centre, step: g.Step, way: 1}
	highest := 0.0
	if centre.Y > g.Min.Y+float64(g.NY)*g.Step/2 {
		p.start = -math.Pi // below the centre: angles grow towards +x
	} else {
		p.start, p.way = math.Pi, -1
	}
	from, to := math.Inf(1), math.Inf(-1)
	for _, i := range []int{0, g.NX - 1} {
		for _, j := range []int{0, g.NY - 1} {
			d, a := p.local(g.Middle(i, j))
			from, to = min(from, a), max(to, a)
			highest = max(highest, d)
		}
	}
	near := r2.Vec{
		X: min(max(centre.X, g.Min.X), g.Min.X+float64(g.NX)*g.Step),
		Y: min(max(centre.Y, g.Min.Y), g.Min.Y+float64(g.NY)*g.Step),
	}
	p.low = math.Floor(r2.Norm(r2.Sub(near, centre))/p.step) * p.step
	p.turn = p.step / max(highest, p.step)
	p.start += p.way * from
	p.circles = int((highest-p.low)/p.step) + 3
	p.rays = int((to-from)/p.turn) + 3
	return p
}

// local is a point as its distance from the centre and its angle from the start, in (-pi, pi].
func (p polar) local(q r2.Vec) (far, angle float64) {
	d := r2.Sub(q, p.centre)
	a := p.way * (math.Atan2(d.Y, d.X) - p.start)
	return r2.Norm(d), math.Remainder(a, 2*math.Pi)
}

func (p polar) at(circle, ray int) r2.Vec {
	far, a := p.low+float64(circle)*p.step, p.start+p.way*float64(ray)*p.turn
	return r2.Vec{X: p.centre.X + far*math.Cos(a), Y: p.centre.Y + far*math.Sin(a)}
}

// place is the circle and the ray before q, and how far on it is to the next of each, from 0 to 1.
func (p polar) place(q r2.Vec) (circle, ray int, u, v float64) {
	far, a := p.local(q)
	u = min(max((far-p.low)/p.step, 0), float64(p.circles-1))
	v = min(max(a/p.turn, 0), float64(p.rays-1))
	circle, ray = min(int(u), p.circles-2), min(int(v), p.rays-2)
	return circle, ray, u - float64(circle), v - float64(ray)
}
