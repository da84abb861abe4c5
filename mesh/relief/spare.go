package relief

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// face is a triangle of a skin as it goes into the mesh: its corners are points of the skin's own plan, counter-clockwise.
type face struct {
	corners [3]int
	z       [3]float64 // over the corners
	closed  [3]bool    // sides that are border
	on      *patch
}

// has tells whether v is a corner.
func (c *face) has(v int) bool { return c.corners[0] == v || c.corners[1] == v || c.corners[2] == v }

// eachFace calls yield with every face of the skin.
func (f *fitting) eachFace(yield func(c face)) {
	if f.faces != nil {
		for _, c := range f.faces {
			yield(c)
		}
		return
	}
	for i, p := range f.patch {
		if !p.empty {
			yield(f.face(i))
		}
	}
}

// face is triangle i of the skin's own plan.
func (f *fitting) face(i int) face {
	c := face{corners: f.own.Triangle(i), on: f.patch[i]}
	for k := range 3 {
		c.z[k] = f.over(i, k)
		c.closed[k] = f.onBorder(i, k)
	}
	return c
}

// sparer takes points out of a skin that its height can do without. A plan whose triangles are as round as can be has
// too many where the height bends one way only.
type sparer struct {
	*fitting
	around [][]int32 // of each point that may go, the faces that have it, some of them gone since
	gone   []bool    // of each face
	keep   []bool    // of each point; one that has been taken out needs no look either
	again  []bool    // of each point, whether it is to be tried, as what is around it has changed
}

// spare joins points with one next to them, the last that came first, where no face misses the height for it.
func (f *fitting) spare() {
	s := &sparer{fitting: f, keep: f.kept()}
	if !slices.Contains(s.keep, false) {
		return
	}
	faces := make([]face, 0, len(f.patch))
	f.eachFace(func(c face) { faces = append(faces, c) })
	f.faces, s.gone = faces, make([]bool, len(faces))
	first := grouped(len(s.keep), func(add func(v int, face int32)) {
		for i := range f.faces {
			for _, v := range f.faces[i].corners {
				if !s.keep[v] {
					add(v, int32(i))
				}
			}
		}
	})
	s.around = make([][]int32, len(s.keep))
	for v := range s.around {
		s.around[v] = slices.Clip(first.at(v))
	}
	s.again = make([]bool, len(s.keep))
	for v, keep := range s.keep {
		s.again[v] = !keep
	}
	for slices.Contains(s.again, true) {
		for v := len(s.again) - 1; v >= 0; v-- {
			if s.again[v] {
				s.again[v] = false
				s.takeOut(v)
			}
		}
	}
	kept := f.faces[:0]
	for i := range f.faces {
		if !s.gone[i] {
			kept = append(kept, f.faces[i])
		}
	}
	f.faces = kept
}

// kept tells of each point of the skin's own plan whether it stays: the plan's corners, those of the body's plan, and
// those on a line.
func (f *fitting) kept() []bool {
	keep := make([]bool, f.own.Len())
	for v, o := range f.origin {
		keep[v] = o >= 0
	}
	for i, p := range f.patch {
		t := f.own.Triangle(i)
		for k, v := range t {
			if p.empty || f.own.Constrained(i, k) {
				keep[v], keep[t[(k+1)%3]] = true, true
			}
		}
	}
	return keep
}

// target is a point that another could be joined with.
type target struct {
	v        int
	altitude float64 // the least of the faces that are left
}

// takeOut joins v with the point around it that leaves the roundest faces of those that miss no height.
func (s *sparer) takeOut(v int) {
	star := slices.DeleteFunc(s.around[v], func(i int32) bool { return s.gone[i] })
	s.around[v] = star
	var targets []target
	for _, i := range star {
		c := &s.faces[i].corners
		t := target{v: c[(slices.Index(c[:], v)+1)%3]}
		if !math.IsNaN(s.z[t.v]) && s.fits(&t, v, star) {
			targets = append(targets, t)
		}
	}
	slices.SortFunc(targets, func(a, b target) int {
		return cmp.Or(cmp.Compare(b.altitude, a.altitude), cmp.Compare(a.v, b.v))
	})
	for _, t := range targets {
		if s.misses(t.v, v, star) {
			continue
		}
		s.keep[v] = true
		for _, i := range star {
			for _, u := range s.faces[i].corners {
				s.again[u] = !s.keep[u]
			}
			if s.faces[i].has(t.v) {
				s.gone[i] = true
				continue
			}
			s.faces[i] = s.joined(i, v, t.v)
			if !s.keep[t.v] {
				s.around[t.v] = append(s.around[t.v], i)
			}
		}
		return
	}
}

// fits tells whether v may be joined with a point: no face of the star turns over or gets too flat, and the one that comes
// to lie over v does not miss it. It sees to the point's altitude.
func (s *sparer) fits(t *target, v int, star []int32) bool {
	t.altitude = math.Inf(1)
	for _, i := range star {
		if s.faces[i].has(t.v) {
			continue
		}
		c := s.joined(i, v, t.v)
		q := s.corners(c)
		u, w := r2.Sub(q[1], q[0]), r2.Sub(q[2], q[0])
		longest := max(r2.Norm2(u), r2.Norm2(w), r2.Norm2(r2.Sub(q[2], q[1])))
		area := r2.Cross(u, w)
		t.altitude = min(t.altitude, area/math.Sqrt(longest))
		if t.altitude < 2*s.opt.Tolerance {
			return false
		}
		d := r2.Sub(s.own.Point(v), q[0])
		b, e := r2.Cross(d, w)/area, r2.Cross(u, d)/area
		if b >= 0 && e >= 0 && b+e <= 1 {
			off := math.Abs((1-b-e)*c.z[0] + b*c.z[1] + e*c.z[2] - s.z[v])
			if under, _ := through(q, c.z); off > s.opt.Tolerance*under.steep() {
				return false
			}
		}
	}
	return true
}

// joined is a face once its corner v is joined with point u.
func (s *sparer) joined(i int32, v, u int) face {
	c := s.faces[i]
	k := slices.Index(c.corners[:], v)
	c.corners[k], c.z[k] = u, s.z[u]
	return c
}

// misses tells whether a face misses the height by more than is allowed once v is joined with u.
func (s *sparer) misses(u, v int, star []int32) bool {
	for _, i := range star {
		if s.faces[i].has(u) {
			continue
		}
		if _, bad := s.miss(s.joined(i, v, u), -1); bad {
			return true
		}
	}
	return false
}

// corners are the points of the skin's own plan at a face's corners.
func (f *fitting) corners(c face) [3]r2.Vec {
	return [3]r2.Vec{f.own.Point(c.corners[0]), f.own.Point(c.corners[1]), f.own.Point(c.corners[2])}
}
