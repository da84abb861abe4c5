package profile

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// worksOf parts a layer's strands, given in the sheet's axes, into works and the rest.
func worksOf(b *bucket, all []strand) (works []work, pool []strand) {
	var upright []int
	segments := 0
	for i := range all {
		if along(all[i].path) {
			upright = append(upright, i)
			segments += len(all[i].path)
		}
	}
	if len(upright) == 0 || segments > maxUpright {
		return nil, all
	}
	g := &weave{bucket: b, all: all, strands: upright, set: make([]int, len(upright)), budget: maxContacts}
	g.fill()
	if !g.tie() {
		return nil, all
	}
	return g.parts()
}

// along reports whether a path is made of lines along the axes and round corners between such lines.
func along(p Path) bool {
	return !slices.ContainsFunc(p, func(s Segment) bool { return !level(s) && !plumb(s) && !rounding(s) })
}

// How far a line may be off an axis: what figures are rounded to. An end that is written with three decimals of an inch
// lies up to 0.018 mm off, and the other end as far to the other side; of a line too short for that to tell its direction
// it is a hundredth.
const (
	askew   = 1e-4 // as a share of its length
	rounded = 0.04 // mm
	blunt   = 1e-2 // as a share of a short line's length
)

func level(s Segment) bool { return s.Straight() && flatter(s.B.Y-s.A.Y, s.B.X-s.A.X) }

func plumb(s Segment) bool { return s.Straight() && flatter(s.B.X-s.A.X, s.B.Y-s.A.Y) }

// flatter reports whether a line that goes so far off an axis and so far along it runs along it.
func flatter(off, on float64) bool {
	off, on = math.Abs(off), math.Abs(on)
	return off <= max(askew*on, min(rounded, blunt*on))
}

// rounding reports whether a segment is a quarter of a circle between the directions of the axes.
func rounding(s Segment) bool {
	const slack = 1e-3
	w, h := math.Abs(s.B.X-s.A.X), math.Abs(s.B.Y-s.A.Y)
	return math.Abs(math.Abs(s.Bulge)-math.Tan(math.Pi/8)) <= slack && math.Abs(w-h) <= slack*(w+h)
}

// weave finds which lines along the axes hang together.
type weave struct {
	bucket  *bucket
	all     []strand // of the bucket, in the sheet's axes
	strands []int    // of these, those along the axes
	set     []int    // of each of these, the one it hangs together with
	lines   [2][]wire
	budget  int
}

// wire is a line along an axis, or a point of a corner: at is its height on the other axis.
type wire struct {
	at, from, to float64
	strand       int // index in weave.strands
}

// fill sorts level lines by their height, plumb ones by where they stand.
func (g *weave) fill() {
	for k, i := range g.strands {
		g.set[k] = k
		for _, s := range g.all[i].path {
			switch {
			case level(s):
				g.lines[0] = append(g.lines[0], wire{at: s.A.Y, from: min(s.A.X, s.B.X), to: max(s.A.X, s.B.X), strand: k})
			case plumb(s):
				g.lines[1] = append(g.lines[1], wire{at: s.A.X, from: min(s.A.Y, s.B.Y), to: max(s.A.Y, s.B.Y), strand: k})
			default:
				for _, p := range [2]r2.Vec{s.A, s.B} {
					g.lines[0] = append(g.lines[0], wire{at: p.Y, from: p.X, to: p.X, strand: k})
				}
			}
		}
	}
	for _, l := range g.lines {
		slices.SortFunc(l, func(a, b wire) int { return compare(a.at, b.at) })
	}
}

// find is the strand that stands for what strand k hangs together with.
func (g *weave) find(k int) int {
	for g.set[k] != k {
		g.set[k] = g.set[g.set[k]]
		k = g.set[k]
	}
	return k
}

// tie joins strands whose ends lie on others; false where that takes too long.
func (g *weave) tie() bool {
	for k, i := range g.strands {
		p := g.all[i].path
		for _, q := range [2]r2.Vec{p.Start(), p.End()} {
			for _, axis := range [2]struct {
				lines    []wire
				at, with float64
			}{{g.lines[0], q.Y, q.X}, {g.lines[1], q.X, q.Y}} {
				first, _ := slices.BinarySearchFunc(axis.lines, axis.at-frameReach, func(w wire, at float64) int { return compare(w.at, at) })
				for _, w := range axis.lines[first:] {
					if w.at > axis.at+frameReach {
						break
					}
					if g.budget--; g.budget < 0 {
						return false
					}
					if w.from-frameReach <= axis.with && axis.with <= w.to+frameReach {
						g.set[g.find(k)] = g.find(w.strand)
					}
				}
			}
		}
	}
	return true
}

// parts are the works, and the strands that are of none: those on no axis, and what goes on from them.
func (g *weave) parts() (works []work, pool []strand) {
	all := g.all
	mine := make([]bool, len(all))
	ends := make([]r2.Vec, 0, 2*len(all))
	for _, i := range g.strands {
		mine[i] = true
		ends = append(ends, all[i].path.Start(), all[i].path.End())
	}
	for i := range all {
		if !mine[i] && !all[i].closed {
			ends = append(ends, all[i].path.Start(), all[i].path.End())
		}
	}
	own := 2 * len(g.strands)
	e := newEnds(ends, func(i int) bool { return i < own }, frameReach)
	goesOn := map[int]bool{}
	for i := own; i < len(ends); i++ {
		n := 0
		e.near(i, func(j int, _ float64) bool {
			goesOn[g.find(j/2)] = true
			n++
			return n < crowd
		})
	}
	index := map[int]int{}
	for k, i := range g.strands {
		root := g.find(k)
		if goesOn[root] {
			mine[i] = false
			continue
		}
		at, ok := index[root]
		if !ok {
			at = len(works)
			index[root] = at
			works = append(works, work{layer: g.bucket, box: all[i].path.Bounds()})
		}
		w := &works[at]
		box := all[i].path.Bounds()
		w.box, w.length = grow(grow(w.box, box.Min), box.Max), w.length+all[i].path.Length()
		w.strands = append(w.strands, i)
	}
	for i := range works {
		works[i].border(all)
	}
	for i := range all {
		if !mine[i] {
			pool = append(pool, all[i])
		}
	}
	return works, pool
}

// border finds the rectangle that a work's outermost long lines make, where they make one.
func (w *work) border(all []strand) {
	var lines [2][]wire
	for _, i := range w.strands {
		for _, s := range all[i].path {
			switch {
			case level(s):
				lines[0] = append(lines[0], wire{at: s.A.Y, from: min(s.A.X, s.B.X), to: max(s.A.X, s.B.X)})
			case plumb(s):
				lines[1] = append(lines[1], wire{at: s.A.X, from: min(s.A.Y, s.B.Y), to: max(s.A.Y, s.B.Y)})
			}
		}
	}
	size := w.box.Size()
	bottom, top, drawnX := outermost(lines[0], size.X/2)
	left, right, drawnY := outermost(lines[1], size.Y/2)
	w.frame = r2.Box{Min: r2.Vec{X: left, Y: bottom}, Max: r2.Vec{X: right, Y: top}}
	w.framed = right-left > frameReach && top-bottom > frameReach &&
		drawnX >= frameSide*(right-left) && drawnY >= frameSide*(top-bottom)
}

// outermost are the lowest and the highest place at which lines of at least the given length lie, and the lesser
// of the two lengths.
func outermost(lines []wire, least float64) (low, high, drawn float64) {
	slices.SortFunc(lines, func(a, b wire) int { return compare(a.at, b.at) })
	first := true
	var lowDrawn, highDrawn float64
	for i := 0; i < len(lines); {
		sum, k := 0.0, i
		for ; k < len(lines) && lines[k].at <= lines[i].at+rounded; k++ {
			sum += lines[k].to - lines[k].from
		}
		if sum >= least {
			if first {
				low, lowDrawn, first = lines[i].at, sum, false
			}
			high, highDrawn = lines[i].at, sum
		}
		i = k
	}
	return low, high, min(lowDrawn, highDrawn)
}
