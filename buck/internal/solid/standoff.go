package solid

import (
	"math"

	"formbuck/buck/knives"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Shares of the tolerance that the facets of a standoff may take: round the pill, where its sharp
// foot shows it, and over the edge radius. Where a surface bends both ways the two add up.
const (
	roundShare = 0.2  // our own, no source
	edgeShare  = 0.75 // our own, no source
)

// Standoff meshes a mount boss with its nubs within tol mm; 0 means Tolerance.
func Standoff(s *pieces.StandoffPiece, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	draft := s.DraftDeg * math.Pi / 180
	foot := (s.TopZ + 1) * math.Tan(draft) // beyond the lowest that the walls can have
	pill, edge := facetted(s.Top, (s.TopZ-s.Gap)*math.Tan(draft), roundShare*tol), edgeOf(s.TopZ, s.EdgeRadius, draft, edgeShare*tol)
	var lines []relief.Line
	for _, d := range edge.rings {
		lines = append(lines, bending(upper, pill.ring(d))...)
	}
	if s.DraftDeg > 0 {
		lines = append(lines, pill.ring(foot))
	} else {
		lines[len(lines)-1].Bends = 0 // the wall
	}
	var nubs []cone
	for _, n := range s.Nubs {
		c := coneOf(n, edgeShare*tol)
		nubs = append(nubs, c)
		lines = append(lines, bending(upper, c.lines(n.Base/2)...)...)
	}
	if !s.Flat {
		lines = append(lines, bending(lower, knifeLines(s.Knife, near(lines), chordShare*tol)...)...)
	}
	for _, c := range s.Mark {
		lines = append(lines, bending(lower, relief.Line{Points: c, Closed: true})...)
	}
	if rim := s.ChamferLine(); rim != nil {
		lines = append(lines, bending(lower, relief.Line{Points: rim, Closed: true})...)
	}
	top := func(p r2.Vec) float64 {
		for i := range nubs {
			c := &nubs[i]
			if !c.near(p) {
				continue
			}
			if z := c.height(p); z > s.TopZ {
				return z
			}
		}
		return edge.height(pill.distance(p))
	}
	return build(relief.Body{Lines: lines, SharpFeet: true, Spans: func(p r2.Vec) []relief.Span {
		if pill.distance(p) > foot {
			return nil
		}
		on, deep := knives.OnFlat, s.Engraved(p)
		if !s.Flat {
			on = s.Knife.Blade(p)
		}
		return []relief.Span{{
			Low: func(p r2.Vec) float64 { return s.Underside(on, p) + deep + s.Drawn(on, p, pill.distance(p)) }, LowMarks: lower, LowKey: keyOf(on, deep),
			High: top, HighMarks: upper, HighKey: topKey,
		}}
	}}, tol)
}

// Nub meshes a loose nub within tol mm; 0 means Tolerance.
func Nub(n *pieces.NubPiece, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	c := coneOf(*n, edgeShare*tol)
	beyond := n.Base * 0.6 // the foot
	return build(relief.Body{Lines: c.lines(beyond), SharpFeet: true, Spans: func(p r2.Vec) []relief.Span {
		if c.radius(p) > beyond {
			return nil
		}
		return []relief.Span{{Low: level(n.BaseZ), High: c.height}}
	}}, tol)
}
