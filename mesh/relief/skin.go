package relief

import (
	"math"
	"slices"

	"formbuck/mesh/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// skin is the lid or the floor of layers, as far as it goes on from triangle to triangle: one patch
// of the mesh's surface, with walls or other skins along its border.
type skin struct {
	end     int // of the layers: 0 their low end, 1 their high end
	parts   []carried
	layer   map[int]int  // of each triangle that has a part in it
	points  []int        // of the plan, those at the parts' corners
	levels  []int64      // over the points
	border  []side       // the skin to the left
	starts  []int64      // levels over the first points of the border's sides
	split   map[int]bool // points over which the skin has several levels: a wall ends beside it
	creases []side       // lines within that bend it
}

// side is a side of a triangle of the plan, from one point to the next.
type side struct{ a, b int }

// skinner gathers skins.
type skinner struct {
	*work
	stacks
	taken  [2]map[carried]bool // ends of layers that are in a skin
	member []int               // of each triangle, the number of the last skin that it is in, from 1
	local  []int               // of each point, its number in the skin, from 1
}

// skins are all skins of the stacks.
func (w *work) skins(s stacks) []*skin {
	g := &skinner{work: w, stacks: s, member: make([]int, len(s)), local: make([]int, len(w.points))}
	g.taken = [2]map[carried]bool{make(map[carried]bool), make(map[carried]bool)}
	var skins []*skin
	for i := range s {
		for n := range s[i] {
			for end := range 2 {
				if c := (carried{i, n}); !s[i][n].thin && !g.taken[end][c] {
					skins = append(skins, g.gather(c, end, len(skins)+1))
				}
			}
		}
	}
	return skins
}

// gather is the skin, of the number given, that an end of a layer is part of. A triangle is in it
// with one layer only.
func (g *skinner) gather(first carried, end, number int) *skin {
	k := &skin{end: end, parts: []carried{first}, split: make(map[int]bool)}
	g.taken[end][first] = true
	g.member[first.triangle] = number
	for n := 0; n < len(k.parts); n++ {
		c := k.parts[n]
		for j := range 3 {
			next, ok := g.beyond(c, j, end)
			if ok && !g.taken[end][next] && g.member[next.triangle] != number {
				g.taken[end][next] = true
				g.member[next.triangle] = number
				k.parts = append(k.parts, next)
			}
		}
	}
	g.trace(k)
	return k
}

// beyond is the layer across side j of a layer's triangle of which the end goes on at the same level.
func (g *skinner) beyond(c carried, j, end int) (carried, bool) {
	i := g.across(c.triangle, j)
	if i < 0 {
		return carried{}, false
	}
	t, u := g.triangles[c.triangle], g.triangles[i]
	at := g.stacks[c.triangle][c.layer].at
	ka, kb := slices.Index(u[:], t[j]), slices.Index(u[:], t[(j+1)%3])
	for n, l := range g.stacks[i] {
		if !l.thin && l.at[ka].end(end) == at[j].end(end) && l.at[kb].end(end) == at[(j+1)%3].end(end) {
			return carried{i, n}, true
		}
	}
	return carried{}, false
}

// end is the low end, for 0, or the high one of the interval.
func (i interval) end(n int) int64 {
	if n == 0 {
		return i.low
	}
	return i.high
}

// trace lists the skin's points, border and creases.
func (g *skinner) trace(k *skin) {
	k.layer = make(map[int]int, len(k.parts))
	for _, c := range k.parts {
		k.layer[c.triangle] = c.layer
	}
	for _, c := range k.parts {
		t := g.triangles[c.triangle]
		l := g.stacks[c.triangle][c.layer]
		_, marks := g.zone[c.triangle].spans[l.span].end(k.end)
		for j, v := range t {
			if g.local[v] == 0 {
				k.points = append(k.points, v)
				k.levels = append(k.levels, l.at[j].end(k.end))
				g.local[v] = len(k.points)
			} else if k.levels[g.local[v]-1] != l.at[j].end(k.end) {
				k.split[v] = true
			}
			next, ok := g.beyond(c, j, k.end)
			in := false
			if n, here := k.layer[next.triangle]; ok && here {
				in = n == next.layer
			}
			s := side{v, t[(j+1)%3]}
			switch {
			case !in:
				k.border = append(k.border, s)
				k.starts = append(k.starts, l.at[j].end(k.end))
			case s.a < s.b && g.plan.Constrained(c.triangle, j) && Marks(g.plan.Mark(c.triangle, j))&marks.all() != 0:
				k.creases = append(k.creases, s)
			}
		}
	}
	for _, v := range k.points {
		g.local[v] = 0
	}
}

// flat tells whether the skin is a plane, but for rounding to the grid, as far as points and the
// middles of triangles show.
func (s *stitcher) flat(k *skin) bool {
	if len(k.split) > 0 {
		return false
	}
	at := func(n int) r2.Vec { return s.points[k.points[n]] }
	far := func(from func(p r2.Vec) float64) (best int) {
		most := -1.0
		for n := range k.points {
			if d := from(at(n)); d > most {
				best, most = n, d
			}
		}
		return best
	}
	o := at(0)
	a := far(func(p r2.Vec) float64 { return r2.Norm2(r2.Sub(p, o)) })
	u := r2.Sub(at(a), o)
	b := far(func(p r2.Vec) float64 { return math.Abs(r2.Cross(u, r2.Sub(p, o))) })
	v := r2.Sub(at(b), o)
	det := r2.Cross(u, v)
	if det == 0 {
		return false
	}
	lo := float64(k.levels[0])
	du, dv := float64(k.levels[a])-lo, float64(k.levels[b])-lo
	slope := r2.Vec{X: (du*v.Y - dv*u.Y) / det, Y: (dv*u.X - du*v.X) / det}
	off := func(p r2.Vec, level float64) bool {
		return math.Abs(level-lo-r2.Dot(slope, r2.Sub(p, o))) > 1.5
	}
	for n, level := range k.levels {
		if off(at(n), float64(level)) {
			return false
		}
	}
	for _, c := range k.parts {
		p := s.middle(c.triangle)
		if off(p, s.height(c, k.end, p)/plan.Grid) {
			return false
		}
	}
	return true
}

// height is the height of an end of a layer at p.
func (s *stitcher) height(c carried, end int, p r2.Vec) float64 {
	return s.at(s.zone[c.triangle], 2*s.stacks[c.triangle][c.layer].span+end, p)
}
