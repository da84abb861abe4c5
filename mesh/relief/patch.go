package relief

import (
	"math"
	"slices"

	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// patch is a region of a skin's plan, with a point in it, and the layer there.
type patch struct {
	inside r2.Vec
	on     carried
	empty  bool // not in the skin
}

// survey reads the plan anew after it has been cut.
func (f *fitting) survey() {
	regions := f.own.Regions()
	known := make([]*patch, slices.Max(regions)+1)
	known[0] = &patch{empty: true}
	for _, p := range f.patches {
		if r := regions[f.own.Locate(p.inside)]; known[r] == nil {
			known[r] = p
		}
	}
	var within []bool
	for r, i := range largest(f.own, regions, known) {
		if i < 0 {
			continue
		}
		if within == nil {
			within = f.within()
		}
		known[r] = f.newPatch(i, within[i])
		f.patches = append(f.patches, known[r])
	}
	f.patch = slices.Grow(f.patch[:0], len(regions))
	for _, r := range regions {
		f.patch = append(f.patch, known[r])
	}
}

// newPatch is the patch around triangle i.
func (f *fitting) newPatch(i int, in bool) *patch {
	p := &patch{inside: middle(f.own, i), empty: !in}
	on, ok := f.under(p.inside)
	if !ok {
		on = f.skin.parts[0]
	}
	p.on = on
	return p
}

// within tells of each triangle whether it is in the skin: to the left of its border, or to be
// reached from there without crossing it.
func (f *fitting) within() []bool {
	in := make([]bool, f.own.CountTriangles())
	var stack []int
	for i := range in {
		t := f.own.Triangle(i)
		for k, v := range t {
			if in[i] || !f.onBorder(i, k) {
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
		for k, j := range f.own.Neighbours(i) {
			if j >= 0 && !in[j] && !f.onBorder(i, k) {
				in[j] = true
				stack = append(stack, j)
			}
		}
	}
	return in
}

// sight is a face whose misses are looked for.
type sight struct {
	face
	zone  *zone // that it is in
	end   int   // there
	space int   // triangle in which a point is to be put; negative: none is
}

// worst is the worst miss of triangle i.
func (f *fitting) worst(i int) (miss, bool) {
	if f.patch[i].empty {
		return miss{}, false
	}
	return f.miss(f.face(i), i)
}

// miss is the worst miss of a face at a point for which there is room in a triangle of the skin's own plan, or at
// any point where that is negative.
func (f *fitting) miss(c face, space int) (miss, bool) {
	f.seen = sight{face: c, zone: f.zone[c.on.on.triangle], end: f.endOf(c.on.on, f.skin.end), space: space}
	f.probe.corners, f.probe.z, f.probe.closed, f.probe.any = f.corners(c), c.z, c.closed, space < 0
	return f.planeMiss(&f.probe)
}

// newProbe is the facet that stands for whichever face is seen.
func (f *fitting) newProbe() facet {
	return facet{
		grid:   f.grid.bent(f.marks()),
		height: func(at r2.Vec) float64 { return f.work.at(f.seen.zone, f.seen.end, at) },
		room:   func(side int, at r2.Vec) bool { return f.seen.space < 0 || f.room(f.own, f.seen.space, side, at) },
		missed: func(side int, most float64) float64 {
			return f.missed(f.seen.on, f.seen.corners[side], f.seen.corners[(side+1)%3], most)
		},
	}
}

// missed remembers by how much a height is missed along a side, unless that is unknown, and tells it.
func (f *fitting) missed(p *patch, a, b int, most float64) float64 {
	key := f.end(p.on, f.skin.end).key
	if key == 0 || math.IsNaN(f.z[a]) || math.IsNaN(f.z[b]) {
		return unknown
	}
	at := [3]int{min(a, b), max(a, b), key}
	if most < unknown {
		f.along[at] = most
	}
	if known, ok := f.along[at]; ok {
		return known
	}
	return unknown
}

// onBorder tells whether a side, none if it is negative, is part of the skin's border.
func (f *fitting) onBorder(i, side int) bool { return side >= 0 && f.own.Mark(i, side)&onBorder != 0 }

// added gives the points that have been added their heights.
func (f *fitting) added() {
	from := len(f.z)
	f.grow()
	f.survey()
	for i := range f.patch {
		for k, v := range f.own.Triangle(i) {
			if v >= from && !f.patch[i].empty {
				f.over(i, k)
			}
		}
	}
}

// over is the height over corner k of triangle i. Over a split point it is that of the border's side
// that comes next, clockwise; over a new one it is settled.
func (f *fitting) over(i, k int) float64 {
	v := f.own.Triangle(i)[k]
	if !math.IsNaN(f.z[v]) {
		return f.z[v]
	}
	if f.origin[v] < 0 {
		f.z[v] = f.settled(f.patch[i].on, f.own.Point(v))
		return f.z[v]
	}
	for range f.patch {
		if z, ok := f.starts[side{v, f.own.Triangle(i)[(k+1)%3]}]; ok {
			return z
		}
		i, k = f.own.Across(i, k)
		k = (k + 1) % 3
	}
	return 0
}

// settled is the height that the mesh has at p: on the plan's grid, and apart from the other end of
// the span. Where the ends have passed each other, beside the chord of a foot, the steeper gives way.
func (f *fitting) settled(on carried, p r2.Vec) float64 {
	level := snap(f.height(on, f.skin.end, p))
	at, ok := f.under(p)
	if !ok {
		return float64(level) * plan.Grid
	}
	away := int32(1 - 2*f.skin.end) // from this end to the other
	other := snap(f.height(at, 1-f.skin.end, p))
	if away*(other-level) < leastSteps {
		z, k := f.zone[at.triangle], f.endOf(at, 0)
		low, high := f.steepness(z, k, p), f.steepness(z, k+1, p)
		if (low > high) == (f.skin.end == 0) {
			level = other - away*leastSteps
			f.moved = true
		}
	}
	return float64(level) * plan.Grid
}
