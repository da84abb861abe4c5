package formed

import "math"

// ball is a ball on a grid of cells.
type ball struct {
	step, radius float64
	reach        int       // radius in whole cells
	over         []float64 // its height over its middle by the square of the distance in cells
}

func newBall(radius, step float64) ball {
	b := ball{step: step, radius: radius, reach: int(radius/step + 1e-9)}
	for d2 := 0; ; d2++ {
		under := radius*radius - float64(d2)*step*step
		if under < 0 {
			return b
		}
		b.over = append(b.over, math.Sqrt(under))
	}
}

// within tells whether the square of a distance in cells is no more than the ball's radius.
func (b *ball) within(d2 int) bool { return d2 < len(b.over) }

// cut is the square of the ball's radius, in cells, in the plane n cells from its middle.
func (b *ball) cut(n int) float64 {
	r := b.radius / b.step
	return max(r*r-float64(n*n), 0)
}

// far is how far towards a cell beside it, that is higher by up mm, a cell holds the ball and that
// one does not, in whole cells, in a plane in which the ball is a circle; cut is the square of its
// radius. Circles that rest on either cell cross once at most. Far may be negative.
func (b *ball) far(up, cut float64) int {
	const rounding = 1e-6
	up /= b.step
	var x float64
	switch g := cut/(1+up*up) - 0.25; {
	case g >= up*up/4:
		x = 0.5 - up*math.Sqrt(g)
	case up > 0:
		x = 1 - math.Sqrt(cut) // as far as the circle on the higher cell does not reach
	default:
		x = math.Sqrt(cut)
	}
	shift := b.reach + 2 // so that rounding towards 0 is down
	return int(x+rounding+float64(shift)) - shift
}

// flank is how much higher the cells beside a cell are, in mm; beyond the field, infinitely lower.
type flank struct{ left, right, below, above float64 }

func (f *field) flank(i, j int) flank {
	n, wide := f.at(i, j), f.wide()
	z, down := f.z[n], math.Inf(-1)
	k := flank{down, down, down, down}
	if i > f.i0 {
		k.left = f.z[n-1] - z
	}
	if i < f.i1-1 {
		k.right = f.z[n+1] - z
	}
	if j > f.j0 {
		k.below = f.z[n-wide] - z
	}
	if j < f.j1-1 {
		k.above = f.z[n+wide] - z
	}
	return k
}

// cast is a window of all places of the ball's middle, seen from a cell, at which none of the cells
// beside it holds it higher than the cell.
func (b *ball) cast(k flank) Window {
	if k == (flank{}) {
		return Window{0, 1, 0, 1}
	}
	full := b.cut(0)
	w := Window{i1: 1, j1: 1}
	if k.left < 0 {
		w.i0 = -b.far(k.left, full)
	}
	if k.right < 0 {
		w.i1 = b.far(k.right, full) + 1
	}
	least := b.cut(max(-w.i0, w.i1-1))
	side := func(up float64) int {
		if up < 0 {
			return b.far(up, full)
		}
		return b.far(up, least)
	}
	w.j0, w.j1 = -side(k.below), side(k.above)+1
	return w
}

// casts are the places over which the cells of a tile may hold the ball, block by block; those
// straight over level cells are left out.
type casts struct {
	hull   Window
	blocks [(tile / block) * (tile / block)]Window
}

// throw finds the casts of a field's tile.
func (b *ball) throw(f *field, in Window) *casts {
	c := &casts{hull: none}
	for n := range c.blocks {
		all := none
		v := in.block(n)
		for j := v.j0; j < v.j1; j++ {
			for i := v.i0; i < v.i1; i++ {
				if k := f.flank(i, j); k != (flank{}) {
					if w := b.cast(k); w.j0 < w.j1 {
						all = all.with(Window{i + w.i0, i + w.i1, j + w.j0, j + w.j1})
					}
				}
			}
		}
		c.blocks[n], c.hull = all, c.hull.with(all)
	}
	return c
}

// block are the cells of block n of a tile.
func (w Window) block(n int) Window {
	const per = tile / block
	i, j := w.i0+n%per*block, w.j0+n/per*block
	return Window{i, min(i+block, w.i1), j, min(j+block, w.j1)}
}

// lift raises the heights of a field, within a window of it, to those of the middles of balls that
// the cells of another field's tile hold, and tells whether it has raised any. What level cells
// hold straight over them is left out.
func (b *ball) lift(to *field, within Window, from *field, in Window, c *casts) (lifted bool) {
	if !c.hull.meets(within) {
		return false
	}
	for n := range c.blocks {
		if !c.blocks[n].meets(within) {
			continue
		}
		v := in.block(n)
		for j := v.j0; j < v.j1; j++ {
			for i := v.i0; i < v.i1; i++ {
				lifted = b.hold(to, within, from, i, j) || lifted
			}
		}
	}
	return lifted
}

// hold does so for one cell.
func (b *ball) hold(to *field, within Window, from *field, i, j int) (lifted bool) {
	k := from.flank(i, j)
	w := b.cast(k)
	z := from.z[from.at(i, j)]
	for y := max(w.j0, within.j0-j); y < min(w.j1, within.j1-j); y++ {
		cut := b.cut(y)
		i0, i1 := max(-b.far(k.left, cut), within.i0-i), min(b.far(k.right, cut)+1, within.i1-i)
		if i0 >= i1 {
			continue
		}
		row := to.row(j+y, i+i0, i+i1)
		for x := range row {
			d2 := (i0+x)*(i0+x) + y*y
			if d2 < len(b.over) && z+b.over[d2] > row[x] {
				row[x], lifted = z+b.over[d2], true
			}
		}
	}
	return lifted
}
