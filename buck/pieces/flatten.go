package pieces

import (
	"math"

	"formbuck/buck/knives"
	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// When a boss's underside is flat; common practice, no source.
const (
	seated   = 0.02 // mm that the blade may lie lower and still carry the boss: glue is thicker
	carried  = 0.5  // share of the foot that lies on the blade's flat
	filled   = 1.5  // mm of a wedge over the bevel that glue fills
	levelBy  = 0.5  // mm between the places that are looked at
	levelOff = 0.1  // mm that the sheet stays off the wedge by
)

// flatten makes the underside flat where it may be: it then goes on over the bevel as it lies on the
// blade's flat, so that it prints on all of itself. Most of the foot has to lie on the flat, or the
// boss would rock; and the wedge that is left over the bevel has to be one that glue fills and that
// the sheet does not creep into: the ball that it comes down along touches a wall, steep by the
// draft, no lower over the blade than its radius less its sine.
func (s *StandoffPiece) flatten() {
	foot := s.Foot()
	on, all := 0, 0
	for u := -foot.Length / 2; u <= foot.Length/2; u += levelBy {
		for v := -foot.Width / 2; v <= foot.Width/2; v += levelBy {
			p := foot.At(r2.Vec{X: u, Y: v})
			if foot.Distance(p) > 0 {
				continue
			}
			all++
			if s.overBlade(p) < seated {
				on++
			}
		}
	}
	wedge := 0.0
	for i := range 360 {
		wedge = max(wedge, s.overBlade(foot.rimAt(float64(i)/360)))
	}
	ball := s.Knife.Spec.Sheet.Ball()
	clear := ball*(1-math.Sin(measures.Radians(s.DraftDeg))) - s.Chamfer - s.Gap - levelOff
	if float64(on) >= carried*float64(all) && wedge <= min(clear, filled) {
		s.Flat, s.Wedge = true, wedge
	}
}

// overBlade is how much higher the flat would be at p than the blade is.
func (s *StandoffPiece) overBlade(p r2.Vec) float64 {
	return s.Knife.HalfOn(knives.OnFlat, p) - s.Knife.HalfOn(s.Knife.Blade(p), p)
}
