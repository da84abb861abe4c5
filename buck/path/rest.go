package path

import "math"

// rest is where the ball comes to rest when it is let down with its middle over each cell of a tile.
type rest struct {
	in     window
	around window    // the tile and a cell more on every side; z and on are of these cells, row by row
	flat   bool      // the ball rests on the cell under its middle everywhere; z and on are empty
	z      []float64 // height of the ball's middle
	on     []int32   // the cell it rests on
	hull   window    // of the cells it rests on
	edges  []edge    // the tile's places at an edge of the ball's way
	groups []group   // of these, block by block
}

// edge is a place of the ball's middle from which it cannot go on in some direction on what it rests on.
type edge struct {
	i, j int32
	z    float64 // height of the ball's middle
}

// group are edges that lie close together.
type group struct {
	in       window
	least    float64 // height of the ball's middle
	from, to int
}

// settle lets the ball down over every cell of a window.
func (r *roller) settle(in window) *rest {
	w := in.grown(1, r.m.Grid)
	t := &rest{in: in, around: w}
	s := settler{r: r, t: t, wide: w.wide()}
	low, high := math.Inf(1), math.Inf(-1)
	for j := w.j0; j < w.j1; j++ {
		for _, z := range r.m.Z[j*r.m.NX+w.i0 : j*r.m.NX+w.i1] {
			low, high = min(low, z), max(high, z)
		}
	}
	s.bigs = r.within(w, low+r.radius, nil)
	if low == high && len(s.bigs) == 0 {
		t.flat, t.hull = true, in
		return t
	}
	t.z, t.on = make([]float64, w.wide()*w.high()), make([]int32, w.wide()*w.high())
	for j := w.j0; j < w.j1; j += part {
		for i := w.i0; i < w.i1; i += part {
			s.patch(window{i, min(i+part, w.i1), j, min(j+part, w.j1)})
		}
	}
	r.findEdges(t)
	return t
}

// within appends the big squares on which a ball over the window could come to rest higher than least.
func (r *roller) within(w window, least float64, list []int32) []int32 {
	v := w.grown(r.reach, r.m.Grid)
	for y := v.j0 / big; y <= (v.j1-1)/big; y++ {
		for x := v.i0 / big; x <= (v.i1-1)/big; x++ {
			n := y*r.bigs.nx + x
			if d2 := w.apart2(r.bigs.window(x, y, r.m.Grid)); d2 < len(r.ball) && r.bigs.top[n]+r.ball[d2] > least {
				list = append(list, int32(n))
			}
		}
	}
	return list
}

// settler finds a tile's rest.
type settler struct {
	r      *roller
	t      *rest
	wide   int
	bigs   []int32  // on which the ball could come to rest anywhere in the tile
	blocks []flank  // and anywhere in the patch
	tried  [4]int32 // cells on which it rests over the patch's corners
}

// flank is a block of cells that the ball may come to rest on.
type flank struct {
	in   window
	top  float64
	even bool // all cells are of one height
}

// patch lets the ball down over the cells of a patch. Where it rests over the corners tells how high it
// lies everywhere at least, and so what blocks it could rest on at all.
func (s *settler) patch(v window) {
	r, m := s.r, s.r.m
	corners := s.tried[:0]
	for _, c := range [4][2]int{{v.i0, v.j0}, {v.i1 - 1, v.j0}, {v.i0, v.j1 - 1}, {v.i1 - 1, v.j1 - 1}} {
		d := drop{r: r, i: c[0], j: c[1], best: m.Z[c[1]*m.NX+c[0]] + r.radius, on: int32(c[1]*m.NX + c[0])}
		for _, n := range corners {
			d.try(int(n)%m.NX, int(n)/m.NX)
		}
		for _, n := range s.bigs {
			d.big(int(n))
		}
		corners = append(corners, d.on)
	}
	least := math.Inf(1)
	for j := v.j0; j < v.j1; j++ {
		for i := v.i0; i < v.i1; i++ {
			d := drop{r: r, i: i, j: j, best: m.Z[j*m.NX+i] + r.radius, on: int32(j*m.NX + i)}
			for c, n := range corners {
				if c == 0 || n != corners[c-1] {
					d.try(int(n)%m.NX, int(n)/m.NX)
				}
			}
			least = min(least, d.best)
			k := s.at(i, j)
			s.t.z[k], s.t.on[k] = d.best, d.on
		}
	}
	s.flanks(v, least)
	for j := v.j0; j < v.j1; j++ {
		last := s.t.on[s.at(v.i0, j)]
		for i := v.i0; i < v.i1; i++ {
			k := s.at(i, j)
			d := drop{r: r, i: i, j: j, best: s.t.z[k], on: s.t.on[k]}
			d.try(int(last)%m.NX, int(last)/m.NX)
			for n := range s.blocks {
				if f := &s.blocks[n]; !d.hopeless(f.in.off2(i, j), f.top) {
					d.flank(f)
				}
			}
			s.t.z[k], s.t.on[k], last = d.best, d.on, d.on
		}
	}
}

// at is the place of a cell in the tile's fields.
func (s *settler) at(i, j int) int { return (j-s.t.around.j0)*s.wide + i - s.t.around.i0 }

// flanks gathers the blocks on which the ball over a patch could come to rest higher than least.
func (s *settler) flanks(v window, least float64) {
	const per = big / block
	r, g := s.r, s.r.m.Grid
	s.blocks = s.blocks[:0]
	for _, n := range s.bigs {
		u, w := int(n)%r.bigs.nx, int(n)/r.bigs.nx
		if d2 := v.apart2(r.bigs.window(u, w, g)); d2 >= len(r.ball) || r.bigs.top[n]+r.ball[d2] <= least {
			continue
		}
		for y := w * per; y < min((w+1)*per, r.blocks.ny); y++ {
			for x := u * per; x < min((u+1)*per, r.blocks.nx); x++ {
				top, low := r.blocks.top[y*r.blocks.nx+x], r.blocks.low[y*r.blocks.nx+x]
				in := r.blocks.window(x, y, g)
				if d2 := v.apart2(in); d2 < len(r.ball) && top+r.ball[d2] > least {
					s.blocks = append(s.blocks, flank{in: in, top: top, even: top == low})
				}
			}
		}
	}
}

// drop is one ball that is let down.
type drop struct {
	r    *roller
	i, j int // cell under its middle
	best float64
	on   int32
}

// try tries one cell.
func (d *drop) try(x, y int) {
	dx, dy := x-d.i, y-d.j
	d2 := dx*dx + dy*dy
	if d2 >= len(d.r.ball) {
		return
	}
	n := y*d.r.m.NX + x
	if z := d.r.m.Z[n] + d.r.ball[d2]; z > d.best {
		d.best, d.on = z, int32(n)
	}
}

// hopeless tells whether cells at the square d2 of a distance and on, the highest of which is top, can do no better.
func (d *drop) hopeless(d2 int, top float64) bool {
	return d2 >= len(d.r.ball) || top+d.r.ball[d2] <= d.best
}

// flank tries a block: where it is even, only the nearest of its cells.
func (d *drop) flank(f *flank) {
	if f.even {
		d.try(min(max(d.i, f.in.i0), f.in.i1-1), min(max(d.j, f.in.j0), f.in.j1-1))
		return
	}
	ball, nx := d.r.ball, d.r.m.NX
	reach := len(ball) // the square of how far the block's top could be to do better
	if lift := d.best - f.top; lift > 0 {
		reach = int((d.r.radius*d.r.radius-lift*lift)/(d.r.m.Step*d.r.m.Step)) + 1
	}
	for y := f.in.j0; y < f.in.j1; y++ {
		dy2 := (y - d.j) * (y - d.j)
		if dy2 > reach {
			continue
		}
		for x, z := range d.r.m.Z[y*nx+f.in.i0 : y*nx+f.in.i1] {
			x += f.in.i0
			d2 := (x-d.i)*(x-d.i) + dy2
			if d2 < len(ball) && z+ball[d2] > d.best {
				d.best, d.on = z+ball[d2], int32(y*nx+x)
			}
		}
	}
}

// big tries the blocks of big square n.
func (d *drop) big(n int) {
	const per = big / block
	r, g := d.r, d.r.m.Grid
	u, v := n%r.bigs.nx, n/r.bigs.nx
	if d.hopeless(r.bigs.window(u, v, g).off2(d.i, d.j), r.bigs.top[n]) {
		return
	}
	for y := v * per; y < min((v+1)*per, r.blocks.ny); y++ {
		for x := u * per; x < min((u+1)*per, r.blocks.nx); x++ {
			b, in := y*r.blocks.nx+x, r.blocks.window(x, y, g)
			if top := r.blocks.top[b]; !d.hopeless(in.off2(d.i, d.j), top) {
				d.flank(&flank{in: in, top: top, even: top == r.blocks.low[b]})
			}
		}
	}
}

// findEdges finds the tile's edges: where the ball, a cell on in some direction, lies higher than if it
// had rolled there on the cell it rests on. On a smooth map it does so by less than what is allowed for here.
func (r *roller) findEdges(t *rest) {
	more := 2 * r.m.Step * r.m.Step / r.radius
	t.hull = none
	for j := t.in.j0; j < t.in.j1; j += block {
		for i := t.in.i0; i < t.in.i1; i += block {
			g := group{from: len(t.edges), least: math.Inf(1), in: window{i, min(i+block, t.in.i1), j, min(j+block, t.in.j1)}}
			for y := g.in.j0; y < g.in.j1; y++ {
				for x := g.in.i0; x < g.in.i1; x++ {
					on := int(t.on[(y-t.around.j0)*t.around.wide()+x-t.around.i0])
					t.hull.take(on%r.m.NX, on/r.m.NX)
					if z, is := r.edge(t, x, y, more); is {
						t.edges = append(t.edges, edge{int32(x), int32(y), z})
						g.least = min(g.least, z)
					}
				}
			}
			if g.to = len(t.edges); g.to > g.from {
				t.groups = append(t.groups, g)
			}
		}
	}
}

// edge tells whether the place over cell (x, y) is one, and how high the ball's middle is there.
func (r *roller) edge(t *rest, x, y int, more float64) (float64, bool) {
	wide := t.around.wide()
	n := (y-t.around.j0)*wide + x - t.around.i0
	on := int(t.on[n])
	z, i, j := r.m.Z[on]+more, on%r.m.NX-x, on/r.m.NX-y
	for dy := -1; dy <= 1; dy++ {
		if y+dy < 0 || y+dy >= r.m.NY {
			return t.z[n], true
		}
		for dx := -1; dx <= 1; dx++ {
			if x+dx < 0 || x+dx >= r.m.NX {
				return t.z[n], true
			}
			d2 := (i-dx)*(i-dx) + (j-dy)*(j-dy)
			if d2 >= len(r.ball) || t.z[n+dy*wide+dx] > z+r.ball[d2] {
				return t.z[n], true
			}
		}
	}
	return t.z[n], false
}
