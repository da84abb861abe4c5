package profile

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// crossing is a place where two segments of chains meet that should not.
type crossing struct {
	chainA, chainB int
	segA, segB     int
	at             r2.Vec
	shared         bool // they lie on each other for a stretch
}

// maxPairs is how many pairs of segments are looked at, maxCells how many cells they may take; a knife's take some
// thousands.
const (
	maxPairs        = 10_000_000
	maxCells        = 5_000_000
	maxLooksAtCells = 10_000_000
)

// crossings finds where chains cross or touch themselves or each other, at most limit places. Pairs
// are looked for on a grid, never all with all. It is not ok where there are too many to look at.
func crossings(chains []*chain, limit int) (out []crossing, ok bool) {
	g := newCrossGrid(chains)
	if g == nil {
		return nil, true
	}
	if g.items == nil {
		return nil, false
	}
	pairs := 0
	seen := map[[2]int32]bool{}
	for c := range g.columns * g.rows {
		cell := g.items[g.start[c]:g.start[c+1]]
		if pairs += len(cell) * (len(cell) - 1) / 2; pairs > maxPairs {
			return out, false
		}
		for x, i := range cell {
			for _, j := range cell[x+1:] {
				if !overlapBoxes(&g.boxes[i], &g.boxes[j]) || g.idle(i, j) {
					continue
				}
				k, places, n := g.check(i, j)
				if n == 0 || seen[[2]int32{i, j}] {
					continue
				}
				seen[[2]int32{i, j}] = true
				for _, k.at = range places[:n] {
					out = append(out, k)
				}
				if len(out) >= limit {
					return out, true
				}
			}
		}
	}
	return out, true
}

// crossGrid sorts segments into cells of a grid.
type crossGrid struct {
	chains        []*chain
	chain, seg    []int32 // by segment number
	boxes         []r2.Box
	origin        r2.Vec
	cell          float64
	columns, rows int
	start         []int32 // of each cell in items
	items         []int32
}

// newCrossGrid makes a grid of about two cells a segment; nil without segments.
func newCrossGrid(chains []*chain) *crossGrid {
	n := 0
	for _, c := range chains {
		n += len(c.path)
	}
	if n == 0 {
		return nil
	}
	g := &crossGrid{chains: chains, chain: make([]int32, 0, n), seg: make([]int32, 0, n), boxes: make([]r2.Box, 0, n)}
	all := chains[0].path[:1].Bounds()
	for ci, c := range chains {
		for si, s := range c.path {
			b := s.Bounds()
			all = grow(grow(all, b.Min), b.Max)
			g.chain, g.seg, g.boxes = append(g.chain, int32(ci)), append(g.seg, int32(si)), append(g.boxes, b)
		}
	}
	w, h := all.Max.X-all.Min.X, all.Max.Y-all.Min.Y
	g.origin = all.Min
	g.cell = max(math.Sqrt(w*h/float64(2*n)), max(max(w, h)/float64(2*n), 1e-6))
	g.columns, g.rows = int(w/g.cell)+1, int(h/g.cell)+1
	g.fill()
	return g
}

// fill counts, then places: two passes over the cells that each segment's box covers. Where these are too many there are
// no items.
func (g *crossGrid) fill() {
	g.start = make([]int32, g.columns*g.rows+1)
	looks := 0
	for i := range g.boxes {
		b := &g.boxes[i]
		looks += (g.column(b.Max.X) - g.column(b.Min.X) + 1) * (g.row(b.Max.Y) - g.row(b.Min.Y) + 1)
		if looks > maxLooksAtCells {
			return
		}
		g.cover(i, func(c int) { g.start[c+1]++ })
	}
	for c := range g.start[1:] {
		g.start[c+1] += g.start[c]
	}
	if g.start[len(g.start)-1] > maxCells {
		return
	}
	g.items = make([]int32, g.start[len(g.start)-1])
	at := make([]int32, len(g.start))
	copy(at, g.start)
	for i := range g.boxes {
		g.cover(i, func(c int) {
			g.items[at[c]] = int32(i)
			at[c]++
		})
	}
}

// cover visits the cells that segment i may pass: those of its box that are near it.
func (g *crossGrid) cover(i int, visit func(c int)) {
	b := &g.boxes[i]
	x0, y0 := g.column(b.Min.X), g.row(b.Min.Y)
	x1, y1 := g.column(b.Max.X), g.row(b.Max.Y)
	all := x1-x0 < 2 || y1-y0 < 2
	s := g.chains[g.chain[i]].path[g.seg[i]]
	straight := s.Straight()
	centre, radius := s.A, 0.0
	d := r2.Sub(s.B, s.A)
	if straight {
		d = r2.Scale(1/r2.Norm(d), d)
	} else {
		centre, radius = s.circle()
	}
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			if !all {
				w := r2.Vec{X: g.origin.X + (float64(x)+0.5)*g.cell - centre.X, Y: g.origin.Y + (float64(y)+0.5)*g.cell - centre.Y}
				off := math.Abs(math.Sqrt(r2.Norm2(w)) - radius)
				if straight {
					off = math.Abs(r2.Cross(d, w))
				}
				if off > 0.75*g.cell { // more than half a diagonal
					continue
				}
			}
			visit(y*g.columns + x)
		}
	}
}

func (g *crossGrid) column(x float64) int {
	return min(g.columns-1, max(0, int((x-g.origin.X)/g.cell)))
}

func (g *crossGrid) row(y float64) int {
	return min(g.rows-1, max(0, int((y-g.origin.Y)/g.cell)))
}

func overlapBoxes(a, b *r2.Box) bool {
	return a.Min.X <= b.Max.X+touch && b.Min.X <= a.Max.X+touch && a.Min.Y <= b.Max.Y+touch && b.Min.Y <= a.Max.Y+touch
}

// idle reports whether two segments are of open chains, which no fault can come of.
func (g *crossGrid) idle(i, j int32) bool {
	return !g.chains[g.chain[i]].closed && !g.chains[g.chain[j]].closed
}

// check looks at one pair of segments and gives the places, none to two, where they meet and should
// not. Neighbours in a chain may meet where they join.
func (g *crossGrid) check(i, j int32) (k crossing, places [2]r2.Vec, n int) {
	k = crossing{chainA: int(g.chain[i]), chainB: int(g.chain[j]), segA: int(g.seg[i]), segB: int(g.seg[j])}
	ca, cb := g.chains[k.chainA], g.chains[k.chainB]
	a, b := ca.path[k.segA], cb.path[k.segB]
	m := meetingOf(a, b)
	switch {
	case m.n == 0:
		return k, places, 0
	case m.shared:
		k.shared = true
		return k, m.at, 1
	case k.chainA != k.chainB && ca.closed && cb.closed:
		return k, m.at, m.n
	case k.chainA != k.chainB:
		return k, places, 0
	}
	slack := min(sameWithin, min(a.Length(), b.Length())/2)
	for _, p := range m.at[:m.n] {
		if !ca.joint(k.segA, k.segB, p, slack) {
			places[n] = p
			n++
		}
	}
	return k, places, n
}

// joint reports whether p is where two segments of the chain that follow each other are joined.
func (c *chain) joint(i, j int, p r2.Vec, slack float64) bool {
	n := len(c.path)
	near := func(q r2.Vec) bool { return r2.Norm(r2.Sub(p, q)) <= slack }
	if (j == i+1 || c.closed && i == n-1 && j == 0) && near(c.path[i].B) {
		return true
	}
	return (i == j+1 || c.closed && j == n-1 && i == 0) && near(c.path[j].B)
}
