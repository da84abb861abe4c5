package buck

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Marked is the ramp with a mark cut into the underside of its cheek on the right face. The ramp itself stays as it is.
func (r *RampPiece) Marked(loops [][]r2.Vec, depth float64) *RampPiece {
	cut := *r
	cut.Mark, cut.MarkDepth, cut.mark = loops, depth, nil
	for _, c := range loops {
		cut.mark = append(cut.mark, newPatch(c))
	}
	return &cut
}

// Engraved is the depth of the mark at p: nothing beside its strokes.
func (r *RampPiece) Engraved(p r2.Vec) float64 {
	in := false
	for _, c := range r.mark {
		in = in != c.holds(p)
	}
	if in {
		return r.MarkDepth
	}
	return 0
}

// MarkRoom finds, on the draw's axes, the middle of a place for a mark of the size and the depth with a margin round it: all
// of it lies on the blade, and under it the cheek keeps the least wall. Of several it is the nearest to the mouth.
func (r *RampPiece) MarkRoom(size r2.Vec, margin, depth float64) (r2.Vec, bool) {
	const step = 0.5
	h := r.Head
	nx, ny := int((h.Max.X-h.Min.X)/step), int((h.Max.Y-h.Min.Y)/step)
	// taken counts the points that do not serve, below and to the left of each.
	taken := make([][]int, ny+1)
	taken[0] = make([]int, nx+1)
	for j := range ny {
		taken[j+1] = make([]int, nx+1)
		for i := range nx {
			n := taken[j][i+1] + taken[j+1][i] - taken[j][i]
			if !r.bears(r2.Add(h.Min, r2.Vec{X: (float64(i) + 0.5) * step, Y: (float64(j) + 0.5) * step}), depth) {
				n++
			}
			taken[j+1][i+1] = n
		}
	}
	w, t := int(math.Ceil((size.X+2*margin)/step)), int(math.Ceil((size.Y+2*margin)/step))
	for i := 0; i+w <= nx; i++ {
		for j := 0; j+t <= ny; j++ {
			if taken[j+t][i+w]-taken[j][i+w]-taken[j+t][i]+taken[j][i] == 0 {
				return r2.Add(h.Min, r2.Vec{X: (float64(i) + float64(w)/2) * step, Y: (float64(j) + float64(t)/2) * step}), true
			}
		}
	}
	return r2.Vec{}, false
}

// bears tells whether the cheek at q of the draw's axes lies on the blade and can be cut that deep.
func (r *RampPiece) bears(q r2.Vec, depth float64) bool {
	p := r.Blade(q)
	if r.BaseAt(p) != Steel || !r.Knife.Holds(p) || r.Lock.Holds(p) {
		return false
	}
	return r.Height(p)-r.Underside(r.Knife.Blade(p), p) >= depth+r.Knife.Spec.Ramp.Wall
}
