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
	return math.Max(z, e.between(q.Y, func(r *row) (float64, bool) { return r.deeper[i], true }))
}

// How far, in mm, beyond the ends of a row's gap a point may lie and still be taken to lie in it: an
// end that runs aslant moves by that much from row to row. Steel that curves away from the draw, as
// a belly does from its lowest point on, moves the end towards the tip by more.
const (
	reachMouth = 2
	reachTip   = 15
)

// OverGap is E at a point without steel. Within a gap it depends on the row alone.
func (e *Envelope) OverGap(p r2.Vec) float64 {
	q := r2.Rotate(p, e.back, r2.Vec{})
	return e.between(q.Y, func(r *row) (float64, bool) { return e.past(r, q.X), true })
}

// inGap tells whether p lies in a gap of the row nearest to it.
func (e *Envelope) inGap(p r2.Vec) bool {
	q := r2.Rotate(p, e.back, r2.Vec{})
	j := min(max(int(math.Round((q.Y-e.y0)/e.dy)), 0), len(e.rows)-1)
	gaps := e.rows[j].gaps
	n := sort.Search(len(gaps), func(n int) bool { return gaps[n].to >= q.X })
	return n < len(gaps) && gaps[n].from <= q.X
}

// past is what passes over x on a row, where the rows beside it have a gap.
func (e *Envelope) past(r *row, x float64) float64 {
	n := sort.Search(len(r.gaps), func(n int) bool { return r.gaps[n].to >= x })
	if r.deeper[e.column(x)] == 0 {
		return 0
	}
	best := 1.0 // distance by reach
	passes := math.NaN()
	if n < len(r.gaps) {
		if d := (r.gaps[n].from - x) / reachMouth; d < best {
			best, passes = d, r.gaps[n].passes
		}
	}
	if n > 0 {
		if d := (x - r.gaps[n-1].to) / reachTip; d < best {
			passes = r.gaps[n-1].passes
		}
	}
	if math.IsNaN(passes) {
		return r.deeper[e.column(x)]
	}
	return passes
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

// between interpolates a value of the rows at y; a row that has none leaves it to the others.
func (e *Envelope) between(y float64, value func(*row) (float64, bool)) float64 {
	s := math.Min(math.Max((y-e.y0)/e.dy, 0), float64(len(e.rows)-1))
	j := min(int(s), max(len(e.rows)-2, 0))
	var known [6]float64 // rows j-2 to j+3; less than nothing where they have no value
	for n := range known {
		known[n] = math.Inf(-1)
		if m := j - 2 + n; m >= 0 && m < len(e.rows) {
			if v, ok := value(&e.rows[m]); ok {
				known[n] = v
			}
		}
	}
	a, b := e.letDown(known[:], 2), e.letDown(known[:], 3)
	t := s - float64(j)
	switch {
	case math.IsInf(known[3], -1) && math.IsInf(known[2], -1):
		return math.Max(0, math.Max(a, b))
	case math.IsInf(known[3], -1):
		return a
	case math.IsInf(known[2], -1):
		return b
	default:
		return a + (b-a)*t
	}
}

// letDown is the value of row n, raised to what the rows beside it let down to.
func (e *Envelope) letDown(known []float64, n int) float64 {
	v := known[n]
	fall := cliff * e.dy
	for m := range known {
		away := math.Abs(float64(m - n))
		if m == n || known[m]-known[n] <= fall*away {
			continue
		}
		v = math.Max(v, known[m]-fall*(away-1))
	}
	return v
}
