package formed

import (
	"math"
	"sync"
)

// A tile is a square of cells that is worked out together, a block a part of it, by their sides in
// cells.
const (
	tile  = 32
	block = 4
)

// roller lets a ball down on a map, tile by tile, each when it is first asked for.
type roller struct {
	ball
	m      *Map
	field  field // the map's heights
	wide   int   // tiles in a row
	high   int   // rows of tiles
	tiles  []work
	base   *roller // of a map that differs from this one in the changed windows only, or nil
	change []Window
}

// work is what is found of a tile.
type work struct {
	low, thrown, settled sync.Once
	least                float64 // height
	casts                *casts
	rest                 *rest
}

// rest is where the ball comes to rest when it is let down with its middle over each cell of a
// tile.
type rest struct {
	flat  bool   // the ball rests on the cell under its middle everywhere; there is no more of it
	casts *casts // of the depths

	// depth is by how much the ball's middle is below the middle plane, over the tile and a cell more
	// on every side.
	depth field
}

func newRoller(m *Map, radius float64) *roller {
	r := &roller{ball: newBall(radius, m.Step), m: m, field: field{Window{0, m.NX, 0, m.NY}, m.Z}}
	r.wide, r.high = (m.NX+tile-1)/tile, (m.NY+tile-1)/tile
	r.tiles = make([]work, r.wide*r.high)
	return r
}

// changed is a roller on a map that differs in some windows only.
func (r *roller) changed(m *Map, in []Window) *roller {
	c := *r
	c.m, c.field.z, c.base, c.change = m, m.Z, r, in
	c.tiles = make([]work, len(r.tiles))
	return &c
}

// window are the cells of tile n.
func (r *roller) window(n int) Window {
	u, v := n%r.wide, n/r.wide
	return Window{u * tile, min((u+1)*tile, r.m.NX), v * tile, min((v+1)*tile, r.m.NY)}
}

// same tells whether tile n and what is within some cells of it are as they are on the base's map.
func (r *roller) same(n, within int) bool {
	return r.base != nil && r.window(n).grown(within, r.m.Grid).apart(r.change) > 0
}

// lowest is the least height in tile n.
func (r *roller) lowest(n int) float64 {
	if r.same(n, 0) {
		return r.base.lowest(n)
	}
	t := &r.tiles[n]
	t.low.Do(func() {
		t.least = math.Inf(1)
		w := r.window(n)
		for j := w.j0; j < w.j1; j++ {
			for _, z := range r.field.row(j, w.i0, w.i1) {
				t.least = min(t.least, z)
			}
		}
	})
	return t.least
}

// casts are those of tile n.
func (r *roller) casts(n int) *casts {
	if r.same(n, 1) {
		return r.base.casts(n)
	}
	t := &r.tiles[n]
	t.thrown.Do(func() { t.casts = r.throw(&r.field, r.window(n)) })
	return t.casts
}

// rest is that of tile n.
func (r *roller) rest(n int) *rest {
	if r.same(n, r.reach+1) {
		return r.base.rest(n)
	}
	t := &r.tiles[n]
	t.settled.Do(func() { t.rest = r.settle(r.window(n)) })
	return t.rest
}

// settle lets the ball down over every cell of a tile.
func (r *roller) settle(in Window) *rest {
	z := field{Window: in.grown(1, r.m.Grid)}
	z.z = make([]float64, 0, z.wide()*z.high())
	low, high := math.Inf(1), math.Inf(-1)
	for j := z.j0; j < z.j1; j++ {
		for _, h := range r.field.row(j, z.i0, z.i1) {
			low, high = min(low, h), max(high, h)
			z.z = append(z.z, h+r.radius)
		}
	}
	lifted := false
	v := z.grown(r.reach, r.m.Grid)
	for y := v.j0 / tile; y <= (v.j1-1)/tile; y++ {
		for x := v.i0 / tile; x <= (v.i1-1)/tile; x++ {
			n := y*r.wide + x
			lifted = r.lift(&z, z.Window, &r.field, r.window(n), r.casts(n)) || lifted
		}
	}
	if low == high && !lifted {
		return &rest{flat: true}
	}
	for n := range z.z {
		z.z[n] = -z.z[n]
	}
	return &rest{depth: z, casts: r.throw(&z, in)}
}
