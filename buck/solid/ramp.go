package solid

import (
	"math"

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
	outline := grown(k.Plan.Outline.Flatten(chord), r.Fit, chord)
	lines = append(lines, clipped(outline, true, box)...)
	lines = append(lines, skirtLines(r, outline)...)
	lines = append(lines, clipped(grown(k.Plan.Handle.Flatten(chord), r.Fit, chord), true, box)...)
	if r.Boss.Length > 0 {
		room := pill(r.Boss, chords(r.Boss.Width/2, math.Pi, chord))
		lines = append(lines, clipped(room.Points, true, box)...)
	}
	lines = append(lines, clipped(k.Plan.Grind.Flatten(chord), false, box)...)
	spans := func(p r2.Vec) []relief.Span {
		switch r.BaseAt(p) {
		case buck.Steel:
			on := k.Blade(r.Inside(p))
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
	lines := []relief.Line{rect(r.Head), rect(wide)}
	for _, y := range r.Creases() {
		lines = append(lines, relief.Line{Points: []r2.Vec{
			r.Blade(r2.Vec{X: r.Head.Min.X, Y: y}), r.Blade(r2.Vec{X: r.Head.Max.X, Y: y}),
		}})
	}
	return lines
}

// skirtLines go on across the drafted sides from where the outline leaves the head: on one side of
// each the sides stand on steel, on the other beside it.
func skirtLines(r *buck.RampPiece, outline []r2.Vec) []relief.Line {
	var lines []relief.Line
	skirt := r.Skirt()
	for i, p := range outline {
		a, b := r.Turned(p), r.Turned(outline[(i+1)%len(outline)])
		for _, side := range [2][2]float64{{r.Head.Min.Y, r.Head.Min.Y - skirt}, {r.Head.Max.Y, r.Head.Max.Y + skirt}} {
			if (a.Y > side[0]) == (b.Y > side[0]) {
				continue
			}
			x := a.X + (side[0]-a.Y)/(b.Y-a.Y)*(b.X-a.X)
			if x > r.Head.Min.X && x < r.Head.Max.X {
				lines = append(lines, relief.Line{Points: []r2.Vec{
					r.Blade(r2.Vec{X: x, Y: side[0]}), r.Blade(r2.Vec{X: x, Y: side[1]}),
				}})
			}
		}
	}
	return lines
}
