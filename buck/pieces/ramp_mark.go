package pieces

import (
	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/buck/knives"
)

// Marked is the ramp with a mark cut into the underside of its cheek on the right face. The ramp itself stays as it is.
func (r *RampPiece) Marked(loops [][]r2.Vec, depth float64) *RampPiece {
	cut := *r
	cut.Mark, cut.MarkDepth, cut.mark = loops, depth, nil
	for _, c := range loops {
		cut.mark = append(cut.mark, knives.NewPatch(c))
	}
	return &cut
}

// Engraved is the depth of the mark at p: nothing beside its strokes.
func (r *RampPiece) Engraved(p r2.Vec) float64 {
	in := false
	for _, c := range r.mark {
		in = in != c.Holds(p)
	}
	if in {
		return r.MarkDepth
	}
	return 0
}

// MarkRoom finds, on the draw's axes, the middle of a place for a mark of the size and the depth with a margin round it: all
// of it lies on the blade, and under it the cheek keeps the least wall. Of several it is the nearest to the mouth.
func (r *RampPiece) MarkRoom(size r2.Vec, margin, depth float64) (r2.Vec, bool) {
	return newRoom(r.Head, func(q r2.Vec) bool { return r.bears(q, depth) }).find(size, margin, false)
}

// bears tells whether the cheek at q of the draw's axes lies on the blade and can be cut that deep.
func (r *RampPiece) bears(q r2.Vec, depth float64) bool {
	p := r.Blade(q)
	if r.Grip || r.BaseAt(p) != Steel || !r.Knife.Holds(p) || r.Lock.Holds(p) {
		return false
	}
	return r.Height(p)-r.Underside(r.Knife.Blade(p), p) >= depth+r.Knife.Spec.Ramp.Wall
}
