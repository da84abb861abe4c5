package buck

import (
	"math"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// outlineTolerance is how far, in mm, the polygons that tell inside from outside may lie from the
// true outline. It decides only which side a point is on, never a height.
const outlineTolerance = 0.002

// Knife is the bare knife as a half thickness over its plan.
type Knife struct {
	Plan *profile.Plan
	Spec Spec

	outline, handle patch // the handle with its guard
	guard           patch
	rim, handleRim  profile.Near // of a handle that is not drawn: empty, and infinitely far away
	front           *bevel
	back            *bevel // of a second edge or a swedge; nil: neither
	parted          []parting
	beside, ridged  func() [][]r2.Vec
}

// NewKnife checks the measures of the blade and the handle against the plan. Its errors are Faults.
func NewKnife(plan *profile.Plan, s Spec) (*Knife, error) {
	k := &Knife{
		Plan:    plan,
		Spec:    s,
		outline: newPatch(plan.Outline.Flatten(outlineTolerance)),
		handle:  newPatch(plan.Handle.Flatten(outlineTolerance)),
		guard:   newPatch(plan.Guard.Flatten(outlineTolerance)),

		rim:       *profile.NewNear(plan.Outline.Path()),
		handleRim: *profile.NewNear(plan.Handle.Path()),
	}
	k.beside, k.ridged = k.besideOnce(), k.ridgeOnce()
	k.setGrind()
	k.parted = k.partings()
	return k, k.check()
}

func (k *Knife) check() error {
	b := k.Spec.Blade
	switch {
	case b.Thickness <= 0:
		return fault("blade.thickness", "the blade must be thicker than 0 mm")
	case b.TipThickness <= 0 || b.TipThickness > b.Thickness:
		return fault("blade.tip_thickness", "%.3g mm at the tip is not between 0 and the stock's %.3g mm", b.TipThickness, b.Thickness)
	case len(k.Plan.Swedge) > 0 && (k.Spec.Swedge.Thickness <= 0 || k.Spec.Swedge.Thickness >= b.TipThickness):
		return fault("swedge.thickness", "%.3g mm at the spine is not between 0 and the %.3g mm of the stock at the tip", k.Spec.Swedge.Thickness, b.TipThickness)
	case len(k.Plan.Guard) > 0 && k.Spec.Guard.Thickness < b.Thickness:
		return fault("guard.thickness", "%.3g mm is less than the blade's %.3g mm", k.Spec.Guard.Thickness, b.Thickness)
	case b.EdgeThickness < 0 || b.EdgeThickness >= b.TipThickness:
		return fault("blade.edge_thickness", "%.3g mm at the edge is not below the %.3g mm of the stock at the tip", b.EdgeThickness, b.TipThickness)
	}
	return k.checkGrind()
}

// Zone is what the knife is at a point of the plan. Heights are smooth within a zone, and may jump
// from one to the next.
type Zone uint8

// The zones. Without a grind line in the drawing all of the blade ahead of the plunge is bevel.
const (
	Beside Zone = iota // no knife
	OnBevel
	OnFlat
	OnHandle
	OnBack // the second edge's bevel, or the swedge
	OnGuard
	OnBoth // both bevels: where a swedge has taken more off the other
)

// OfHandle reports whether the zone is the handle or its guard.
func (z Zone) OfHandle() bool { return z == OnHandle || z == OnGuard }

// OfBlade reports whether the zone is one of the blade.
func (z Zone) OfBlade() bool { return z == OnFlat || z == OnBevel || z == OnBack || z == OnBoth }

// ZoneAt is the zone of p.
func (k *Knife) ZoneAt(p r2.Vec) Zone {
	switch {
	case k.guard.holds(p):
		return OnGuard
	case k.handle.holds(p):
		return OnHandle
	case !k.outline.holds(p):
		return Beside
	default:
		return k.onSteel(p)
	}
}

// HalfOn is the half thickness h at p, in mm, as if p lay in the zone; 0 beside the knife.
func (k *Knife) HalfOn(z Zone, p r2.Vec) float64 {
	switch z {
	case OnHandle:
		return k.HandleHalf(p)
	case OnGuard:
		return k.Spec.Guard.Thickness / 2
	case OnFlat:
		return k.stock(p.X) / 2
	case OnBevel:
		return k.half(k.front, p)
	case OnBack:
		return k.half(k.back, p)
	case OnBoth:
		return min(k.half(k.front, p), k.half(k.back, p))
	default:
		return 0
	}
}

// Half is the half thickness h at p, in mm.
func (k *Knife) Half(p r2.Vec) float64 { return k.HalfOn(k.ZoneAt(p), p) }

// WornHalf is the half thickness at p, in mm, of the knife in its sheath: a handle that is not drawn lies behind its front, as
// wide as the blade is there at the least.
func (k *Knife) WornHalf(p r2.Vec) float64 {
	h := k.Half(p)
	if k.behind(p) {
		return max(h, k.Spec.Handle.Thickness/2)
	}
	return h
}

// behind reports whether p lies in what a handle that is not drawn takes for certain.
func (k *Knife) behind(p r2.Vec) bool {
	const ahead = 0.5 // mm: where the outline ends at the front, it ends in a corner or an arc
	if !k.Plan.Undrawn || p.X > k.Plan.HandleFront {
		return false
	}
	low, high := k.chord(max(k.Plan.HandleFront, k.Plan.Butt.X) + ahead)
	return p.Y >= low && p.Y <= high
}

// Blade is the zone of the blade that p lies in or, beside the blade and on the handle, would lie
// in: that of the outline's nearest point.
func (k *Knife) Blade(p r2.Vec) Zone {
	if on := k.onSteel(p); on != OnFlat || k.outline.holds(p) {
		return on
	}
	return k.besideBlade(p)
}

// Holds tells whether p lies within the knife's outline or its handle.
func (k *Knife) Holds(p r2.Vec) bool { return k.outline.holds(p) || k.handle.holds(p) }

// HandleHalf is the half thickness of the handle at p, as if p lay within it: the handle's edge is
// rounded all round. Outside its outline it is the thickness at the outline.
func (k *Knife) HandleHalf(p r2.Vec) float64 {
	d := 0.0
	if k.handle.holds(p) {
		d = k.handleRim.Within(p, k.Spec.Handle.Rounding)
	}
	return k.handleIn(d)
}

// handleIn is the half thickness of the handle d mm within its outline.
func (k *Knife) handleIn(d float64) float64 {
	full, r := k.Spec.Handle.Thickness/2, k.Spec.Handle.Rounding
	if d >= r {
		return full
	}
	return full - r + math.Sqrt(r*r-(r-d)*(r-d))
}

// BladeHalf is the half thickness of the blade at p, as if p lay within it.
func (k *Knife) BladeHalf(p r2.Vec) float64 { return k.HalfOn(k.Blade(p), p) }

// stock is the full thickness of the blade stock at x, with its distal taper from heel to tip.
func (k *Knife) stock(x float64) float64 {
	b := k.Spec.Blade
	from, to := k.Plan.Heel.X, k.Plan.Tip.X
	t := min(max((x-from)/(to-from), 0), 1)
	return b.Thickness + (b.TipThickness-b.Thickness)*t
}

// chord is the lowest and the highest y of the outline at x.
func (k *Knife) chord(x float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, s := range k.outline.sides {
		a, b := s.a, s.b
		if (a.X > x) == (b.X > x) {
			continue
		}
		y := a.Y + (x-a.X)/(b.X-a.X)*(b.Y-a.Y)
		low, high = min(low, y), max(high, y)
	}
	if low > high {
		return 0, 0
	}
	return low, high
}
