package relief

import (
	"math"

	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// skin is the lid or the floor of layers, as far as it goes on from triangle to triangle: one patch
// of the mesh's surface, with walls, other skins or thin layers along its border.
type skin struct {
	end     int // of the layers: 0 their low end, 1 their high end
	parts   []carried
	rim     []uint8      // of each part, a bit for each side that is border
	points  []int        // of the plan, those at the parts' corners
	levels  []int32      // over the points
	border  []side       // the skin to the left
	starts  []int32      // levels over the first points of the border's sides
	split   map[int]bool // points over which the skin has several levels: a wall ends beside it
	creases []side       // lines within that bend it; until the next is gathered
	crossed bool         // other lines are within it, too
}

// side is a side of a triangle of the plan, from one point to the next.
type side struct{ a, b int }

// skinner gathers skins, one at a time.
type skinner struct {
	*work
	stacks
	layer  []int32   // of each triangle, its layer in the skin at hand, from 1
	number []int32   // of each point, its number in the skin at hand, from 1
	parts  []carried // of all skins, one after the other
	rims   []uint8   // of all parts
	taken  [2][]bool // of the ends of each layer, whether they are in a skin
	bent   []side    // room for a skin's creases
}

func newSkinner(w *work, s stacks) *skinner {
	count := len(s.all)
	return &skinner{
		work: w, stacks: s, layer: make([]int32, len(s.first)), number: make([]int32, len(w.points)),
		parts: make([]carried, 0, 2*count), rims: make([]uint8, 0, 2*count), bent: make([]side, 0, len(w.points)),
		taken: [2][]bool{make([]bool, count), make([]bool, count)},
	}
}

// each calls yield with every skin, until it fails.
func (g *skinner) each(yield func(k *skin) error) error {
	for i := range g.stacks.first {
		layers := g.stacks.at(i)
		for n := range layers {
			for end := range 2 {
				c := carried{int32(i), int32(n)}
				if layers[n].thin || g.taken[end][g.stacks.number(c)] {
					continue
				}
				k := g.gather(c, end)
				err := yield(k)
				g.forget(k)
				if err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// gather is the skin that an end of a layer is part of. A triangle is in it with one layer only.
func (g *skinner) gather(c carried, end int) *skin {
	from, sides := len(g.parts), 0
	take := func(c carried) {
		g.taken[end][g.stacks.number(c)] = true
		g.layer[c.triangle] = c.layer + 1
		g.parts = append(g.parts, c)
	}
	take(c)
	for n := from; n < len(g.parts); n++ {
		rim := uint8(0)
		for j, c := range g.beyond(g.parts[n], end) {
			if c != none && g.layer[c.triangle] == 0 && !g.taken[end][g.stacks.number(c)] {
				take(c)
			}
			if c == none || g.layer[c.triangle] != c.layer+1 {
				rim |= 1 << j
				sides++
			}
		}
		g.rims = append(g.rims, rim)
	}
	k := &skin{end: end, parts: g.parts[from:], rim: g.rims[from:], creases: g.bent[:0]}
	points := (len(k.parts)+sides)/2 + 1 // by Euler, where it is a disc
	k.points, k.levels = make([]int, 0, points), make([]int32, 0, points)
	k.border, k.starts = make([]side, 0, sides), make([]int32, 0, sides)
	for n := range k.parts {
		g.trace(k, n)
	}
	g.bent = k.creases
	return k
}

// forget makes room for the next skin.
func (g *skinner) forget(k *skin) {
	for _, c := range k.parts {
		g.layer[c.triangle] = 0
	}
	for _, v := range k.points {
		g.number[v] = 0
	}
}

// none is no layer.
var none = carried{-1, -1}

// beyond are the layers across the sides of a layer's triangle of which the end goes on at the same
// level.
func (g *skinner) beyond(c carried, end int) (next [3]carried) {
	at := &g.of(c).at
	for j := range next {
		i, kb := g.plan.Across(int(c.triangle), j)
		next[j] = none
		if i < 0 {
			continue
		}
		ka, layers := (kb+1)%3, g.stacks.at(i)
		for n := range layers {
			l := &layers[n]
			if !l.thin && l.at[ka].end(end) == at[j].end(end) && l.at[kb].end(end) == at[(j+1)%3].end(end) {
				next[j] = carried{int32(i), int32(n)}
				break
			}
		}
	}
	return next
}

// trace lists the points of part n of the skin, and its sides that are border or crease.
func (g *skinner) trace(k *skin, n int) {
	c := k.parts[n]
	t := g.plan.Triangle(int(c.triangle))
	l := g.of(c)
	marks := g.end(c, k.end).marks
	for j, v := range t {
		level := l.at[j].end(k.end)
		if g.number[v] == 0 {
			k.points = append(k.points, v)
			k.levels = append(k.levels, level)
			g.number[v] = int32(len(k.points))
		} else if k.levels[g.number[v]-1] != level {
			if k.split == nil {
				k.split = make(map[int]bool)
			}
			k.split[v] = true
		}
		s := side{v, t[(j+1)%3]}
		switch {
		case k.rim[n]>>j&1 != 0:
			k.border = append(k.border, s)
			k.starts = append(k.starts, level)
		case s.a > s.b || !g.plan.Constrained(int(c.triangle), j):
		case Marks(g.plan.Mark(int(c.triangle), j))&marks != 0:
			k.creases = append(k.creases, s)
		default:
			k.crossed = true
		}
	}
}

// endOf is the number of an end of a layer among those of its zone.
func (g *skinner) endOf(c carried, n int) int { return 2*int(g.of(c).span) + n }

// end is an end of a layer.
func (g *skinner) end(c carried, n int) *end {
	return &g.zone[c.triangle].ends[g.endOf(c, n)]
}

// height is the height of an end of a layer at p.
func (g *skinner) height(c carried, end int, p r2.Vec) float64 {
	return g.at(g.zone[c.triangle], g.endOf(c, end), p)
}

// under is the layer of the skin at hand at p.
func (g *skinner) under(p r2.Vec) (carried, bool) {
	i := g.plan.Locate(p)
	return carried{int32(i), g.layer[i] - 1}, g.layer[i] > 0
}

// flat tells whether the skin is a plane, but for rounding to the grid, as far as points and the
// middles of triangles show.
func (g *skinner) flat(k *skin) bool {
	if len(k.split) > 0 {
		return false
	}
	level, ok := g.span(k)
	if !ok {
		return false
	}
	const most = 1.5 // grid steps: two roundings and the middle's
	for n, v := range k.points {
		if math.Abs(level.over(g.points[v])-float64(k.levels[n])) > most {
			return false
		}
	}
	for _, c := range k.parts {
		p := g.middle(int(c.triangle))
		if math.Abs(level.over(p)-g.height(c, k.end, p)/plan.Grid) > most {
			return false
		}
	}
	return true
}

// span is the plane through three of the skin's levels that are far apart.
func (g *skinner) span(k *skin) (plane, bool) {
	at := func(n int) r2.Vec { return r2.Sub(g.points[k.points[n]], g.points[k.points[0]]) }
	furthest := func(far func(d r2.Vec) float64) (best int) {
		for n := range k.points {
			if far(at(n)) > far(at(best)) {
				best = n
			}
		}
		return best
	}
	a := furthest(r2.Norm2)
	u := at(a)
	b := furthest(func(d r2.Vec) float64 { return math.Abs(r2.Cross(u, d)) })
	var corners [3]r2.Vec
	var levels [3]float64
	for j, n := range [3]int{0, a, b} {
		corners[j], levels[j] = g.points[k.points[n]], float64(k.levels[n])
	}
	return through(corners, levels)
}
