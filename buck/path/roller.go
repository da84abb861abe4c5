package path

import (
	"math"
	"sync"
)

// Squares of cells that are tried at once, by their sides in cells: block is the smallest, big holds
// 16 of them. A tile is what is worked out together, a patch a part of it; a part is one of a tile with
// a cell more on every side.
const (
	block = 4
	big   = 16
	patch = 8
	tile  = 32
	part  = 9
)

// roller lets a ball down on a map.
type roller struct {
	m      *Map
	radius float64
	reach  int       // radius in whole cells
	ball   []float64 // height of the ball over its middle by the square of the distance in cells
	blocks pyramid
	bigs   pyramid
	wide   int // tiles in a row
	high   int // rows of tiles
	rests  []restOnce
	base   *roller // of a map that differs from this one in the changed windows only, or nil
	change []window
}

// restOnce is a tile's rest, found when it is first asked for.
type restOnce struct {
	once sync.Once
	rest *rest
}

// window are the cells with i from i0 up to i1 and j from j0 up to j1.
type window struct{ i0, i1, j0, j1 int }

// none is the window of no cells, to be widened.
var none = window{math.MaxInt, 0, math.MaxInt, 0}

// grown is the window and the cells within n of it, along each axis, as far as there are any.
func (w window) grown(n int, g Grid) window {
	return window{max(w.i0-n, 0), min(w.i1+n, g.NX), max(w.j0-n, 0), min(w.j1+n, g.NY)}
}

// apart2 is the square of how far two windows lie from each other, in cells.
func (w window) apart2(v window) int {
	dx, dy := max(0, v.i0-w.i1+1, w.i0-v.i1+1), max(0, v.j0-w.j1+1, w.j0-v.j1+1)
	return dx*dx + dy*dy
}

// apart is the square of how far the nearest of some windows lies.
func (w window) apart(some []window) int {
	least := math.MaxInt
	for _, v := range some {
		least = min(least, w.apart2(v))
	}
	return least
}

// off2 is the square of how far a cell lies from the window.
func (w window) off2(i, j int) int {
	dx, dy := max(0, w.i0-i, i-w.i1+1), max(0, w.j0-j, j-w.j1+1)
	return dx*dx + dy*dy
}

// take widens the window to a cell.
func (w *window) take(i, j int) {
	*w = window{min(w.i0, i), max(w.i1, i+1), min(w.j0, j), max(w.j1, j+1)}
}

func (w window) wide() int { return w.i1 - w.i0 }
func (w window) high() int { return w.j1 - w.j0 }

// pyramid holds the greatest and the least height of every square of some cells.
type pyramid struct {
	side     int
	nx, ny   int
	top, low []float64
}

func newPyramid(m *Map, side int) pyramid {
	p := pyramid{side: side, nx: (m.NX + side - 1) / side, ny: (m.NY + side - 1) / side}
	p.top, p.low = make([]float64, p.nx*p.ny), make([]float64, p.nx*p.ny)
	return p
}

// window are the cells of square (u, v).
func (p *pyramid) window(u, v int, g Grid) window {
	return window{u * p.side, min((u+1)*p.side, g.NX), v * p.side, min((v+1)*p.side, g.NY)}
}

// cells sets square (u, v) from the heights in it.
func (p *pyramid) cells(u, v int, m *Map) {
	w := p.window(u, v, m.Grid)
	high, deep := math.Inf(-1), math.Inf(1)
	for j := w.j0; j < w.j1; j++ {
		for _, z := range m.Z[j*m.NX+w.i0 : j*m.NX+w.i1] {
			high, deep = max(high, z), min(deep, z)
		}
	}
	p.top[v*p.nx+u], p.low[v*p.nx+u] = high, deep
}

// squares sets square (u, v) from the smaller squares in it.
func (p *pyramid) squares(u, v int, q *pyramid) {
	per := p.side / q.side
	high, deep := math.Inf(-1), math.Inf(1)
	for y := v * per; y < min((v+1)*per, q.ny); y++ {
		for n := y*q.nx + u*per; n < y*q.nx+min((u+1)*per, q.nx); n++ {
			high, deep = max(high, q.top[n]), min(deep, q.low[n])
		}
	}
	p.top[v*p.nx+u], p.low[v*p.nx+u] = high, deep
}

func newRoller(m *Map, radius float64) *roller {
	r := &roller{m: m, radius: radius, reach: int(radius/m.Step + 1e-9)}
	for d2 := 0; ; d2++ {
		under := radius*radius - float64(d2)*m.Step*m.Step
		if under < 0 {
			break
		}
		r.ball = append(r.ball, math.Sqrt(under))
	}
	r.blocks, r.bigs = newPyramid(m, block), newPyramid(m, big)
	r.refresh(window{0, m.NX, 0, m.NY})
	r.wide, r.high = (m.NX+tile-1)/tile, (m.NY+tile-1)/tile
	r.rests = make([]restOnce, r.wide*r.high)
	return r
}

// changed is a roller on a map that differs in some windows only.
func (r *roller) changed(m *Map, in []window) *roller {
	c := &roller{m: m, radius: r.radius, reach: r.reach, ball: r.ball, wide: r.wide, high: r.high, base: r, change: in}
	clone := func(p pyramid) pyramid {
		p.top, p.low = append([]float64(nil), p.top...), append([]float64(nil), p.low...)
		return p
	}
	c.blocks, c.bigs = clone(r.blocks), clone(r.bigs)
	for _, w := range in {
		c.refresh(w)
	}
	c.rests = make([]restOnce, r.wide*r.high)
	return c
}

// refresh gathers the heights of a window's squares.
func (r *roller) refresh(w window) {
	m := r.m
	const per = big / block
	rows((w.j1-1)/big-w.j0/big+1, func(v int) {
		v += w.j0 / big
		for y := v * per; y < min((v+1)*per, r.blocks.ny); y++ {
			for x := w.i0 / big * per; x < min(((w.i1-1)/big+1)*per, r.blocks.nx); x++ {
				r.blocks.cells(x, y, m)
			}
		}
		for u := w.i0 / big; u <= (w.i1-1)/big; u++ {
			r.bigs.squares(u, v, &r.blocks)
		}
	})
}

// window are the cells of tile n.
func (r *roller) window(n int) window {
	u, v := n%r.wide, n/r.wide
	return window{u * tile, min((u+1)*tile, r.m.NX), v * tile, min((v+1)*tile, r.m.NY)}
}

// lowest is the least height in tile n.
func (r *roller) lowest(n int) float64 {
	const per = tile / big
	u, v, least := n%r.wide*per, n/r.wide*per, math.Inf(1)
	for y := v; y < min(v+per, r.bigs.ny); y++ {
		for x := u; x < min(u+per, r.bigs.nx); x++ {
			least = math.Min(least, r.bigs.low[y*r.bigs.nx+x])
		}
	}
	return least
}

// rest is that of tile n.
func (r *roller) rest(n int) *rest {
	if r.base != nil && r.window(n).grown(1, r.m.Grid).apart(r.change) >= len(r.ball) {
		return r.base.rest(n)
	}
	o := &r.rests[n]
	o.once.Do(func() { o.rest = r.settle(r.window(n)) })
	return o.rest
}
