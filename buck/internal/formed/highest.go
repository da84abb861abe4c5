package formed

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Highest is the highest place, over an area of the plan, of a sheet that lies on the map, its
// thickness measured square to the map's surface, and where it is; only what of the map is within a
// box, on the draw's axes, is looked at. The area is convex, in the blade's axes; its border
// belongs to it. Without a corner nothing is found: -Inf.
//
// The sheet's outer side is the grey dilation of the map by a ball of its thickness t: z(q) +
// sqrt(t^2 - |p-q|^2) over all q. Over an area that is the greatest of z(q) + sqrt(t^2 - d(q)^2),
// d(q) how far q is from the area: no place of it is left out. Between the middles of cells the map
// is taken as straight.
func (m *Map) Highest(area []r2.Vec, t float64, box r2.Box) (z float64, at r2.Vec) {
	a := newArea(m.Grid, area)
	best := math.Inf(-1)
	if len(a) == 0 {
		return best, at
	}
	w := a.window(m.Grid, t).common(m.around(box))
	over := make([]float64, w.wide()*w.high())
	for j := w.j0; j < w.j1; j++ {
		for i := w.i0; i < w.i1; i++ {
			n := (j-w.j0)*w.wide() + i - w.i0
			over[n] = a.over(m.Middle(i, j), m.Z[j*m.NX+i], t)
			best = max(best, over[n])
		}
	}
	top := math.Inf(-1)
	for j := w.j0; j+1 < w.j1; j++ {
		for i := w.i0; i+1 < w.i1; i++ {
			n := (j-w.j0)*w.wide() + i - w.i0
			if max(over[n], over[n+1], over[n+w.wide()], over[n+w.wide()+1]) < best-dip {
				continue
			}
			if high, p := m.between(a, i, j, t); high > top {
				top, at = high, p
			}
		}
	}
	return top, m.Blade(at)
}

const (
	// dip is by how much, in mm, a sheet over the middles of cells may be lower than over what is
	// between them, on cells of 0.1 mm and slopes up to 4: half of (slope^2 + 1)^(3/2) (1/t + 1/r)
	// times the square of half a cell, 0.06 for t = 2 and a convex radius of 8, and as much again for
	// tighter ones. Derived.
	dip = 0.15
	// finer is into how many parts the side of a cell is parted where the sheet is highest: an eighth
	// of a cell misses no more than a sixty-fourth of the dip.
	finer = 8
)

// between is the highest over the area that is held by what lies between four middles of cells.
func (m *Map) between(a area, i, j int, t float64) (z float64, at r2.Vec) {
	z = math.Inf(-1)
	from, n := m.Middle(i, j), j*m.NX+i
	for y := range finer + 1 {
		v := float64(y) / finer
		left, right := m.Z[n]+(m.Z[n+m.NX]-m.Z[n])*v, m.Z[n+1]+(m.Z[n+m.NX+1]-m.Z[n+1])*v
		for x := range finer + 1 {
			u := float64(x) / finer
			q := r2.Vec{X: from.X + u*m.Step, Y: from.Y + v*m.Step}
			if high := a.over(q, left+(right-left)*u, t); high > z {
				z, at = high, a.nearest(q)
			}
		}
	}
	return z, at
}

// area is a convex polygon on the draw's axes, counter-clockwise.
type area []r2.Vec

func newArea(g Grid, corners []r2.Vec) area {
	var a area
	turn := 0.0
	for i, p := range corners {
		a = append(a, g.Draw(p))
		turn += r2.Cross(p, corners[(i+1)%len(corners)])
	}
	if turn < 0 {
		for i, j := 0, len(a)-1; i < j; i, j = i+1, j-1 {
			a[i], a[j] = a[j], a[i]
		}
	}
	return a
}

// Holding is the box, on the draw's axes, round all cells that hold a ball of radius t over some
// place of an area as high as z or higher; of no size where there is none.
func (m *Map) Holding(area []r2.Vec, t, z float64) r2.Box {
	a := newArea(m.Grid, area)
	w, held := a.window(m.Grid, t), none
	for j := w.j0; j < w.j1; j++ {
		for i := w.i0; i < w.i1; i++ {
			if a.over(m.Middle(i, j), m.Z[j*m.NX+i], t) >= z {
				held.take(i, j)
			}
		}
	}
	if held == none {
		return r2.Box{}
	}
	half := r2.Vec{X: m.Step / 2, Y: m.Step / 2}
	return r2.Box{
		Min: r2.Sub(m.Middle(held.i0, held.j0), half),
		Max: r2.Add(m.Middle(held.i1-1, held.j1-1), half),
	}
}

// around are the cells of a box, and one more on every side.
func (g Grid) around(box r2.Box) Window {
	i0, j0 := g.Cell(box.Min)
	i1, j1 := g.Cell(box.Max)
	return g.Window(i0-1, i1+2, j0-1, j1+2)
}

// window are the cells that the area holds or has within t of it, and one more on every side.
func (a area) window(g Grid, t float64) Window {
	low, high := a[0], a[0]
	for _, p := range a {
		low = r2.Vec{X: min(low.X, p.X), Y: min(low.Y, p.Y)}
		high = r2.Vec{X: max(high.X, p.X), Y: max(high.Y, p.Y)}
	}
	room := r2.Vec{X: t, Y: t}
	return g.around(r2.Box{Min: r2.Sub(low, room), Max: r2.Add(high, room)})
}

// over is the highest that a ball of radius t about (q, z) reaches over the area; -Inf where it
// does not reach it.
func (a area) over(q r2.Vec, z, t float64) float64 {
	d2 := r2.Norm2(r2.Sub(q, a.nearest(q)))
	if d2 > t*t {
		return math.Inf(-1)
	}
	return z + math.Sqrt(t*t-d2)
}

// nearest is the point of the area nearest to q.
func (a area) nearest(q r2.Vec) r2.Vec {
	best, at, in := math.Inf(1), q, true
	for i, p := range a {
		side := r2.Sub(a[(i+1)%len(a)], p)
		off := r2.Sub(q, p)
		if r2.Cross(side, off) >= 0 {
			continue
		}
		in = false
		if l := r2.Norm2(side); l > 0 {
			p = r2.Add(p, r2.Scale(min(max(r2.Dot(off, side)/l, 0), 1), side))
		}
		if d := r2.Norm2(r2.Sub(q, p)); d < best {
			best, at = d, p
		}
	}
	if in {
		return q
	}
	return at
}
