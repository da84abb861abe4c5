package threemf

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// DefaultMargin is what objects stay off the border of a bed that is filled, in mm: brims and the clips of a bed's sheet need
// room; common practice, no source.
const DefaultMargin = 5.0

// shelf is a row of objects on a plate.
type shelf struct{ y, deep, x float64 }

// plate is a square bed being filled.
type plate struct {
	on      []int // the objects' numbers
	at      map[int]r3.Vec
	shelves []*shelf
	y       float64 // where the next shelf begins
}

// Plates are the package's objects laid out on as many square beds as it takes, each a package of its own: rows, the deepest
// objects first (first fit, decreasing height: Coffman et al., SIAM Journal on Computing 9(4), 1980, from
// memory), with the gap between objects and DefaultMargin to the bed's border. An object that is larger than that is alone on its plate.
func (p *Package) Plates() []*Package {
	gap, bed := p.measures()
	order := make([]int, len(p.Objects))
	for i := range order {
		order[i] = i
	}
	deep := func(i int) float64 { return p.Objects[i].Mesh.Bounds().Size().Y }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(deep(b), deep(a)) })
	var plates []*plate
	for _, i := range order {
		size := p.Objects[i].Mesh.Bounds().Size()
		if !slices.ContainsFunc(plates, func(l *plate) bool { return l.put(i, size, gap, bed) }) {
			l := &plate{y: DefaultMargin, at: make(map[int]r3.Vec)}
			l.add(&shelf{y: l.y, deep: size.Y, x: DefaultMargin}, i, size, gap)
			l.y += math.Ceil(size.Y + gap)
			plates = append(plates, l)
		}
	}
	var all []*Package
	for _, l := range plates {
		one := *p
		one.Objects = nil
		slices.Sort(l.on)
		for _, i := range l.on {
			one.Objects = append(one.Objects, p.Objects[i])
			one.corners = append(one.corners, l.at[i])
		}
		all = append(all, &one)
	}
	return all
}

// put places an object on a row that has room for it, or begins one; false: the plate is full.
func (l *plate) put(i int, size r3.Vec, gap, bed float64) bool {
	for _, s := range l.shelves {
		if size.Y <= s.deep && s.x+size.X <= bed-DefaultMargin {
			l.add(s, i, size, gap)
			return true
		}
	}
	if l.y+size.Y > bed-DefaultMargin || DefaultMargin+size.X > bed-DefaultMargin {
		return false
	}
	l.add(&shelf{y: l.y, deep: size.Y, x: DefaultMargin}, i, size, gap)
	l.y += math.Ceil(size.Y + gap)
	return true
}

// add places an object at the end of a row.
func (l *plate) add(s *shelf, i int, size r3.Vec, gap float64) {
	if !slices.Contains(l.shelves, s) {
		l.shelves = append(l.shelves, s)
	}
	l.on, l.at[i] = append(l.on, i), r3.Vec{X: s.x, Y: s.y}
	s.x += math.Ceil(size.X + gap)
}
