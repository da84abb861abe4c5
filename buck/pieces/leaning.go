package pieces

import (
	"math"
	"slices"

	"formbuck/buck/internal/formed"
	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// leaning is the sheet beside a boss, where the ball that forms it may rest on the boss, too.
//
// Balls of radius r that touch nothing of the buck sweep all that the sheet leaves free; balls of
// radius r - t about the same middles sweep what is free of its outer side, a thickness t further.
// So this side is no higher than z over p where the middle of such a ball fits over some q within r
// - t of p, at z + s with s = sqrt((r-t)^2 - |p-q|^2). Without the boss it comes to rest there at
// m(q). A boss whose top plane is at T holds it at T + b(q), and z, what the clip leaves to the
// sheet, is T + spare: b and spare do not depend on T. So T serves p if at some q
//
//	b(q) <= spare + s  and  m(q) <= T + spare + s,
//
// and the least T that does is the least of m(q) - s - spare over all q where the former holds:
// nothing is iterated. What is nearer to the boss's foot than the sheet's thickness is the boss's
// own wall, which the clip stands on, and the foot grows with T. Over the clip's footprint the
// greatest of the lesser of both heights is what the boss needs; as a maximum over an area it never
// falls when the clip grows.
type leaning struct {
	boss   rolledBoss
	sheet  float64 // t
	room   float64 // r - t
	spare  float64 // the sheet over the boss less the clip's clearance
	top    float64 // that is known to be needed
	at     r2.Vec  // where it is
	ball   *formed.Closer
	grid   formed.Grid
	area   []r2.Vec // counter-clockwise
	shifts []shift
	hint   int // the shift that served last
	nodes  map[[2]int]*leanNode
}

// shift is a place of the ball's middle as seen from p, in cells, and how high it is over the outer
// side there.
type shift struct {
	i, j int
	s    float64
}

// leanNode is what is known of the middle of a cell.
type leanNode struct {
	p     r2.Vec
	own   float64 // the top plane from which on it belongs to the boss's own wall
	need  float64 // the top plane that serves it: at most, or exactly
	best  int     // the shift that needs no more
	exact bool
}

// rolledBoss is a boss without its underside, and the ball rolled over it.
type rolledBoss struct {
	top                   Pill
	inset, edge, draftDeg float64
	low                   float64 // where its walls end at the lowest
	ball                  float64
}

// over is by how much the ball's middle is higher than the top plane when it rests on the boss at a
// distance from the top pill.
func (b rolledBoss) over(far float64) float64 {
	reach := b.edge + b.ball
	cos := math.Cos(measures.Radians(b.draftDeg))
	switch d := far + b.inset; {
	case d <= 0:
		return b.ball
	case d < reach*cos:
		return math.Sqrt(reach*reach-d*d) - b.edge
	case b.draftDeg == 0:
		return math.Inf(-1)
	default:
		return (b.ball/cos - far) / measures.TanDeg(b.draftDeg)
	}
}

// own is the top plane from which on a place at a distance from the top pill is nearer to the foot
// than a sheet's thickness.
func (b rolledBoss) own(far, sheet float64) float64 {
	switch past := far - sheet; {
	case b.draftDeg > 0:
		return past/measures.TanDeg(b.draftDeg) + b.low
	case past < 0:
		return math.Inf(-1)
	default:
		return math.Inf(1)
	}
}

// reach is the distance from the top pill beyond which the boss holds no ball as high as a height
// over the top plane.
func (b rolledBoss) reach(over float64) float64 {
	low, high := 0.0, b.ball+b.edge
	for b.over(high) > over {
		low, high = high, 2*high
	}
	for high-low > 1e-3 {
		if mid := (low + high) / 2; b.over(mid) > over {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// lean looks for the top plane that the sheet beside a boss asks for over a convex area, more than
// one that is known to be needed, on the cells of a ball that was let down on the buck without the
// boss.
func (s *StandoffPiece) lean(ball *formed.Closer, area []r2.Vec, spare, top float64) *leaning {
	spec := s.Knife.Spec
	l := &leaning{
		boss: rolledBoss{
			top: s.Top, inset: s.EdgeInset(), edge: s.EdgeRadius, draftDeg: s.DraftDeg,
			low: spec.Blade.EdgeThickness/2 + s.Gap, ball: spec.Sheet.Ball(),
		},
		sheet: spec.Sheet.Thickness,
		room:  spec.Sheet.Ball() - spec.Sheet.Thickness,
		spare: spare,
		top:   top, ball: ball, grid: ball.Grid(), area: turnedLeft(area),
		nodes: make(map[[2]int]*leanNode),
	}
	cells := int(l.room / l.grid.Step)
	for j := -cells; j <= cells; j++ {
		for i := -cells; i <= cells; i++ {
			if under := l.room*l.room - float64(i*i+j*j)*l.grid.Step*l.grid.Step; under >= 0 {
				l.shifts = append(l.shifts, shift{i, j, math.Sqrt(under)})
			}
		}
	}
	slices.SortStableFunc(l.shifts, func(a, b shift) int {
		return a.i*a.i + a.j*a.j - b.i*b.i - b.j*b.j
	})
	return l
}

// turnedLeft are the corners of a convex area counter-clockwise.
func turnedLeft(area []r2.Vec) []r2.Vec {
	turn := 0.0
	for i, p := range area {
		turn += r2.Cross(p, area[(i+1)%len(area)])
	}
	if turn < 0 {
		area = slices.Clone(area)
		slices.Reverse(area)
	}
	return area
}

// node is that of cell (i, j).
func (l *leaning) node(i, j int) *leanNode {
	n, ok := l.nodes[[2]int{i, j}]
	if !ok {
		p := l.grid.Middle(i, j)
		n = &leanNode{p: p, own: l.boss.own(l.boss.top.Distance(p), l.sheet), need: math.Inf(1)}
		l.nodes[[2]int{i, j}] = n
	}
	return n
}

// lets reports whether the boss leaves the ball's middle a place q, s over the outer side.
func (l *leaning) lets(q r2.Vec, s float64) bool {
	return l.boss.over(l.boss.top.Distance(q)) <= l.spare+s
}

// try takes a place of the ball's middle beside cell (i, j) if it serves its node better.
func (l *leaning) try(i, j int, n *leanNode, k int) {
	by := l.shifts[k]
	i, j = i+by.i, j+by.j
	need := l.ball.Middle(i, j) - by.s - l.spare
	if need < n.need && l.lets(l.grid.Middle(i, j), by.s) {
		n.need, n.best = need, k
	}
}

// served reports whether the node of cell (i, j) asks for no more than a top plane.
func (l *leaning) served(i, j int, top float64) bool {
	n := l.node(i, j)
	if n.need <= top || n.exact {
		return n.need <= top
	}
	look := func(k int) bool {
		l.try(i, j, n, k)
		return n.need <= top
	}
	if look(l.hint) {
		return true
	}
	for k := range l.shifts {
		if look(k) {
			l.hint = k
			return true
		}
	}
	l.refine(i, j, n)
	return n.need <= top
}

// parts is into how many parts the side of a cell is parted round the place where the ball's middle
// is best. Our own, no source.
const parts = 8

// refine looks between the cells round the best place of the ball's middle: where the boss is in
// its way, that is a line between them. The middle is taken as straight there.
func (l *leaning) refine(i, j int, n *leanNode) {
	n.exact = true
	if math.IsInf(n.need, 1) {
		return
	}
	ci, cj := i+l.shifts[n.best].i, j+l.shifts[n.best].j
	var around [3][3]float64
	for v := range 3 {
		for u := range 3 {
			around[v][u] = l.ball.Middle(ci+u-1, cj+v-1)
		}
	}
	from := l.grid.Middle(ci, cj)
	for y := -parts; y <= parts; y++ {
		for x := -parts; x <= parts; x++ {
			u, v := float64(x)/parts, float64(y)/parts
			q := r2.Add(from, r2.Scale(l.grid.Step, r2.Vec{X: u, Y: v}))
			s := math.Sqrt(l.room*l.room - r2.Norm2(r2.Sub(q, n.p))) // NaN where that is too far
			if need := between(&around, u, v) - s - l.spare; need < n.need && l.lets(q, s) {
				n.need = need
			}
		}
	}
}

// between is straight between the four of nine places around (u, v), both from -1 to 1.
func between(z *[3][3]float64, u, v float64) float64 {
	i, j := 0, 0
	if u >= 0 {
		i = 1
	}
	if v >= 0 {
		j = 1
	}
	u, v = u+1-float64(i), v+1-float64(j)
	low := z[j][i] + (z[j][i+1]-z[j][i])*u
	high := z[j+1][i] + (z[j+1][i+1]-z[j+1][i])*u
	return low + (high-low)*v
}

// cells calls with every cell of a box, and one more on every side, where the boss matters: near
// enough to it, and not its own wall under the top plane that is known to be needed. The box is on
// the grid's axes.
func (l *leaning) cells(box r2.Box, call func(i, j int)) {
	far, side := l.boss.reach(l.spare)+l.room+l.grid.Step, 2*l.grid.Step
	i0, j0 := l.grid.Cell(box.Min)
	i1, j1 := l.grid.Cell(box.Max)
	for j := j0 - 1; j <= j1+1; j++ {
		for i := i0 - 1; i <= i1+1; i++ {
			p := l.grid.Middle(i, j)
			d := l.boss.top.Distance(p)
			if d < far && l.boss.own(d+side, l.sheet) > l.top && l.beyond(p) < side {
				call(i, j)
			}
		}
	}
}

// beyond is how far p is from the area, seen from the side of it that it is furthest beyond; below
// 0 within.
func (l *leaning) beyond(p r2.Vec) float64 {
	most := math.Inf(-1)
	for i, a := range l.area {
		if side := r2.Sub(l.area[(i+1)%len(l.area)], a); r2.Norm2(side) > 0 {
			most = max(most, r2.Cross(r2.Sub(p, a), r2.Unit(side)))
		}
	}
	return most
}

// holding is the box round all cells of the area that ask for more than a top plane, because the
// boss is in the ball's way; false where there is none.
func (l *leaning) holding(top float64) (r2.Box, bool) {
	box := r2.Box{
		Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)},
		Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)},
	}
	l.cells(boxOf(l.area), func(i, j int) {
		n := l.node(i, j)
		if l.served(i, j, top) || math.IsInf(n.need, 1) || l.alone(i, j) {
			return
		}
		box = r2.Box{
			Min: r2.Vec{X: min(box.Min.X, n.p.X), Y: min(box.Min.Y, n.p.Y)},
			Max: r2.Vec{X: max(box.Max.X, n.p.X), Y: max(box.Max.Y, n.p.Y)},
		}
	})
	return grownBy(box, l.grid.Step), box.Min.X <= box.Max.X
}

// alone reports whether the boss is not in the way of the ball, not even nearly, where it would be
// best for the node of a cell without the boss.
func (l *leaning) alone(i, j int) bool {
	best, at := math.Inf(1), 0
	for k, by := range l.shifts {
		if need := l.ball.Middle(i+by.i, j+by.j) - by.s; need < best {
			best, at = need, k
		}
	}
	by := l.shifts[at]
	return l.lets(l.grid.Middle(i+by.i, j+by.j), by.s-outerMiss)
}

// raise looks at all cells of a box for the top plane that is needed.
func (l *leaning) raise(box r2.Box) {
	l.cells(box, func(i, j int) {
		four := [4]*leanNode{l.node(i, j), l.node(i+1, j), l.node(i, j+1), l.node(i+1, j+1)}
		if max(four[0].own, four[1].own, four[2].own, four[3].own) <= l.top {
			return
		}
		corners := [4][2]int{{i, j}, {i + 1, j}, {i, j + 1}, {i + 1, j + 1}}
		served := true
		for _, c := range corners {
			served = served && l.served(c[0], c[1], l.top)
		}
		if served {
			return
		}
		for n, c := range corners {
			if l.served(c[0], c[1], math.Inf(-1)); math.IsInf(four[n].need, 1) {
				return // the ball has no place beside the boss: it is its own wall
			}
		}
		l.over(four[0], four[1], four[3])
		l.over(four[0], four[3], four[2])
	})
}

// leanCorner is a corner of what of a triangle is over the area.
type leanCorner struct {
	p         r2.Vec
	need, own float64
}

// towards is a share of the way to another corner.
func (a leanCorner) towards(b leanCorner, share float64) leanCorner {
	return leanCorner{
		r2.Add(a.p, r2.Scale(share, r2.Sub(b.p, a.p))),
		a.need + share*(b.need-a.need), a.own + share*(b.own-a.own),
	}
}

// over takes the highest over what of a triangle lies in the area, both heights straight between
// its corners.
func (l *leaning) over(nodes ...*leanNode) {
	var part []leanCorner
	for _, n := range nodes {
		if math.IsInf(n.own, -1) {
			return
		}
		part = append(part, leanCorner{n.p, n.need, min(n.own, n.need+1e3)})
	}
	for i, a := range l.area {
		part = leftOf(part, a, l.area[(i+1)%len(l.area)])
	}
	for i, a := range part {
		l.take(a)
		b := part[(i+1)%len(part)]
		if u, v := a.need-a.own, b.need-b.own; u*v < 0 {
			l.take(a.towards(b, u/(u-v)))
		}
	}
}

func (l *leaning) take(c leanCorner) {
	if z := min(c.need, c.own); z > l.top {
		l.top, l.at = z, c.p
	}
}

// leftOf is what of a convex part lies to the left of a line.
func leftOf(part []leanCorner, from, to r2.Vec) []leanCorner {
	side := func(c leanCorner) float64 { return r2.Cross(r2.Sub(to, from), r2.Sub(c.p, from)) }
	var left []leanCorner
	for i, a := range part {
		b := part[(i+1)%len(part)]
		u, v := side(a), side(b)
		if u >= 0 {
			left = append(left, a)
		}
		if u > 0 && v < 0 || u < 0 && v > 0 {
			left = append(left, a.towards(b, u/(u-v)))
		}
	}
	return left
}
