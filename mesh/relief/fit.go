package relief

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"formbuck/mesh/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// Marks of the lines in a skin's own plan.
const (
	onBorder = 1 // it must stay as it is
	onCrease = 2 // it may be cut
)

var errBorder = errors.New("a skin has lost its border")

// fitting is a skin while it is being triangulated and fitted to its height.
type fitting struct {
	*stitcher
	skin      *skin
	plan      *plan.Triangulation
	number    map[int]int      // of points of the body's plan, in the skin's
	origin    []int            // of points of the skin's plan, in the body's; -1 for its own
	z         []float64        // over the points of the skin's plan, NaN over split ones
	starts    map[side]float64 // heights over the first points of the border's sides
	triangles [][3]int
	patch     []*patch // of each triangle
	patches   []*patch
}

// patch is a region of a skin's plan, with a point in it, and the layer there.
type patch struct {
	inside r2.Vec
	on     carried
	empty  bool // not in the skin
}

// fit triangulates a skin, and adds its triangles to the mesh.
func (s *stitcher) fit(k *skin) error {
	f := &fitting{stitcher: s, skin: k, number: make(map[int]int, len(k.points))}
	flat := s.flat(k)
	if flat {
		k.creases = nil
	}
	if err := f.lay(); err != nil {
		return fmt.Errorf("plan: %w", err)
	}
	f.starts = make(map[side]float64, len(k.border))
	for n, e := range k.border {
		f.starts[side{f.number[e.a], f.number[e.b]}] = float64(k.starts[n]) * plan.Grid
	}
	f.survey()
	if !flat {
		if err := f.refine(); err != nil {
			return err
		}
	}
	for _, e := range k.border {
		if !f.plan.Joined(f.number[e.a], f.number[e.b]) {
			p := s.points[e.a]
			return fmt.Errorf("%w at (%.3f, %.3f)", errBorder, p.X, p.Y)
		}
	}
	f.emit()
	return nil
}

// lay draws the skin's own plan: its border, and its creases straight past points that are no matter
// to it.
func (f *fitting) lay() error {
	level := make(map[int]int64, len(f.skin.points))
	for n, v := range f.skin.points {
		level[v] = f.skin.levels[n]
	}
	box := r2.Box{Min: f.points[f.skin.border[0].a], Max: f.points[f.skin.border[0].a]}
	for _, e := range f.skin.border {
		p := f.points[e.a]
		box.Min = r2.Vec{X: math.Min(box.Min.X, p.X), Y: math.Min(box.Min.Y, p.Y)}
		box.Max = r2.Vec{X: math.Max(box.Max.X, p.X), Y: math.Max(box.Max.Y, p.Y)}
	}
	var err error
	if f.plan, err = plan.New(box); err != nil {
		return err
	}
	f.z = make([]float64, 4)
	f.origin = []int{-1, -1, -1, -1}
	add := func(v int) (int, error) {
		if n, ok := f.number[v]; ok {
			return n, nil
		}
		n, err := f.plan.Insert(f.points[v])
		if err != nil {
			return n, err
		}
		f.number[v] = n
		f.grow()
		f.origin[n] = v
		if !f.skin.split[v] {
			f.z[n] = float64(level[v]) * plan.Grid
		}
		return n, nil
	}
	for _, lines := range []struct {
		sides []side
		mark  uint8
	}{{f.skin.border, onBorder}, {f.straight(), onCrease}} {
		for _, e := range lines.sides {
			a, err := add(e.a)
			if err != nil {
				return err
			}
			b, err := add(e.b)
			if err != nil {
				return err
			}
			if err := f.plan.ConstrainAs(a, b, lines.mark); err != nil {
				return err
			}
		}
	}
	return nil
}

// grow makes room for the points that the skin's plan has got.
func (f *fitting) grow() {
	for len(f.z) < f.plan.Len() {
		f.z = append(f.z, math.NaN())
		f.origin = append(f.origin, -1)
	}
}

// straight are the creases, without the points at which nothing but a line that is no matter to the
// skin crosses them.
func (f *fitting) straight() []side {
	next := make(map[int][]int)
	for _, e := range f.skin.creases {
		next[e.a] = append(next[e.a], e.b)
		next[e.b] = append(next[e.b], e.a)
	}
	keep := make(map[int]bool)
	for _, e := range f.skin.border {
		keep[e.a] = true
	}
	stays := func(v int) bool {
		return keep[v] || len(next[v]) != 2 || v < len(f.own) && f.own[v]&f.marks() != 0
	}
	var straight []side
	for _, v := range f.skin.points {
		if len(next[v]) == 0 || !stays(v) {
			continue
		}
		for _, u := range next[v] {
			last := v
			for !stays(u) {
				ahead := next[u][0]
				if ahead == last {
					ahead = next[u][1]
				}
				last, u = u, ahead
			}
			if v < u {
				straight = append(straight, side{v, u})
			}
		}
	}
	return straight
}

// marks are the marks of the skin's height.
func (f *fitting) marks() Marks {
	c := f.skin.parts[0]
	_, m := f.zone[c.triangle].spans[f.stacks[c.triangle][c.layer].span].end(f.skin.end)
	return m.all()
}

// survey reads the skin's plan anew after it has been cut.
func (f *fitting) survey() {
	f.triangles = f.plan.Triangles()
	regions := f.plan.Regions()
	count := 0
	for _, r := range regions {
		count = max(count, r+1)
	}
	known := make([]*patch, count)
	known[0] = &patch{empty: true}
	for _, p := range f.patches {
		if r := regions[f.plan.Locate(p.inside)]; known[r] == nil {
			known[r] = p
		}
	}
	var within []bool
	for r, i := range largest(regions, known, f.area) {
		if i < 0 {
			continue
		}
		if within == nil {
			within = f.within()
		}
		known[r] = f.newPatch(f.middle(i), within[i])
		f.patches = append(f.patches, known[r])
	}
	f.patch = make([]*patch, len(regions))
	for i, r := range regions {
		f.patch[i] = known[r]
	}
}

// within tells of each triangle whether it is in the skin: to the left of its border, or to be
// reached from there without crossing it.
func (f *fitting) within() []bool {
	in := make([]bool, len(f.triangles))
	var stack []int
	for i, t := range f.triangles {
		for k, v := range t {
			if in[i] || f.plan.Mark(i, k)&onBorder == 0 {
				continue
			}
			if _, ok := f.starts[side{v, t[(k+1)%3]}]; ok {
				in[i] = true
				stack = append(stack, i)
			}
		}
	}
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for k, j := range f.plan.Neighbours(i) {
			if j >= 0 && !in[j] && f.plan.Mark(i, k)&onBorder == 0 {
				in[j] = true
				stack = append(stack, j)
			}
		}
	}
	return in
}

func (f *fitting) newPatch(inside r2.Vec, in bool) *patch {
	on, ok := f.under(inside)
	if !ok {
		on = f.skin.parts[0]
	}
	return &patch{inside: inside, on: on, empty: !in}
}

// under is the layer of the skin at p.
func (f *fitting) under(p r2.Vec) (carried, bool) {
	i := f.work.plan.Locate(p)
	n, ok := f.skin.layer[i]
	return carried{i, n}, ok
}

func (f *fitting) corners(i int) [3]r2.Vec {
	t := f.triangles[i]
	return [3]r2.Vec{f.plan.Point(t[0]), f.plan.Point(t[1]), f.plan.Point(t[2])}
}

func (f *fitting) area(i int) float64 {
	q := f.corners(i)
	return r2.Cross(r2.Sub(q[1], q[0]), r2.Sub(q[2], q[0])) / 2
}

func (f *fitting) middle(i int) r2.Vec {
	q := f.corners(i)
	return r2.Scale(1./3, r2.Add(q[0], r2.Add(q[1], q[2])))
}

// miss is a point of a triangle at which its plane misses the height.
type miss struct {
	triangle int
	corners  [3]int
	at       r2.Vec
	side     int // that it is on, -1 for none
	far      float64
}

// refine adds points until the planes miss the height nowhere by more than is allowed.
func (f *fitting) refine() error {
	for {
		misses := f.misses()
		if f.bad != nil {
			return f.bad
		}
		before := f.plan.Len()
		for _, m := range misses {
			if err := f.mend(m); err != nil {
				return fmt.Errorf("plan: %w", err)
			}
		}
		if f.plan.Len() == before {
			return nil
		}
		if before > f.opt.MaxPoints {
			return fmt.Errorf("%w: %d", ErrTooFine, f.opt.MaxPoints)
		}
		f.survey()
	}
}

// misses are the worst misses of the triangles that have changed, the worst first.
func (f *fitting) misses() []miss {
	var misses []miss
	for _, i := range f.plan.Fresh() {
		if f.patch[i].empty {
			continue
		}
		if m, ok := f.worst(i); ok {
			misses = append(misses, m)
		}
	}
	slices.SortStableFunc(misses, func(a, b miss) int { return cmp.Compare(b.far, a.far) })
	return misses
}

// mend puts a point where a triangle misses the height, if the triangle is there still.
func (f *fitting) mend(m miss) error {
	if f.plan.Triangle(m.triangle) != m.corners {
		return nil
	}
	var err error
	if m.side >= 0 && f.plan.Constrained(m.triangle, m.side) {
		_, err = f.plan.Split(m.triangle, m.side, m.at)
	} else {
		_, err = f.plan.Insert(m.at)
	}
	for v, on := len(f.z), f.patch[m.triangle].on; v < f.plan.Len(); v++ {
		f.grow()
		f.z[v] = f.settled(on, f.plan.Point(v))
	}
	return err
}

// over is the height over corner k of triangle i. Over a split point it is that of the border's side
// that comes next, clockwise.
func (f *fitting) over(i, k int) float64 {
	v := f.triangles[i][k]
	if !math.IsNaN(f.z[v]) {
		return f.z[v]
	}
	for range f.triangles {
		if z, ok := f.starts[side{v, f.triangles[i][(k+1)%3]}]; ok {
			return z
		}
		j := f.plan.Neighbours(i)[k]
		if j < 0 {
			break
		}
		i, k = j, slices.Index(f.triangles[j][:], v)
	}
	f.z[v] = f.settled(f.patch[i].on, f.plan.Point(v)) // a point where creases cross
	return f.z[v]
}

// settled is the height that the mesh has at p: on the plan's grid, and apart from the other end of
// the span. Where the ends have passed each other, beside the chord of a foot, the steeper gives way.
func (f *fitting) settled(on carried, p r2.Vec) float64 {
	level := snap(f.height(on, f.skin.end, p))
	at, ok := f.under(p)
	if !ok {
		return float64(level) * plan.Grid
	}
	away := int64(1 - 2*f.skin.end) // from this end to the other
	other := snap(f.height(at, 1-f.skin.end, p))
	if away*(other-level) < leastSteps {
		z, k := f.zone[at.triangle], 2*f.stacks[at.triangle][at.layer].span
		low, high := f.steepness(z, k, p), f.steepness(z, k+1, p)
		if (low > high) == (f.skin.end == 0) {
			level = other - away*leastSteps
		}
	}
	return float64(level) * plan.Grid
}

// worst is the point of triangle i at which its plane is the furthest from the height, square to the
// surface, of those that are not near its corners or lines. Far is in terms of what is allowed there.
func (f *fitting) worst(i int) (miss, bool) {
	t, q := f.triangles[i], f.corners(i)
	m := miss{triangle: i, corners: t, side: -1, far: 1}
	z := [3]float64{f.over(i, 0), f.over(i, 1), f.over(i, 2)}
	normal := steep(q, z)
	on := f.patch[i].on
	s := newSampler(q)
	s.each(func(b [3]float64) {
		p := blend(q, b)
		flat := b[0]*z[0] + b[1]*z[1] + b[2]*z[2]
		h := f.height(on, f.skin.end, p)
		far := math.Abs(h-flat) / normal / f.allowed()
		if far > 1 {
			far = math.Abs(f.settled(on, p)-flat) / normal / f.allowed()
		}
		if far <= m.far {
			return
		}
		if side, ok := f.room(i, b, p); ok {
			m.far, m.at, m.side = far, p, side
		}
	})
	return m, m.far > 1
}

// room tells whether a point can be put into triangle i: not on its border, on or not near other
// lines about it, and not near its corners. It gives the side that the point is on, or -1.
func (f *fitting) room(i int, b [3]float64, p r2.Vec) (side int, ok bool) {
	side = -1
	q := f.corners(i)
	keep := math.Max(nearby, f.opt.Tolerance/2)
	for k := range 3 {
		if b[(k+2)%3] == 0 {
			side = k
		}
		if r2.Norm(r2.Sub(p, q[k])) < keep {
			return side, false
		}
	}
	if side >= 0 && f.plan.Mark(i, side) == onCrease {
		return side, true
	}
	if f.nearLine(i, p, keep) {
		return side, false
	}
	for _, j := range f.plan.Neighbours(i) {
		if f.nearLine(j, p, keep) {
			return side, false
		}
	}
	return side, true
}

// nearLine tells whether p is near a side of triangle i that is part of a line.
func (f *fitting) nearLine(i int, p r2.Vec, keep float64) bool {
	t := f.triangles[i]
	for k, v := range t {
		if !f.plan.Constrained(i, k) {
			continue
		}
		if _, off := onSide(f.plan.Point(v), f.plan.Point(t[(k+1)%3]), p); off < keep {
			return true
		}
	}
	return false
}

// steep is the length of the normal (-slope, 1) of the plane through three heights.
func steep(q [3]r2.Vec, z [3]float64) float64 {
	u, v := r2.Sub(q[1], q[0]), r2.Sub(q[2], q[0])
	det := r2.Cross(u, v)
	if det == 0 {
		return 1
	}
	du, dv := z[1]-z[0], z[2]-z[0]
	gx := (du*v.Y - dv*u.Y) / det
	gy := (dv*u.X - du*v.X) / det
	return math.Hypot(1, math.Hypot(gx, gy))
}

// emit adds the skin's triangles to the mesh.
func (f *fitting) emit() {
	own := make(map[int]int32) // vertices of the mesh over points that only the skin's plan has
	vertex := func(i, k int) int32 {
		v := f.triangles[i][k]
		level := snap(f.over(i, k))
		if o := f.origin[v]; o >= 0 {
			return f.vertex(o, level)
		}
		if _, ok := own[v]; !ok {
			own[v] = f.addVertex(f.plan.Point(v), level)
		}
		return own[v]
	}
	for i := range f.triangles {
		if f.patch[i].empty {
			continue
		}
		a, b, c := vertex(i, 0), vertex(i, 1), vertex(i, 2)
		if f.skin.end == 0 {
			b, c = c, b
		}
		f.triangle(a, b, c)
	}
}
