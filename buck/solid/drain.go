package solid

import (
	"math"

	"formbuck/buck"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Drain meshes a drain insert within tol mm; 0 means Tolerance.
func Drain(d *buck.DrainPiece, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	chord := chordShare * tol
	lines := drainLines(d, chord)
	box := near(lines)
	lines = append(lines, clipped(grown(d.Knife.Plan.Outline.Flatten(chord), d.Play, chord), true, box)...)
	spans := func(p r2.Vec) []relief.Span {
		q := d.Local(p)
		if q.X < d.From || q.X > d.To || math.Abs(q.Y) > d.RadiusAt(q.X) {
			return nil
		}
		if d.InSlit(p) {
			return []relief.Span{
				{Low: negative(d.Half), High: level(-d.Slit)},
				{Low: level(d.Slit), High: d.Half},
			}
		}
		return []relief.Span{{Low: negative(d.Half), High: d.Half}}
	}
	return build(relief.Body{Lines: lines, Spans: spans}, tol)
}

// drainLines are the plug's ends, and the lines of equal angle along it, so close that no chord
// between two of them is further than chord from the round: they are true where it is steep.
func drainLines(d *buck.DrainPiece, chord float64) []relief.Line {
	n := chords(d.RadiusAt(d.To), math.Pi, chord)
	n += n % 2 // one line along the axis
	near, far := make([]r2.Vec, n+1), make([]r2.Vec, n+1)
	var lines []relief.Line
	for i := range n + 1 {
		c := -math.Cos(math.Pi * float64(i) / float64(n))
		near[i] = d.At(r2.Vec{X: d.From, Y: c * d.RadiusAt(d.From)})
		far[i] = d.At(r2.Vec{X: d.To, Y: c * d.RadiusAt(d.To)})
		lines = append(lines, relief.Line{Points: []r2.Vec{near[i], far[i]}})
	}
	return append(lines, relief.Line{Points: near}, relief.Line{Points: far})
}

// grown is a counter-clockwise outline moved outwards by d, rounded at its convex corners. Where it
// is hollow and narrower than d its parts cross; the regions are told apart by distance, so that
// what lies beyond counts for nothing.
func grown(points []r2.Vec, d, chord float64) []r2.Vec {
	if d == 0 {
		return points
	}
	var out []r2.Vec
	n := len(points)
	for i, p := range points {
		in, to := r2.Unit(r2.Sub(p, points[(i+n-1)%n])), r2.Unit(r2.Sub(points[(i+1)%n], p))
		a, b := r2.Vec{X: in.Y, Y: -in.X}, r2.Vec{X: to.Y, Y: -to.X}
		turn := math.Atan2(r2.Cross(in, to), r2.Dot(in, to))
		if turn <= 0 {
			out = append(out, r2.Add(p, r2.Scale(d/math.Max(0.2, 1+r2.Dot(a, b)), r2.Add(a, b))))
			continue
		}
		steps := chords(d, turn, chord)
		for s := range steps + 1 {
			out = append(out, r2.Add(p, r2.Scale(d, r2.Rotate(a, turn*float64(s)/float64(steps), r2.Vec{}))))
		}
	}
	return out
}
