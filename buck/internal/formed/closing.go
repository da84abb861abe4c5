package formed

import (
	"cmp"
	"math"
	"slices"

	"formbuck/mesh/crew"
)

// Closing is the grey closing of a map by a ball: the lowest surface over it that a ball of the
// radius, in mm, can touch everywhere when it rolls over the map. The ball's middle is over middles
// of cells. Beyond the map there is nothing for the ball to touch, nor does it go there; so within
// twice the radius of the map's border the closing may be another than that of a wider map. It is
// looked for in the columns from the first one on, and left as the map before that.
func Closing(m *Map, radius float64, first int) *Map {
	return newCloser(newRoller(m, radius), first).All()
}

// Closer raises a map to what a ball leaves free.
//
// Cells are looked at in tiles, first those with a foot in them: a cell in which the map bends
// upwards more sharply than the ball. What the ball bridges hangs together with one (after
// Blaschke's rolling theorem, from memory); where it reaches the border of its tile the next one is
// looked at too.
type Closer struct {
	*roller
	first int
	out   *Map
	asked []bool // by tile: it is to be looked at, or has been
	near  [][2]int
}

// NewCloser is what closes a map by a ball of the radius, in mm, from column first on.
func NewCloser(m *Map, radius float64, first int) *Closer {
	return newCloser(newRoller(m, radius), first)
}

func newCloser(r *roller, first int) *Closer {
	c := &Closer{roller: r, first: first, asked: make([]bool, len(r.tiles))}
	far := (r.reach + tile - 1) / tile
	for v := -far; v <= far; v++ {
		for u := -far; u <= far; u++ {
			c.near = append(c.near, [2]int{u, v})
		}
	}
	apart := func(a [2]int) int { return a[0]*a[0] + a[1]*a[1] }
	slices.SortStableFunc(c.near, func(a, b [2]int) int { return cmp.Compare(apart(a), apart(b)) })
	return c
}

// All is the closing of all of the map.
func (c *Closer) All() *Map {
	c.out = c.m.Clone()
	c.feet(Window{0, c.m.NX, 0, c.m.NY})
	c.look(func(int) bool { return true })
	return c.out
}

// Again is the closing of a map that differs in some windows only. The closing is another within
// twice the ball's reach of them at most.
func (c *Closer) Again(m *Map, in []Window) *Map {
	a := newCloser(c.changed(m, in), c.first)
	a.out = c.out.Clone()
	far := 4 * len(c.over) // twice the reach, squared
	concerns := func(n int) bool { return a.window(n).apart(in) < far }
	for n, was := range c.asked {
		if a.asked[n] = was && concerns(n); concerns(n) {
			w := a.window(n)
			for j := w.j0; j < w.j1; j++ {
				copy(a.out.Row(j)[w.i0:w.i1], m.Row(j)[w.i0:w.i1])
			}
		}
	}
	for _, w := range in {
		a.feet(w.grown(1, m.Grid))
	}
	a.look(concerns)
	return a.out
}

// feet asks for the tiles with a foot in them, and for those at the map's border.
func (c *Closer) feet(in Window) {
	v0, v1 := in.j0/tile, (in.j1-1)/tile
	crew.Each(v1-v0+1, func(v int) {
		v += v0
		for u := in.i0 / tile; u <= (in.i1-1)/tile; u++ {
			n := v*c.wide + u
			border := u == 0 || v == 0 || u == c.wide-1 || v == c.high-1
			c.asked[n] = c.asked[n] || border || c.foot(c.window(n))
		}
	})
}

// foot tells whether there is one in a window that is not at the map's border.
func (c *Closer) foot(w Window) bool {
	m, nx := c.m, c.m.NX
	limit := m.Step * m.Step / c.radius
	for j := w.j0; j < w.j1; j++ {
		for n := j*nx + w.i0; n < j*nx+w.i1; n++ {
			z := m.Z[n-nx-1 : n+nx+2]
			c := 2 * z[nx+1]
			if z[nx]+z[nx+2]-c > limit || z[1]+z[2*nx+1]-c > limit ||
				z[0]+z[2*nx+2]-c > 2*limit || z[2]+z[2*nx]-c > 2*limit {
				return true
			}
		}
	}
	return false
}

// look looks at the tiles that are asked for, and at those that the bridges in them lead to, as far
// as they are concerned.
func (c *Closer) look(concerns func(n int) bool) {
	var list []int
	for n, is := range c.asked {
		if is && c.window(n).i1 > c.first {
			list = append(list, n)
		}
	}
	for len(list) > 0 {
		on := make([][]int, len(list))
		crew.Each(len(list), func(k int) { on[k] = c.bridge(list[k]) })
		list = list[:0]
		for _, next := range on {
			for _, n := range next {
				if !c.asked[n] && concerns(n) && c.window(n).i1 > c.first {
					c.asked[n] = true
					list = append(list, n)
				}
			}
		}
	}
}

// grain is by how much a ball whose middle is over middles of cells only may hang over cell (i, j)
// of a smooth map; not at all where it is level. On steep slopes it is more than what is returned.
func (c *Closer) grain(i, j int) float64 {
	const rounding = 1e-9
	m := c.m
	n := j*m.NX + i
	slope := func(back, on int) float64 { // of the gentler side: the steeper may be a cliff
		return min(math.Abs(m.Z[n+on]-m.Z[n]), math.Abs(m.Z[n]-m.Z[n-back])) / m.Step
	}
	dx := slope(min(i, 1), min(m.NX-1-i, 1))
	dy := slope(min(j, 1)*m.NX, min(m.NY-1-j, 1)*m.NX)
	if dx == 0 && dy == 0 {
		return rounding
	}
	steep := min(1+dx*dx+dy*dy, 2)
	return m.Step*m.Step/c.radius*steep*math.Sqrt(steep) + rounding
}
