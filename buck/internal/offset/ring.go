package offset

import (
	"errors"
	"math"
	"slices"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Ring is a closed level line as points, with what is inside on its left. Up is the direction in which the
// surface rises at each point: square to the line; the zero vector at a corner.
type Ring struct {
	Points, Up []r2.Vec
}

// FromLeft is the same ring from its leftmost point on, the lowest of several.
func (r Ring) FromLeft() Ring {
	first := 0
	for i, p := range r.Points {
		if q := r.Points[first]; p.X < q.X || p.X == q.X && p.Y < q.Y {
			first = i
		}
	}
	turn := func(all []r2.Vec) []r2.Vec { return append(slices.Clone(all[first:]), all[:first]...) }
	return Ring{Points: turn(r.Points), Up: turn(r.Up)}
}

// shift moves the grid off round numbers, as a share of its step, so that straight sides of drawings do not run along its lines.
// Two less the golden ratio: derived as the share that fits no round number; our own, no source.
const shift = 0.381966

// errBox is a level that leaves the box it was looked for in.
var errBox = errors.New("the outline leaves the box that it is looked for in")

// Rings follows the level 0 of a surface over cells of the given step. It is found wherever it passes
// between two nodes of the grid; of what is narrower than a cell some may be missed.
func Rings(s Surface, box r2.Box, step float64) ([]Ring, error) {
	origin := r2.Vec{X: box.Min.X - shift*step, Y: box.Min.Y - shift*step}
	nx := int(math.Ceil((box.Max.X-origin.X)/step)) + 1
	ny := int(math.Ceil((box.Max.Y-origin.Y)/step)) + 1
	size := 1
	for size < max(nx, ny) {
		size *= 2
	}
	t := &tracer{
		s: s, origin: origin, step: step, nx: nx, ny: ny,
		tiles: make(map[[2]int]*tile),
	}
	t.block(0, 0, size)
	if t.leaves {
		return nil, errBox
	}
	return t.link(), nil
}

// tracer follows one level.
type tracer struct {
	s      Surface
	origin r2.Vec
	step   float64
	nx, ny int // cells
	tiles  map[[2]int]*tile
	last   *tile // that was looked up, at lastAt
	lastAt [2]int
	points []r2.Vec
	up     []r2.Vec
	next   []int    // the point after each
	corner []r2.Vec // between each point and the next, where there is one
	sharp  []bool
	leaves bool
}

// tile is what is known at a square of nodes: the values, 0 where not known, and one more than the number of
// the level's point on the edges from each along x and along y, 0 where there is none.
type tile struct {
	value [tileSide * tileSide]float64
	point [2][tileSide * tileSide]int32
}

const tileSide = 16 // nodes

// at is the tile of a node and the node's place in it.
func (t *tracer) at(i, j int) (*tile, int) {
	key := [2]int{i / tileSide, j / tileSide}
	if t.last == nil || key != t.lastAt {
		if t.tiles[key] == nil {
			t.tiles[key] = new(tile)
		}
		t.last, t.lastAt = t.tiles[key], key
	}
	return t.last, i%tileSide + j%tileSide*tileSide
}

// edge is the side of a cell from node (i, j) along x or, where up, along y.
type edge struct {
	i, j int
	up   bool
}

func (t *tracer) place(i, j float64) r2.Vec {
	return r2.Vec{X: t.origin.X + i*t.step, Y: t.origin.Y + j*t.step}
}

// node is the value at a node, never 0: what is nearer to the level than a millionth of the step counts as
// that far outside.
func (t *tracer) node(i, j int) float64 {
	in, k := t.at(i, j)
	if in.value[k] == 0 {
		v, _ := t.s(t.place(float64(i), float64(j)))
		if least := 1e-6 * t.step; math.Abs(v) < least {
			v = least
		}
		in.value[k] = v
	}
	return in.value[k]
}

// block looks for the level in a square of cells, unless it is too far away for one with a slope of 1.
func (t *tracer) block(i, j, size int) {
	if i >= t.nx || j >= t.ny {
		return
	}
	if size == 1 {
		t.cell(i, j)
		return
	}
	half := float64(size) / 2
	if v, _ := t.s(t.place(float64(i)+half, float64(j)+half)); math.Abs(v) > 1.001*half*math.Sqrt2*t.step {
		return
	}
	size /= 2
	t.block(i, j, size)
	t.block(i+size, j, size)
	t.block(i, j+size, size)
	t.block(i+size, j+size, size)
}

// cell adds what the level does in one cell: its sides are looked at counter-clockwise from the lower one,
// and where one goes from inside to outside a line begins, with the inside on its left.
func (t *tracer) cell(i, j int) {
	corners := [4][2]int{{i, j}, {i + 1, j}, {i + 1, j + 1}, {i, j + 1}}
	sides := [4]edge{{i, j, false}, {i + 1, j, true}, {i, j + 1, false}, {i, j, true}}
	var in, out []int
	for k := range corners {
		a, b := t.node(corners[k][0], corners[k][1]), t.node(corners[(k+1)%4][0], corners[(k+1)%4][1])
		if (a < 0) == (b < 0) {
			continue
		}
		p := t.on(sides[k])
		if a < 0 {
			out = append(out, p)
		} else {
			in = append(in, p)
		}
	}
	if len(in) == 0 {
		return
	}
	if i == 0 || j == 0 || i == t.nx-1 || j == t.ny-1 {
		t.leaves = true
	}
	if len(in) == 1 {
		t.join(out[0], in[0])
		t.turn(out[0], in[0])
		return
	}
	// Two lines: which pairs belong together the middle tells. Sides come counter-clockwise, so that in and
	// out alternate.
	middle, _ := t.s(t.place(float64(i)+0.5, float64(j)+0.5))
	first := t.node(i, j) < 0 // then a line begins on the lower side
	if (middle < 0) == first {
		t.join(out[0], in[0])
		t.join(out[1], in[1])
		return
	}
	t.join(out[0], in[1])
	t.join(out[1], in[0])
}

// on is the level's point on an edge, found by false position (the Illinois way; Dahlquist and Björck,
// Numerical Methods, from memory).
func (t *tracer) on(e edge) int {
	in, k := t.at(e.i, e.j)
	i, j, known := e.i+1, e.j, &in.point[0][k]
	if e.up {
		i, j, known = e.i, e.j+1, &in.point[1][k]
	}
	if *known > 0 {
		return int(*known) - 1
	}
	a, b := t.place(float64(e.i), float64(e.j)), t.place(float64(i), float64(j))
	fa, fb := t.node(e.i, e.j), t.node(i, j)
	low, high := 0.0, 1.0
	var p, up r2.Vec
	last := 0
	for range 60 {
		share := (low*fb - high*fa) / (fb - fa)
		p = r2.Add(a, r2.Scale(share, r2.Sub(b, a)))
		var v float64
		v, up = t.s(p)
		if math.Abs(v) < 1e-11 || high-low < 1e-12 {
			break
		}
		if (v < 0) == (fa < 0) {
			low, fa = share, v
			if last == -1 {
				fb /= 2
			}
			last = -1
		} else {
			high, fb = share, v
			if last == 1 {
				fa /= 2
			}
			last = 1
		}
	}
	n := len(t.points)
	*known = int32(n) + 1
	t.points, t.up = append(t.points, p), append(t.up, up)
	t.next, t.corner, t.sharp = append(t.next, -1), append(t.corner, r2.Vec{}), append(t.sharp, false)
	return n
}

// sharpTurn is the turn within one cell, in radians, from which a corner is looked for: arcs as tight
// as that are not followed by cells so wide. Our own, no source.
const sharpTurn = 0.15

// join makes b the point after a.
func (t *tracer) join(a, b int) { t.next[a] = b }

// spike is how long a corner may be that is too narrow for the cells, there and back, in steps.
const spike = 40

// turn leads the level by way of a corner where it turns sharply between a and the next point b of a cell:
// where the straight lines along it at both points meet, if they are on the level as far as there.
func (t *tracer) turn(a, b int) {
	ua, ub := t.up[a], t.up[b]
	cross := r2.Cross(ua, ub)
	if math.Abs(math.Atan2(cross, r2.Dot(ua, ub))) < sharpTurn {
		return
	}
	pa, pb := t.points[a], t.points[b]
	if math.Abs(cross) < 1e-9 {
		return
	}
	// c with ua.(c-pa) = 0 and ub.(c-pb) = 0
	da, db := r2.Dot(ua, pa), r2.Dot(ub, pb)
	c := r2.Vec{X: (da*ub.Y - db*ua.Y) / cross, Y: (ua.X*db - ub.X*da) / cross}
	if r2.Norm(r2.Sub(c, pa))+r2.Norm(r2.Sub(c, pb)) > spike*t.step {
		return
	}
	if r2.Cross(ua, r2.Sub(c, pa)) <= 0 || r2.Cross(ub, r2.Sub(pb, c)) <= 0 {
		return // behind the one or before the other, as the ring runs: with up on its right
	}
	off := 0.01 * r2.Norm(r2.Sub(pb, pa))
	for _, q := range [3]r2.Vec{c, r2.Scale(0.5, r2.Add(pa, c)), r2.Scale(0.5, r2.Add(c, pb))} {
		if v, _ := t.s(q); math.Abs(v) > off {
			return
		}
	}
	t.corner[a], t.sharp[a] = c, true
}

// link puts the points into rings, each from the first that was found.
func (t *tracer) link() []Ring {
	var rings []Ring
	done := make([]bool, len(t.points))
	const same = 1e-9 // mm
	for first := range t.points {
		if done[first] {
			continue
		}
		var r Ring
		add := func(p, up r2.Vec) {
			if n := len(r.Points); n > 0 && r2.Norm(r2.Sub(p, r.Points[n-1])) < same {
				return
			}
			r.Points, r.Up = append(r.Points, p), append(r.Up, up)
		}
		for n := first; n >= 0 && !done[n]; n = t.next[n] {
			done[n] = true
			add(t.points[n], t.up[n])
			if t.sharp[n] {
				add(t.corner[n], r2.Vec{})
			}
		}
		if len(r.Points) > 2 && !t.crumb(r) {
			rings = append(rings, r)
		}
	}
	return rings
}

// crumb tells whether a ring is part of a corner that is too narrow for the cells: a node in it made a ring
// of its own, and all of that lies along the sides of the corner that another ring goes by way of.
func (t *tracer) crumb(r Ring) bool {
	const most = 4 * spike // points
	if len(r.Points) > most {
		return false
	}
	for _, p := range r.Points {
		on := false
		for a, sharp := range t.sharp {
			if !sharp || r2.Norm(r2.Sub(p, t.corner[a])) > spike*t.step {
				continue
			}
			c := t.corner[a]
			for _, end := range [2]r2.Vec{t.points[a], t.points[t.next[a]]} {
				side := profile.Segment{A: end, B: c}
				on = on || p != end && p != c && side.Distance(p) < 0.02*t.step
			}
		}
		if !on {
			return false
		}
	}
	return true
}
