package solid

import (
	"math"

	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Drain meshes a drain insert within tol mm; 0 means Tolerance.
func Drain(d *pieces.DrainPiece, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	chord := chordShare * tol
	g := plugOf(d, chord)
	lines := g.lines()
	box := near(lines)
	slit := grown(d.Knife.Plan.Outline.Flatten(chord), d.Play, chord)
	lines = append(lines, bending(lower, clipped(slit, true, box)...)...)
	spans := func(p r2.Vec) []relief.Span {
		q := d.Local(p)
		if q.X < d.From || q.X > d.To || math.Abs(q.Y) > g.RadiusAt(q.X) {
			return nil
		}
		if d.InSlit(p) {
			jaw := relief.Span{Low: level(d.Slit), LowMarks: lower, LowKey: floorKey, High: g.half, HighMarks: upper, HighKey: topKey}
			return []relief.Span{mirrored(jaw), jaw}
		}
		return []relief.Span{{Low: negative(g.half), LowMarks: upper, LowKey: -topKey, High: g.half, HighMarks: upper, HighKey: topKey}}
	}
	return build(relief.Body{Lines: lines, Spans: spans}, tol)
}

// plug is the round of a drain insert as facets along it. Their corners are on the round, so that its
// sides are where they should be.
type plug struct {
	*pieces.DrainPiece
	count int // of facets in the half
}

// plugOf is the plug within tol.
func plugOf(d *pieces.DrainPiece, tol float64) plug {
	n := chords(d.RadiusAt(d.To), math.Pi, tol)
	return plug{DrainPiece: d, count: n + n%2} // one line along the axis
}

// half is the half height at p, below 0 beside the plug.
func (g plug) half(p r2.Vec) float64 {
	q := g.Local(p)
	r := g.RadiusAt(q.X)
	turn := math.Pi / float64(g.count)
	c := min(max(q.Y/r, -1), 1)
	j := min(int(math.Acos(c)/turn), g.count-1)
	sin, cos := math.Sincos((float64(j) + 0.5) * turn)
	return (r*math.Cos(turn/2) - q.Y*cos) / sin
}

// lines are the plug's ends, and its corners along it.
func (g plug) lines() []relief.Line {
	near, far := make([]r2.Vec, g.count+1), make([]r2.Vec, g.count+1)
	var lines []relief.Line
	for i := range g.count + 1 {
		c := -math.Cos(math.Pi * float64(i) / float64(g.count))
		near[i] = g.At(r2.Vec{X: g.From, Y: c * g.RadiusAt(g.From)})
		far[i] = g.At(r2.Vec{X: g.To, Y: c * g.RadiusAt(g.To)})
		along := relief.Line{Points: []r2.Vec{near[i], far[i]}}
		lines = append(lines, bending(upper, along)...)
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
			out = append(out, r2.Add(p, r2.Scale(d/max(0.2, 1+r2.Dot(a, b)), r2.Add(a, b))))
			continue
		}
		steps := chords(d, turn, chord)
		for s := range steps + 1 {
			out = append(out, r2.Add(p, r2.Scale(d, r2.Rotate(a, turn*float64(s)/float64(steps), r2.Vec{}))))
		}
	}
	return out
}
