package solid

import (
	"cmp"
	"math"
	"slices"

	"formbuck/buck"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Ramp meshes a draw ramp within tol mm; 0 means Tolerance. Of a split ramp it is the right half.
func Ramp(r *buck.RampPiece, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	chord := chordShare * tol
	k := r.Knife
	outline, leaves := leaving(r, grown(k.Plan.Outline.Flatten(chord), r.Fit, chord))
	lines := rampLines(r, leaves)
	box := near(lines)
	lines = append(lines, clipped(outline, true, box)...)
	lines = append(lines, clipped(grown(k.Plan.Handle.Flatten(chord), r.Fit, chord), true, box)...)
	if r.Boss.Length > 0 {
		room := pill(r.Boss, chords(r.Boss.Width/2, math.Pi, chord))
		lines = append(lines, clipped(room.Points, true, box)...)
	}
	lines = append(lines, clipped(k.GrindLine(chord, r.Fit+overshoot), false, box)...)
	spans := func(p r2.Vec) []relief.Span {
		switch r.BaseAt(p) {
		case buck.Steel:
			on := k.Blade(r.Inside(p))
			right := relief.Span{
				Low:  func(p r2.Vec) float64 { return r.Underside(on, p) },
				High: r.Surface,
			}
			if r.Split {
				return []relief.Span{right}
			}
			return []relief.Span{{Low: negative(right.High), High: negative(right.Low)}, right}
		case buck.Gap:
			if r.Split {
				return []relief.Span{{Low: level(0), High: r.Surface}}
			}
			return []relief.Span{{Low: negative(r.Surface), High: r.Surface}}
		default:
			return nil
		}
	}
	return build(relief.Body{Lines: lines, Spans: spans}, tol)
}

// rampLines are the head and the line around it that the drafted sides cannot pass. From each point
// where the outline leaves the head a line goes on square across the side: on one side of it the
// side stands on steel, on the other beside it.
func rampLines(r *buck.RampPiece, leaves []leave) []relief.Line {
	skirt := r.Skirt()
	lines := []relief.Line{rectangle(r, r.Head, leaves)}
	if skirt == 0 {
		return lines
	}
	wide := r.Head
	wide.Max.X += skirt
	wide.Min.Y -= skirt
	wide.Max.Y += skirt
	lines = append(lines, rectangle(r, wide, nil))
	for _, l := range leaves {
		lines = append(lines, relief.Line{Points: []r2.Vec{l.at, r.Blade(r2.Add(r.Turned(l.at), r2.Scale(skirt, l.side.out())))}})
	}
	return lines
}

// side is one of the drafted sides of a ramp's head, in the order round it from the mouth's lower
// corner.
type side int

const (
	low side = iota
	far
	high
)

// out is the direction out of the head, on the draw's axes.
func (s side) out() r2.Vec {
	return [...]r2.Vec{low: {Y: -1}, far: {X: 1}, high: {Y: 1}}[s]
}

// crossed is where the line from a to b, on the draw's axes, crosses the side of the box.
func (s side) crossed(a, b r2.Vec, box r2.Box) (r2.Vec, bool) {
	from, to, ok := clip(a, b, box)
	if !ok {
		return r2.Vec{}, false
	}
	for _, p := range []r2.Vec{from, to} {
		off := [...]float64{low: p.Y - box.Min.Y, far: p.X - box.Max.X, high: p.Y - box.Max.Y}[s]
		if math.Abs(off) < 1e-9 && p.X > box.Min.X {
			return p, true
		}
	}
	return r2.Vec{}, false
}

// leave is a point where the outline leaves the head.
type leave struct {
	at   r2.Vec // in the blade's axes
	side side
}

// rectangle is a box of the draw's axes as a closed line, by way of the points given on its sides.
func rectangle(r *buck.RampPiece, b r2.Box, through []leave) relief.Line {
	corners := [...]r2.Vec{low: b.Min, far: {X: b.Max.X, Y: b.Min.Y}, high: b.Max}
	var points []r2.Vec
	for s := low; s <= high; s++ {
		points = append(points, r.Blade(corners[s]))
		from := len(points)
		for _, l := range through {
			if l.side == s {
				points = append(points, l.at)
			}
		}
		slices.SortFunc(points[from:], func(p, q r2.Vec) int {
			return cmp.Compare(r2.Norm(r2.Sub(r.Turned(p), corners[s])), r2.Norm(r2.Sub(r.Turned(q), corners[s])))
		})
	}
	return relief.Line{Closed: true, Points: append(points, r.Blade(r2.Vec{X: b.Min.X, Y: b.Max.Y}))}
}

// leaving is the outline with a vertex wherever it crosses a drafted side of the head, and those
// vertices.
func leaving(r *buck.RampPiece, outline []r2.Vec) (with []r2.Vec, leaves []leave) {
	for i, p := range outline {
		with = append(with, p)
		a, b := r.Turned(p), r.Turned(outline[(i+1)%len(outline)])
		var found []leave
		for s := low; s <= high; s++ {
			if q, ok := s.crossed(a, b, r.Head); ok {
				found = append(found, leave{r.Blade(q), s})
			}
		}
		slices.SortFunc(found, func(x, y leave) int {
			return cmp.Compare(r2.Norm(r2.Sub(x.at, p)), r2.Norm(r2.Sub(y.at, p)))
		})
		for _, l := range found {
			with = append(with, l.at)
		}
		leaves = append(leaves, found...)
	}
	return with, leaves
}
