package path

import "math"

// span is how far, in cells along each axis, from the cell it rests on a ball is asked what it leaves free.
const span = 2

// bridger finds how low the ball comes over the cells of one tile.
//
// The lowest ball over a cell p that it does not touch is at an edge of its way: anywhere else it could roll on, on
// the cell q that it rests on, in the direction from q to p, and come down over p by doing so, unless p is next to q. So
// edges alone are tried for every cell, and the balls that rest within a few cells of it.
type bridger struct {
	*closer
	in     window
	best   []float64 // how low the ball comes over each cell, in rows of a tile's side
	limit  []float64 // as low as this it touches it
	at     []edge    // where it does so
	open   []int32   // cells that no ball is known to touch
	most   float64   // the highest best of the open cells
	rivals []*group  // that could do better over some cell of a patch
	hull   window    // of the open cells
}

// bridge raises the cells of tile n and tells which tiles are beside those that it has raised.
func (c *closer) bridge(n int) (next []int) {
	b := &bridger{closer: c, in: c.window(n)}
	own := c.rest(n)
	if own.flat {
		return nil
	}
	b.start(own)
	u, v := n%c.wide, n/c.wide
	for _, d := range c.near {
		x, y := u+d[0], v+d[1]
		if x < 0 || y < 0 || x >= c.wide || y >= c.high || len(b.open) == 0 {
			continue
		}
		k := y*c.wide + x
		d2 := b.hull.apart2(c.window(k))
		if d2 >= len(c.ball) || c.lowest(k)+c.radius-c.ball[d2] >= b.most {
			continue
		}
		t := c.rest(k)
		b.touch(t)
		b.hang(t)
		b.sift()
	}
	return b.raise(u, v)
}

// start opens all cells, patch by patch, with the ball straight over each.
func (b *bridger) start(own *rest) {
	const size = tile * tile
	b.best, b.limit, b.at = make([]float64, size), make([]float64, size), make([]edge, size)
	b.open = make([]int32, 0, size)
	for v := b.in.j0; v < b.in.j1; v += patch {
		for u := b.in.i0; u < b.in.i1; u += patch {
			for j := v; j < min(v+patch, b.in.j1); j++ {
				for i := max(u, b.first); i < min(u+patch, b.in.i1); i++ {
					k := (j-b.in.j0)*tile + i - b.in.i0
					z := own.z[(j-own.around.j0)*own.around.wide()+i-own.around.i0]
					b.at[k] = edge{int32(i), int32(j), z}
					b.best[k], b.limit[k] = z-b.radius, b.m.Z[j*b.m.NX+i]+b.grain(i, j)
					b.open = append(b.open, int32(k))
				}
			}
		}
	}
	b.most, b.hull = math.Inf(1), b.in
}

// touch takes what the balls of a tile leave free next to the cells that they rest on.
func (b *bridger) touch(t *rest) {
	if b.hull.apart2(t.hull) > 2*span*span {
		return
	}
	var open, close [tile + 4*span]uint64 // a bit for each cell; both begin a span before the tile
	for _, k := range b.open {
		open[int(k)/tile+2*span] |= 1 << (k % tile)
	}
	for j := range tile + 2*span {
		for y := j; y <= j+2*span; y++ {
			close[j] |= open[y] | open[y]<<1 | open[y]<<2 | open[y]<<3 | open[y]<<4
		}
	}
	for y := t.in.j0; y < t.in.j1; y++ {
		for x := t.in.i0; x < t.in.i1; x++ {
			on, z := y*b.m.NX+x, 0.0
			if t.flat {
				z = b.m.Z[on] + b.radius
			} else {
				k := (y-t.around.j0)*t.around.wide() + x - t.around.i0
				on, z = int(t.on[k]), t.z[k]
			}
			i, j := on%b.m.NX-b.in.i0, on/b.m.NX-b.in.j0
			if i >= -span && j >= -span && i < tile+span && j < tile+span && close[j+span]&(1<<(i+span)) != 0 {
				b.beside(edge{int32(x), int32(y), z}, i, j)
			}
		}
	}
}

// beside takes what a ball leaves free over the cells around the one it rests on, (i, j) of the tile.
func (b *bridger) beside(e edge, i, j int) {
	wide, high := b.in.wide(), b.in.high()
	for y := max(j-span, 0); y <= min(j+span, high-1); y++ {
		for x := max(i-span, 0); x <= min(i+span, wide-1); x++ {
			b.try(e, y*tile+x, x+b.in.i0, y+b.in.j0)
		}
	}
}

// try takes what one ball leaves free over cell k of the tile, (i, j) of the map.
func (b *bridger) try(e edge, k, i, j int) {
	dx, dy := i-int(e.i), j-int(e.j)
	if d2 := dx*dx + dy*dy; d2 < len(b.ball) && e.z-b.ball[d2] < b.best[k] {
		b.best[k], b.at[k] = e.z-b.ball[d2], e
	}
}

// hang takes what the balls at a tile's edges leave free.
func (b *bridger) hang(t *rest) {
	for from := 0; from < len(b.open); {
		to := from + 1
		for to < len(b.open) && patchOf(b.open[to]) == patchOf(b.open[from]) {
			to++
		}
		b.hangOver(b.open[from:to], t)
		from = to
	}
}

// hangOver does so for the open cells of one patch.
func (b *bridger) hangOver(open []int32, t *rest) {
	most, hull := math.Inf(-1), none
	for _, k := range open {
		if b.best[k] > b.limit[k] {
			most = max(most, b.best[k])
			hull.take(b.in.i0+int(k)%tile, b.in.j0+int(k)/tile)
		}
	}
	b.rivals = b.rivals[:0]
	for n := range t.groups {
		g := &t.groups[n]
		if d2 := g.in.apart2(hull); d2 < len(b.ball) && g.least-b.ball[d2] < most {
			b.rivals = append(b.rivals, g)
		}
	}
	last := open[0]
	for _, k := range open {
		if b.best[k] <= b.limit[k] || len(b.rivals) == 0 {
			continue
		}
		i, j := b.in.i0+int(k)%tile, b.in.j0+int(k)/tile
		b.try(b.at[last], int(k), i, j) // as for the cells before, most likely
		b.try(b.at[max(k-tile, 0)], int(k), i, j)
		last = k
		for _, g := range b.rivals {
			if d2 := g.in.off2(i, j); d2 >= len(b.ball) || g.least-b.ball[d2] >= b.best[k] {
				continue
			}
			for _, e := range t.edges[g.from:g.to] {
				b.try(e, int(k), i, j)
			}
		}
	}
}

// patchOf numbers the patches of a tile.
func patchOf(k int32) int32 { return k/(tile*patch)*tile/patch + k%tile/patch }

// sift leaves those cells open that no ball is known to touch yet.
func (b *bridger) sift() {
	left := b.open[:0]
	b.most, b.hull = math.Inf(-1), none
	for _, k := range b.open {
		if b.best[k] <= b.limit[k] {
			continue
		}
		left = append(left, k)
		b.most = max(b.most, b.best[k])
		i, j := b.in.i0+int(k)%tile, b.in.j0+int(k)/tile
		b.hull.take(i, j)
	}
	b.open = left
}

// raise raises the cells that are left open and tells which tiles are beside them.
func (b *bridger) raise(u, v int) (next []int) {
	var beside [9]bool
	wide := b.in.wide()
	for _, k := range b.open {
		i, j := int(k)%tile, int(k)/tile
		b.out.Z[(j+b.in.j0)*b.m.NX+i+b.in.i0] = b.best[k]
		x, y := 1, 1
		switch i {
		case 0:
			x = 0
		case wide - 1:
			x = 2
		}
		switch j {
		case 0:
			y = 0
		case b.in.high() - 1:
			y = 2
		}
		beside[3*y+x], beside[3+x], beside[3*y+1] = true, true, true
	}
	for k, is := range beside {
		if x, y := u+k%3-1, v+k/3-1; is && x >= 0 && y >= 0 && x < b.wide && y < b.high {
			next = append(next, y*b.wide+x)
		}
	}
	return next
}
