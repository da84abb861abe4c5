package solid

import (
	"formbuck/buck"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Ramp meshes a draw ramp within tol mm; 0 means Tolerance. Of a split ramp it is the right half.
func Ramp(r *buck.RampPiece, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	chord := chordShare * tol
	lines := rampLines(r)
	box := near(lines)
	k := r.Knife
	lines = append(lines, clipped(grown(k.Plan.Outline.Flatten(chord), r.Fit, chord), true, box)...)
	lines = append(lines, clipped(grown(k.Plan.Handle.Flatten(chord), r.Fit, chord), true, box)...)
	lines = append(lines, clipped(k.Plan.Grind.Flatten(chord), false, box)...)
	spans := func(p r2.Vec) []relief.Span {
		switch r.BaseAt(p) {
		case buck.Steel:
			on := k.Blade(p)
			right := relief.Span{
				Low:  func(p r2.Vec) float64 { return r.Underside(on, p) },
				High: func(p r2.Vec) float64 { return r.OverSteel(on, p) },
			}
			if r.Split {
				return []relief.Span{right}
			}
			return []relief.Span{{Low: negative(right.High), High: negative(right.Low)}, right}
		case buck.Gap:
			if r.Split {
				return []relief.Span{{Low: level(0), High: r.OverGap}}
			}
			return []relief.Span{{Low: negative(r.OverGap), High: r.OverGap}}
		default:
			return nil
		}
	}
	return build(relief.Body{Lines: lines, Spans: spans}, tol)
}

// rampLines are the head and, around it, the line that the drafted sides cannot pass.
func rampLines(r *buck.RampPiece) []relief.Line {
	rect := func(b r2.Box) relief.Line {
		return relief.Line{Closed: true, Points: []r2.Vec{
			r.Blade(b.Min), r.Blade(r2.Vec{X: b.Max.X, Y: b.Min.Y}),
			r.Blade(b.Max), r.Blade(r2.Vec{X: b.Min.X, Y: b.Max.Y}),
		}}
	}
	wide, skirt := r.Head, r.Skirt()
	wide.Max.X += skirt
	wide.Min.Y -= skirt
	wide.Max.Y += skirt
	return []relief.Line{rect(r.Head), rect(wide)}
}
