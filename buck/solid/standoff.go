package solid

import (
	"math"

	"formbuck/buck"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Standoff meshes a mount boss with its nubs within tol mm; 0 means Tolerance.
func Standoff(s *buck.StandoffPiece, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	chord := chordShare * tol
	rings := standoffRings(s, chord)
	n := chords(s.Top.Width/2+rings[len(rings)-1], math.Pi, chord)
	var lines []relief.Line
	for _, d := range rings {
		lines = append(lines, pill(s.Top.Grown(d), n))
	}
	for _, nub := range s.Nubs {
		lines = append(lines, nubLines(nub, chord)...)
	}
	outer := s.Top.Grown(rings[len(rings)-1])
	lines = append(lines, knifeLines(s.Knife, near(lines), chord)...)
	return build(relief.Body{Lines: lines, Spans: func(p r2.Vec) []relief.Span {
		if outer.Distance(p) > 0 {
			return nil
		}
		on := s.Knife.Blade(p)
		return []relief.Span{{Low: func(p r2.Vec) float64 { return s.Underside(on, p) }, High: s.Plane}}
	}}, tol)
}

// standoffRings are the distances from the top pill at which its surface changes: along the edge
// radius, and beyond the lowest foot that the walls can have.
func standoffRings(s *buck.StandoffPiece, chord float64) []float64 {
	var rings []float64
	sweep := math.Pi/2 - s.DraftDeg*math.Pi/180
	steps := chords(s.EdgeRadius, sweep, chord)
	for i := 0; s.EdgeRadius > 0 && i <= steps; i++ {
		a := sweep * float64(i) / float64(steps)
		rings = append(rings, s.EdgeRadius*math.Sin(a)-s.EdgeInset())
	}
	if s.EdgeRadius == 0 {
		rings = append(rings, 0)
	}
	if s.DraftDeg > 0 {
		rings = append(rings, (s.TopZ+1)*math.Tan(s.DraftDeg*math.Pi/180))
	}
	return rings
}

// nubLines are the rim of a nub and lines through its tip.
func nubLines(n buck.NubPiece, chord float64) []relief.Line {
	rim := circle(n.Centre, n.Base/2, chord)
	quarter := len(rim.Points) / 4
	return []relief.Line{
		rim,
		{Points: []r2.Vec{rim.Points[0], n.Centre, rim.Points[2*quarter]}},
		{Points: []r2.Vec{rim.Points[quarter], n.Centre, rim.Points[3*quarter]}},
	}
}

// Nub meshes a loose nub within tol mm; 0 means Tolerance.
func Nub(n *buck.NubPiece, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	r := n.Base / 2
	return build(relief.Body{Lines: nubLines(*n, chordShare*tol), Spans: func(p r2.Vec) []relief.Span {
		if r2.Norm(r2.Sub(p, n.Centre)) > r {
			return nil
		}
		return []relief.Span{{Low: level(n.BaseZ), High: n.Height}}
	}}, tol)
}
