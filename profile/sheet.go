package profile

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// sheet is what was left out of the sheet's own lines in one direction.
type sheet struct {
	deg    float64  // from the drawing's x axis to the sheet's
	frames []r2.Box // in the sheet's axes
	tables []r2.Box // beside the knife, likewise
}

// turned is a path in the sheet's axes.
func (s *sheet) turned(p Path) Path {
	if s.deg == 0 {
		return p
	}
	return Frame{AngleDeg: s.deg}.path(p)
}

// strandsOf are a layer's strands in the sheet's axes, at the same indices.
func (s *sheet) strandsOf(b *bucket) []strand {
	if s.deg == 0 {
		return b.strands
	}
	out := slices.Clone(b.strands)
	for i := range out {
		out[i].path = s.turned(out[i].path)
	}
	return out
}

const (
	borderLine    = 10.0 // mm, length of the shortest line that may be of a border
	maxBorder     = 500  // such lines that are looked at, the longest
	maxDirections = 4    // that are tried besides the drawing's axes
	maxNested     = 3    // frames within each other that lie in different directions
)

// directions are those in which a border may lie, in degrees from 0 to 90: that of the drawing's axes, and those in which
// at least two lines run and two square to them, the ones with most length first.
func directions(shape []*bucket) []float64 {
	type heading struct {
		deg, length, off float64 // off: sum of what its lines are off deg, by their lengths
		count            [2]int
	}
	var list []heading
	for _, l := range longestLines(shape) {
		v := r2.Sub(l.B, l.A)
		deg := math.Atan2(v.Y, v.X) / radPerDeg
		at := slices.IndexFunc(list, func(h heading) bool {
			return math.Abs(math.Remainder(deg-h.deg, 90))*radPerDeg <= max(askew, 2*rounded/l.Length())
		})
		if at < 0 {
			at = len(list)
			list = append(list, heading{deg: deg})
		}
		h := &list[at]
		h.length += l.Length()
		h.off += l.Length() * math.Remainder(deg-h.deg, 90)
		h.count[int(math.Abs(math.Round((deg-h.deg)/90)))%2]++
	}
	slices.SortStableFunc(list, func(a, b heading) int { return cmp.Compare(b.length, a.length) })
	out := []float64{0}
	for _, h := range list {
		deg := math.Remainder(h.deg+h.off/h.length, 90)
		if math.Abs(deg)*radPerDeg > askew/2 && min(h.count[0], h.count[1]) >= 2 && len(out) <= maxDirections {
			out = append(out, deg)
		}
	}
	return out
}

// longestLines are the longest straight segments that may be of a border.
func longestLines(shape []*bucket) []Segment {
	var lines []Segment
	for _, b := range shape {
		for _, s := range b.strands {
			for _, g := range s.path {
				if g.Straight() && g.Length() >= borderLine {
					lines = append(lines, g)
				}
			}
		}
	}
	slices.SortStableFunc(lines, func(a, b Segment) int { return cmp.Compare(b.Length(), a.Length()) })
	return lines[:min(len(lines), maxBorder)]
}
