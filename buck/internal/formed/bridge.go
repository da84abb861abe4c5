package formed

import "math"

// bridger finds how low the ball comes over the cells of one tile.
type bridger struct {
	*Closer
	in    Window
	deep  field     // by how much the ball is below the middle plane at most
	limit []float64 // as deep as this it touches the cell
	open  []int     // cells that no ball is known to touch, by their place in deep
	least float64   // the least depth of the open cells
	hull  Window    // of the open cells
}

// bridge raises the cells of tile n and tells which tiles are beside those that it has raised.
func (c *Closer) bridge(n int) (next []int) {
	own := c.rest(n)
	if own.flat {
		return nil
	}
	b := &bridger{Closer: c, in: c.window(n)}
	b.start(own)
	u, v := n%c.wide, n/c.wide
	for _, d := range c.near {
		x, y := u+d[0], v+d[1]
		if x < 0 || y < 0 || x >= c.wide || y >= c.high || len(b.open) == 0 {
			continue
		}
		k := y*c.wide + x
		d2 := b.hull.apart2(c.window(k))
		if !c.within(d2) || c.over[d2]-c.lowest(k)-c.radius <= b.least {
			continue
		}
		if t := c.rest(k); !t.flat && c.lift(&b.deep, b.hull, &t.depth, c.window(k), t.casts) {
			b.sift()
		}
	}
	return b.raise(u, v)
}

// start opens all cells, with the ball straight over each.
func (b *bridger) start(own *rest) {
	size := b.in.wide() * b.in.high()
	b.deep = field{b.in, make([]float64, 0, size)}
	b.limit, b.open = make([]float64, 0, size), make([]int, 0, size)
	for j := b.in.j0; j < b.in.j1; j++ {
		for k, z := range own.depth.row(j, b.in.i0, b.in.i1) {
			i := b.in.i0 + k
			if i >= b.first {
				b.open = append(b.open, len(b.limit))
			}
			b.deep.z = append(b.deep.z, z+b.radius)
			b.limit = append(b.limit, -b.m.Z[j*b.m.NX+i]-b.grain(i, j))
		}
	}
	b.sift()
}

// sift leaves those cells open that no ball is known to touch yet.
func (b *bridger) sift() {
	left := b.open[:0]
	b.least, b.hull = math.Inf(1), none
	for _, k := range b.open {
		if b.deep.z[k] < b.limit[k] {
			left = append(left, k)
			b.least = min(b.least, b.deep.z[k])
			b.hull.take(b.in.i0+k%b.in.wide(), b.in.j0+k/b.in.wide())
		}
	}
	b.open = left
}

// raise raises the cells that are left open and tells which tiles are beside them.
func (b *bridger) raise(u, v int) (next []int) {
	var beside [9]bool
	wide, high := b.in.wide(), b.in.high()
	for _, k := range b.open {
		i, j := k%wide, k/wide
		b.out.Z[(j+b.in.j0)*b.m.NX+i+b.in.i0] = -b.deep.z[k]
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
		case high - 1:
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
