package relief

import (
	"errors"
	"fmt"
	"math"

	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// Marks of the lines in a skin's own plan.
const (
	onBorder = 1 // it must stay as it is
	onCrease = 2 // it may be cut
)

var errBorder = errors.New("a skin has lost its border")

// fitting is a skin while it is being triangulated and fitted to its height. Points, sides and
// triangles are those of the skin's own plan, if nothing else is said.
type fitting struct {
	*stitcher
	skin    *skin
	own     *plan.Triangulation
	local   []int32          // of the skin's points, their numbers in its own plan; 0 for none
	origin  []int            // of each point, the body's; -1 for one of the skin's own
	z       []float64        // over the points; NaN over split ones
	starts  map[side]float64 // heights over the first points of the border's sides
	patch   []*patch         // of each triangle
	faces   []face           // that go into the mesh; nil: those of its own plan
	patches []*patch
	along   map[[3]int]float64 // by how much a height is missed along a side, see missed
	flat    bool               // the skin is a plane
	moved   bool               // a point has given way to the other end of a span
	seen    sight
	probe   facet // stands for the face that is seen
	mirror  bool  // the skin is the mirror in z = 0 of the one that was fitted
}

// fit triangulates a skin, and adds its triangles to the mesh.
func (s *stitcher) fit(k *skin) error {
	if m := s.mirrored(k); m != nil {
		m.emit()
		return nil
	}
	flat := s.flat(k)
	if !flat && s.planned(k) {
		return nil
	}
	f := &fitting{stitcher: s, skin: k, flat: flat, local: s.local[:len(k.points)], along: make(map[[3]int]float64)}
	clear(f.local)
	if flat {
		k.creases = nil
	}
	if err := f.lay(); err != nil {
		return fmt.Errorf("plan: %w", err)
	}
	f.survey()
	f.probe = f.newProbe()
	if !flat {
		if err := f.improve(f.own, f.worst, f.added); err != nil {
			return err
		}
	}
	for _, e := range k.border {
		if !f.own.Joined(f.at(e.a), f.at(e.b)) {
			p := s.points[e.a]
			return fmt.Errorf("%w at (%.3f, %.3f)", errBorder, p.X, p.Y)
		}
	}
	if !flat {
		f.spare()
	}
	f.emit()
	s.fitted = append(s.fitted, f)
	return nil
}

// at is the number of a point of the body's plan.
func (f *fitting) at(v int) int { return int(f.local[f.number[v]-1]) }

// lay draws the skin's own plan: its border, and its creases straight past points that are no matter
// to it.
func (f *fitting) lay() (err error) {
	if f.own, err = plan.New(f.box()); err != nil {
		return err
	}
	creases := f.straight()
	count := min(len(f.skin.border)+2*len(creases), len(f.skin.points))
	f.own.Reserve(count)
	count += f.own.Len()
	f.z, f.origin = make([]float64, 0, count), make([]int, 0, count)
	for _, lines := range []struct {
		sides []side
		mark  uint8
	}{{f.skin.border, onBorder}, {creases, onCrease}} {
		for _, e := range lines.sides {
			a, err := f.add(e.a)
			if err != nil {
				return err
			}
			b, err := f.add(e.b)
			if err != nil {
				return err
			}
			if err := f.own.ConstrainAs(a, b, lines.mark); err != nil {
				return err
			}
		}
	}
	f.starts = make(map[side]float64, len(f.skin.border))
	for n, e := range f.skin.border {
		f.starts[side{f.at(e.a), f.at(e.b)}] = float64(f.skin.starts[n]) * plan.Grid
	}
	return nil
}

func (f *fitting) box() r2.Box {
	lines := Line{}
	for _, e := range f.skin.border {
		lines.Points = append(lines.Points, f.points[e.a])
	}
	box, _ := bounds([]Line{lines})
	return box
}

// add takes a point of the body's plan over, with the skin's level there.
func (f *fitting) add(v int) (int, error) {
	n := f.number[v] - 1
	if f.local[n] > 0 {
		return int(f.local[n]), nil
	}
	i, err := f.own.Insert(f.points[v])
	if err != nil {
		return i, err
	}
	f.local[n] = int32(i)
	f.grow()
	f.origin[i] = v
	if !f.skin.split[v] {
		f.z[i] = float64(f.skin.levels[n]) * plan.Grid
	}
	return i, nil
}

// grow makes room for the points that the plan has got.
func (f *fitting) grow() {
	for len(f.z) < f.own.Len() {
		f.z = append(f.z, math.NaN())
		f.origin = append(f.origin, -1)
	}
}

// straight are the creases, without the points at which nothing but a line that is no matter to the
// skin crosses them.
func (f *fitting) straight() []side {
	if len(f.skin.creases) == 0 {
		return nil
	}
	next := f.creased()
	stays, marks := make([]bool, len(f.skin.points)), f.marks()
	for n, v := range f.skin.points {
		stays[n] = len(next.at(n)) != 2 || f.draft.marks(v)&marks != 0
		for _, u := range next.at(n) { // a crease from foot to foot would hide what is between
			stays[n] = stays[n] || f.foot[f.skin.points[u]]
		}
	}
	for _, e := range f.skin.border {
		stays[f.number[e.a]-1] = true
	}
	sides := make([]side, 0, len(f.skin.creases))
	for n := range stays {
		for _, u := range next.at(n) {
			if !stays[n] {
				break
			}
			for last := int32(n); !stays[u]; {
				both := next.at(int(u))
				last, u = u, both[0]+both[1]-last
			}
			if n < int(u) {
				sides = append(sides, side{f.skin.points[n], f.skin.points[u]})
			}
		}
	}
	return sides
}

// creased are the points that creases join to each of the skin's points, by their numbers in the skin.
func (f *fitting) creased() groups[int32] {
	return grouped(len(f.skin.points), func(add func(n int, next int32)) {
		for _, e := range f.skin.creases {
			a, b := f.number[e.a]-1, f.number[e.b]-1
			add(int(a), b)
			add(int(b), a)
		}
	})
}

// marks are the marks of the skin's height.
func (f *fitting) marks() Marks {
	c := f.skin.parts[0]
	return f.end(c, f.skin.end).marks
}

// emit adds the skin's triangles to the mesh.
func (f *fitting) emit() {
	own := make([]int32, f.own.Len()) // vertices of the mesh over points that only the skin has, from 1
	vertex := func(c *face, k int) int32 {
		v, level := c.corners[k], snap(c.z[k])
		if f.mirror {
			level = -level
		}
		if o := f.origin[v]; o >= 0 {
			return f.vertex(o, level)
		}
		if own[v] == 0 {
			own[v] = f.addVertex(f.own.Point(v), level) + 1
		}
		return own[v] - 1
	}
	f.eachFace(func(at face) {
		for j := range at.corners {
			a, b := f.origin[at.corners[j]], f.origin[at.corners[(j+1)%3]]
			if !at.closed[j] && a >= 0 && b >= 0 {
				f.chord(f.skin.end, a, b)
			}
		}
		a, b, c := vertex(&at, 0), vertex(&at, 1), vertex(&at, 2)
		if f.skin.end == 0 {
			b, c = c, b
		}
		f.triangle(a, b, c)
	})
}
