package relief

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"formbuck/mesh"
	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// snap rounds a height to the plan's grid: no more than plan.MaxCoordinate of it fits.
func snap(z float64) int32 { return int32(math.Round(z / plan.Grid)) }

// stitcher gathers the mesh: each corner is a point of the plan and a level over it.
type stitcher struct {
	*skinner
	levels groups[int32] // over each point of the plan, rising
	last   []int32       // over each point, the vertex that was made last, from 1
	local  []int32       // room for a fitting's
	before []int32       // of each vertex of the mesh, the one that was made before it over the same point, from 1
	mesh   mesh.Mesh
	fitted []*fitting
	fitAll bool // no skin is taken from the body's plan
	checks []*check
	chords [2][]side // within floors and lids, see chord
}

func (w *work) stitch() (*mesh.Mesh, error) {
	if !w.whole {
		w.layers.part(w)
	}
	s := w.newStitcher()
	err := s.stitch()
	if s.missed() && err == nil {
		s = w.newStitcher()
		s.fitAll = true
		err = s.stitch()
	}
	switch {
	case err != nil:
		return nil, err
	case w.bad != nil:
		return nil, w.bad
	case len(s.mesh.Triangles) == 0:
		return nil, ErrEmpty
	}
	m := tidied(&s.mesh).Swept(crumb)
	w.doubt = m != &s.mesh || s.shareChords() || slices.ContainsFunc(s.fitted, func(f *fitting) bool { return !f.flat })
	return m, nil
}

// crumb is the volume, in mm3, of a body that is none: less than a cube of a tenth of a millimetre. Where a foot runs
// along a line, rounding lets the span open for a moment beyond it, by a few micrometres.
const crumb = 1e-3

func (w *work) newStitcher() *stitcher {
	s := &stitcher{
		skinner: newSkinner(w, w.layers),
		levels:  w.layers.levels(w),
		last:    make([]int32, len(w.points)),
		local:   make([]int32, len(w.points)),
	}
	count := len(w.points)
	s.before = make([]int32, 0, count)
	s.mesh = mesh.Mesh{Vertices: make([]r3.Vec, 0, count), Triangles: make([][3]int32, 0, 2*count)}
	return s
}

func (s *stitcher) stitch() error {
	if err := s.each(s.fit); err != nil {
		return err
	}
	for i := range s.stacks.first {
		s.cover(i)
		for k := range 3 {
			if err := s.wall(i, k); err != nil {
				return err
			}
		}
	}
	return nil
}

// vertex is the mesh's vertex over point v at a level.
func (s *stitcher) vertex(v int, level int32) int32 {
	for n := s.last[v]; n > 0; n = s.before[n-1] {
		if s.mesh.Vertices[n-1].Z == float64(level)*plan.Grid {
			return n - 1
		}
	}
	i := s.addVertex(s.points[v], level)
	s.before[i] = s.last[v]
	s.last[v] = i + 1
	return i
}

// addVertex puts a vertex into the mesh.
func (s *stitcher) addVertex(p r2.Vec, level int32) int32 {
	s.mesh.Vertices = append(s.mesh.Vertices, r3.Vec{X: p.X, Y: p.Y, Z: float64(level) * plan.Grid})
	s.before = append(s.before, 0)
	return int32(len(s.mesh.Vertices)) - 1
}

func (s *stitcher) triangle(a, b, c int32) {
	if a != b && b != c && c != a {
		s.mesh.Triangles = append(s.mesh.Triangles, [3]int32{a, b, c})
	}
}

// cover adds the lid and the floor of the thin layers of triangle i.
func (s *stitcher) cover(i int) {
	t := s.plan.Triangle(i)
	for _, l := range s.stacks.at(i) {
		if l.thin {
			s.triangle(s.vertex(t[0], l.at[0].high), s.vertex(t[1], l.at[1].high), s.vertex(t[2], l.at[2].high))
			s.triangle(s.vertex(t[0], l.at[0].low), s.vertex(t[2], l.at[2].low), s.vertex(t[1], l.at[1].low))
		}
	}
}

// sill is the end of a span along a side of a triangle, from the side's first point to its second.
type sill struct {
	a, b   int32
	mine   bool // of this triangle, not of its neighbour
	rising bool // the span begins here, not ends
}

// wall adds what of triangle i stands bare along its side k: the part of its spans that its
// neighbour does not carry.
func (s *stitcher) wall(i, k int) error {
	t, next := s.plan.Triangle(i), (k+1)%3
	a, b := t[k], t[next]
	if !s.work.bare[a] || !s.work.bare[b] || s.level(s.work, i, k) {
		return nil
	}
	sills := s.sills(nil, i, k, next, true)
	if j, from := s.plan.Across(i, k); j >= 0 {
		sills = s.sills(sills, j, (from+1)%3, from, false)
	}
	slices.SortStableFunc(sills, func(p, q sill) int { return cmp.Compare(p.a+p.b, q.a+q.b) })
	var mine, other bool
	for n, x := range sills {
		if x.mine {
			mine = x.rising
		} else {
			other = x.rising
		}
		if n+1 == len(sills) || !mine || other {
			continue
		}
		y := sills[n+1]
		if y.a < x.a || y.b < x.b {
			p := s.points[a]
			return fmt.Errorf("two heights cross along a line at (%.3f, %.3f)", p.X, p.Y)
		}
		s.panel(a, b, x, y)
	}
	return nil
}

// sills adds to a list the ends of the spans of triangle i along the side from its corner a to its corner b.
func (s *stitcher) sills(list []sill, i, a, b int, mine bool) []sill {
	for _, l := range s.stacks.at(i) {
		list = append(list,
			sill{l.at[a].low, l.at[b].low, mine, true},
			sill{l.at[a].high, l.at[b].high, mine, false})
	}
	return list
}

// panel fills the wall between two sills, seen from outside with a on the left, through every level
// that other triangles have over a and b.
func (s *stitcher) panel(a, b int, low, high sill) {
	left, right := s.between(a, low.a, high.a), s.between(b, low.b, high.b)
	i, j := 0, 0
	for i+1 < len(left) || j+1 < len(right) {
		up := i+1 < len(left) && (j+1 == len(right) || left[i+1] <= right[j+1])
		if up {
			s.triangle(s.vertex(a, left[i]), s.vertex(b, right[j]), s.vertex(a, left[i+1]))
			i++
			continue
		}
		s.triangle(s.vertex(a, left[i]), s.vertex(b, right[j]), s.vertex(b, right[j+1]))
		j++
	}
}

func (s *stitcher) between(v int, low, high int32) []int32 {
	levels := s.levels.at(v)
	from, _ := slices.BinarySearch(levels, low)
	to, _ := slices.BinarySearch(levels, high)
	return levels[from : to+1]
}
