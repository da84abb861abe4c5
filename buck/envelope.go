package buck

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r2"
)

// Envelope is what of the bare knife passes over a point on its way out of the sheath: the draw
// envelope E(q) = max over a >= 0 of h(q - a d), d the direction of the draw. Here d points along
// -x of the envelope's own axes, so E is the running maximum of h along each row, from the tip back.
//
// Rows are a step apart. Along a row heights are sampled at every column, and the ends of the
// steel are found exactly, because h jumps there. Between rows E is taken as straight.
type Envelope struct {
	h          func(r2.Vec) float64
	x0, dx     float64
	y0, dy     float64
	rows       []row
	turn, back float64 // angle of the draw's axes, and its negative, in radians
}

// row is one line along the draw.
type row struct {
	deeper []float64 // at each column: the greatest height at this column and further towards the tip
	gaps   []gap     // from the mouth to the tip
}

// gap is a stretch of a row without steel that has steel further towards the tip.
type gap struct {
	from, to float64
	passes   float64 // the greatest height of that steel
}

// envelopeStep is the distance of rows and columns in mm. On a bevel of one in ten with an edge curved to
// 50 mm radius the rows' straight interpolation misses less than 1e-5 mm.
const envelopeStep = 0.2

// graze is how far, in mm, the outermost rows stay within the box, so that they meet the steel that
// touches its sides.
const graze = 1e-3

// newEnvelope covers the box, given in the draw's axes, which are turned by cant from the blade's.
// h must be 0 where there is no steel.
func newEnvelope(h func(r2.Vec) float64, box r2.Box, cantDeg float64) *Envelope {
	size := box.Max
	size = r2.Sub(size, box.Min)
	nx, ny := int(math.Ceil(size.X/envelopeStep)), int(math.Ceil(size.Y/envelopeStep))
	nx, ny = max(nx, 1), max(ny, 1)
	e := &Envelope{
		h: h, x0: box.Min.X, y0: box.Min.Y + graze,
		dx: size.X / float64(nx), dy: (size.Y - 2*graze) / float64(ny),
		turn: radians(cantDeg), back: -radians(cantDeg),
	}
	for j := range ny + 1 {
		e.rows = append(e.rows, e.row(e.y0+float64(j)*e.dy, nx))
	}
	return e
}

// at is h at a point of the draw's axes.
func (e *Envelope) at(x, y float64) float64 {
	return e.h(r2.Rotate(r2.Vec{X: x, Y: y}, e.turn, r2.Vec{}))
}

func (e *Envelope) row(y float64, nx int) row {
	r := row{deeper: make([]float64, nx+1)}
	best, right := 0.0, 0.0
	var open *gap
	for i := nx; i >= 0; i-- {
		x := e.x0 + float64(i)*e.dx
		z := e.at(x, y)
		switch {
		case z == 0 && right > 0:
			r.gaps = append(r.gaps, gap{to: e.end(x+e.dx, x, y), passes: best})
			open = &r.gaps[len(r.gaps)-1]
		case z > 0 && open != nil:
			open.from = e.end(x, x+e.dx, y)
			open = nil
		}
		best = math.Max(best, z)
		r.deeper[i], right = best, z
	}
	if open != nil {
		open.from = math.Inf(-1)
	}
	for i, j := 0, len(r.gaps)-1; i < j; i, j = i+1, j-1 {
		r.gaps[i], r.gaps[j] = r.gaps[j], r.gaps[i]
	}
	return r
}

// end is where the steel ends between x with steel and x without.
func (e *Envelope) end(steel, bare, y float64) float64 {
	for math.Abs(steel-bare) > 1e-5 {
		m := (steel + bare) / 2
		if e.at(m, y) > 0 {
			steel = m
		} else {
			bare = m
		}
	}
	return steel
}

// Over is E at p, given in the blade's axes.
func (e *Envelope) Over(p r2.Vec) float64 {
	if z := e.h(p); z > 0 {
		return e.OverSteel(p, z)
	}
	return e.OverGap(p)
}

// OverSteel is E at a point where the knife is z thick: z, or what passes from further in. It goes
// on smoothly a little beyond the steel.
func (e *Envelope) OverSteel(p r2.Vec, z float64) float64 {
	q := r2.Rotate(p, e.back, r2.Vec{})
	i := e.column(q.X)
	return math.Max(z, e.between(q.Y, func(r *row) float64 { return r.deeper[i] }))
}

// reachMouth is how far, in mm, from a row's gap towards the mouth a point may lie and still be taken
// to lie in it: an end of the steel that runs aslant moves by that much from row to row.
const reachMouth = 2

// OverGap is E at a point without steel. Within a gap it depends on the row alone.
func (e *Envelope) OverGap(p r2.Vec) float64 {
	q := r2.Rotate(p, e.back, r2.Vec{})
	return e.between(q.Y, func(r *row) float64 { return e.past(r, q.X) })
}

// inGap tells whether p lies in a gap of the row nearest to it.
func (e *Envelope) inGap(p r2.Vec) bool {
	q := r2.Rotate(p, e.back, r2.Vec{})
	j := min(max(int(math.Round((q.Y-e.y0)/e.dy)), 0), len(e.rows)-1)
	gaps := e.rows[j].gaps
	n := sort.Search(len(gaps), func(n int) bool { return gaps[n].to >= q.X })
	return n < len(gaps) && gaps[n].from <= q.X
}

// past is what passes over x on a row, where the rows beside it have a gap. In a gap that is one
// height. On steel it falls along the row from what passes the gap before to what passes the gap
// behind, so that it jumps nowhere; near the gap behind, from where x may come, it is that gap's.
func (e *Envelope) past(r *row, x float64) float64 {
	deeper := r.deeper[e.column(x)]
	n := sort.Search(len(r.gaps), func(n int) bool { return r.gaps[n].to >= x })
	if n == len(r.gaps) || deeper == 0 {
		return deeper
	}
	g := r.gaps[n]
	if x >= g.from {
		return g.passes
	}
	reach := float64(reachMouth)
	if n > 0 {
		reach = math.Min(reach, g.from-r.gaps[n-1].to)
	}
	return g.passes + (deeper-g.passes)*math.Min(1, (g.from-x)/reach)
}

// column is the first column at x or further towards the tip.
func (e *Envelope) column(x float64) int {
	n := len(e.rows[0].deeper)
	return min(max(int(math.Ceil((x-e.x0)/e.dx)), 0), n-1)
}

// cliff is the steepest that E falls from row to row, as a tangent. Where it falls more steeply, as beside a
// heel that hangs down at full thickness, the higher row is carried on by one row and let down at
// this slope, so that what is read between rows is nowhere less than what passes.
const cliff = 2

// between interpolates a value of the rows at y.
func (e *Envelope) between(y float64, value func(*row) float64) float64 {
	last := len(e.rows) - 1
	s := math.Min(math.Max((y-e.y0)/e.dy, 0), float64(last))
	j := min(int(s), last-1)
	var known [6]float64 // rows j-2 to j+3
	for n := range known {
		known[n] = value(&e.rows[min(max(j-2+n, 0), last)])
	}
	a, b := e.letDown(known[:], 2), e.letDown(known[:], 3)
	return a + (b-a)*(s-float64(j))
}

// letDown is the value of row n, raised to what the rows beside it let down to. It grows from nothing
// where a fall is just as steep as allowed, so that it jumps nowhere.
func (e *Envelope) letDown(known []float64, n int) float64 {
	v := known[n]
	fall := cliff * e.dy
	for m := range known {
		away := math.Abs(float64(m - n))
		excess := known[m] - known[n] - fall*away
		if m == n || !(excess > 0) {
			continue
		}
		v = math.Max(v, known[n]+math.Min(excess+fall, 4*excess))
	}
	return v
}
