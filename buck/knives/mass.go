package knives

import (
	"gonum.org/v1/gonum/spatial/r2"
)

// Densities, in g/cm3. Steel is a carbon steel's (from memory); handles are from stabilised wood to
// glass laminates (common practice, no source).
const (
	steelDensity = 7.85
	lightHandle  = 0.9
	heavyHandle  = 1.9
)

// massStep is how fine the knife's thickness is summed up, in mm: half a percent of a knife 100 mm
// long; our own, no source.
const massStep = 0.5

// Mass returns what the knife weighs, in g: at the least, with a light handle on a tang that takes
// nothing of it, and at the most, with a heavy one on a full tang as thick as the blade. A handle
// that is not drawn weighs nothing here: known is false then. Holes in the handle count as filled.
func (k *Knife) Mass() (least, most float64, known bool) {
	b := k.Plan.Outline.Bounds()
	lo, hi := b.Min, b.Max
	if len(k.Plan.Handle) > 0 {
		b := k.Plan.Handle.Bounds()
		lo = r2.Vec{X: min(lo.X, b.Min.X), Y: min(lo.Y, b.Min.Y)}
		hi = r2.Vec{X: max(hi.X, b.Max.X), Y: max(hi.Y, b.Max.Y)}
	}
	const cell = massStep * massStep / 1000 // cm3 for each mm of thickness: derived
	for x := lo.X + massStep/2; x < hi.X; x += massStep {
		for y := lo.Y + massStep/2; y < hi.Y; y += massStep {
			p := r2.Vec{X: x, Y: y}
			on := k.ZoneAt(p)
			if on == Beside {
				continue
			}
			thick := 2 * cell * k.HalfOn(on, p)
			if on != OnHandle {
				least, most = least+steelDensity*thick, most+steelDensity*thick
				continue
			}
			tang := min(thick, cell*k.Spec.Blade.Thickness)
			least += lightHandle * thick
			most += steelDensity*tang + heavyHandle*(thick-tang)
		}
	}
	return least, most, !k.Plan.Undrawn
}
