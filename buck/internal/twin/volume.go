package twin

import (
	"math"
	"math/rand/v2"

	"github.com/deadsy/sdfx/sdf"
	"github.com/deadsy/sdfx/vec/v3"
	"gonum.org/v1/gonum/spatial/r3"
)

// Volume is the twin's volume within the box, in mm3, and its standard error.
//
// The box is halved in all directions until a cell is surely within the body or beside it, its middle
// being further from the surface than its corners are from its middle, or no wider than the step.
// Of the last, a point thrown at random decides; one such cell errs by at most half its volume, and
// they err independently. The twin's distance must be a lower bound, as those of this package are but
// for Ramp's at the cliffs of what passes.
func Volume(s sdf.SDF3, box r3.Box, step float64) (volume, sigma float64) {
	dice := rand.New(rand.NewPCG(seed, 1))
	spread := 0.0
	var cell func(low, size r3.Vec)
	cell = func(low, size r3.Vec) {
		half := r3.Scale(0.5, size)
		v := size.X * size.Y * size.Z
		f := s.Evaluate(v3.Vec(r3.Add(low, half)))
		switch {
		case f > r3.Norm(half):
		case f < -r3.Norm(half):
			volume += v
		case max(size.X, size.Y, size.Z) <= step:
			p := r3.Vec{X: dice.Float64() * size.X, Y: dice.Float64() * size.Y, Z: dice.Float64() * size.Z}
			if s.Evaluate(v3.Vec(r3.Add(low, p))) < 0 {
				volume += v
			}
			spread += v * v / 4
		default:
			for i := range 8 {
				cell(r3.Add(low, r3.Vec{X: float64(i&1) * half.X, Y: float64(i>>1&1) * half.Y, Z: float64(i>>2) * half.Z}), half)
			}
		}
	}
	cell(box.Min, r3.Sub(box.Max, box.Min))
	return volume, math.Sqrt(spread)
}
