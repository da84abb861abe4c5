package program

import (
	"math"

	"formbuck/buck/program/ngc"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// stroke is a cut, down to the height z.
type stroke struct {
	profile.Segment
	z float64
}

// strokes are cuts by the cells of a grid that they may be looked for in.
type strokes map[[2]int][]stroke

const (
	cell = 4    // mm; our own, no source
	near = 0.03 // mm by which a cut may be farther aside than stated: rounding, and corners; our own, no source
)

// put puts a cut into all cells within the reach of it.
func (s strokes) put(one stroke, reach float64) (steps int) {
	n := math.Ceil(one.Length()/cell) + 1
	for i := range int(n) {
		b := grownBox(one.Part(float64(i)/n, float64(i+1)/n).Bounds(), reach)
		for x := int(math.Floor(b.Min.X / cell)); x <= int(math.Floor(b.Max.X/cell)); x++ {
			for y := int(math.Floor(b.Min.Y / cell)); y <= int(math.Floor(b.Max.Y/cell)); y++ {
				steps++
				key := [2]int{x, y}
				if in := s[key]; len(in) > 0 && in[len(in)-1] == one {
					continue
				}
				s[key] = append(s[key], one)
			}
		}
	}
	return steps
}

// at are the cuts that may be within reach of a place.
func (s strokes) at(p r2.Vec) []stroke {
	return s[[2]int{int(math.Floor(p.X / cell)), int(math.Floor(p.Y / cell))}]
}

// bite looks how much a cutter takes at once: from as high as the work is down to its end, or from where a cut was
// made as far aside as is stated; and whether its flutes are that long.
func (v *prover) bite(m *ngc.Motion, path profile.Path, low float64) {
	s := &v.stated.Setup
	if v.strokes == nil {
		v.strokes = strokes{}
	}
	reach := s.Pass.Side + near
	if len(path) == 0 {
		path = profile.Path{{A: plan(m.To), B: plan(m.To)}}
	}
	var worst, over float64
	var where r2.Vec
	for _, g := range path {
		n := max(math.Ceil(g.Length()/look), 1)
		for i := range int(n) + 1 {
			at := g.At(float64(i) / n)
			high := s.rim(at)
			over = max(over, high-low)
			near := v.strokes.at(at)
			if v.left -= 1 + len(s.Raised) + 3*len(near); v.left < 0 {
				return
			}
			for _, c := range near {
				if c.z < high && c.Distance(at) <= reach {
					high = c.z
				}
			}
			if high-low > worst {
				worst, where = high-low, at
			}
		}
	}
	if worst > s.Pass.Depth+0.001 {
		v.refuse(m.Line, "takes %.3f mm down at once at (%.3f, %.3f) mm, and at most %.4g mm are stated", worst, where.X, where.Y, s.Pass.Depth)
	}
	if over > s.Tool.length()+0.001 {
		v.refuse(m.Line, "the flutes are %.4g mm long, and the work stands %.3f mm over the tool's end", s.Tool.length(), over)
	}
	for _, g := range path { // it was here at its higher end at the least
		v.left -= v.strokes.put(stroke{g, max(m.From.Z, m.To.Z)}, reach)
	}
	if len(m.Path()) == 0 {
		v.left -= v.strokes.put(stroke{path[0], low}, reach)
	}
}
