// Package knives models the bare knife: its outline, its grinds, and its half thickness over the plan.
//
// Frame: right-handed, millimetres and degrees. x runs from the butt to the tip, y from the edge to the spine, z out of the
// knife's right face; the flat middle of the knife is z = 0 and the origin is where the throat line crosses the blade's axis.
package knives

import (
	"math"

	"formbuck/buck/measures"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// OutlineTolerance is how far, in mm, the polygons that tell inside from outside may lie from the
// true outline. It decides only which side a point is on, never a height.
const OutlineTolerance = 0.002

// Knife is the bare knife as a half thickness over its plan.
type Knife struct {
	Plan *profile.Plan
	Spec measures.Spec

	Outline, Handle Patch // the handle with its guard
	Guard           Patch
	Rim, HandleRim  profile.Near // of a handle that is not drawn: empty, and infinitely far away
	front           *bevel
	back            *bevel // of a second edge or a swedge; nil: neither
	parted          []parting
	beside, ridged  func() [][]r2.Vec
}

// NewKnife checks the measures of the blade and the handle against the plan. Its errors are Faults.
func NewKnife(plan *profile.Plan, s measures.Spec) (*Knife, error) {
	k := &Knife{
		Plan:    plan,
		Spec:    s,
		Outline: NewPatch(plan.Outline.Flatten(OutlineTolerance)),
		Handle:  NewPatch(plan.Handle.Flatten(OutlineTolerance)),
		Guard:   NewPatch(plan.Guard.Flatten(OutlineTolerance)),

		Rim:       *profile.NewNear(plan.Outline.Path()),
		HandleRim: *profile.NewNear(plan.Handle.Path()),
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
		return measures.Faultf("blade.thickness", "the blade must be thicker than 0 mm")
	case b.TipThickness <= 0 || b.TipThickness > b.Thickness:
		return measures.Faultf("blade.tip_thickness", "%.3g mm at the tip is not between 0 and the stock's %.3g mm", b.TipThickness, b.Thickness)
	case len(k.Plan.Swedge) > 0 && (k.Spec.Swedge.Thickness <= 0 || k.Spec.Swedge.Thickness >= b.TipThickness):
		return measures.Faultf("swedge.thickness", "%.3g mm at the spine is not between 0 and the %.3g mm of the stock at the tip", k.Spec.Swedge.Thickness, b.TipThickness)
	case len(k.Plan.Guard) > 0 && k.Spec.Guard.Thickness < b.Thickness:
		return measures.Faultf("guard.thickness", "%.3g mm is less than the blade's %.3g mm", k.Spec.Guard.Thickness, b.Thickness)
	case b.EdgeThickness < 0 || b.EdgeThickness >= b.TipThickness:
		return measures.Faultf("blade.edge_thickness", "%.3g mm at the edge is not below the %.3g mm of the stock at the tip", b.EdgeThickness, b.TipThickness)
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
	case k.Guard.Holds(p):
		return OnGuard
	case k.Handle.Holds(p):
		return OnHandle
	case !k.Outline.Holds(p):
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
	if k.Behind(p) {
		return max(h, k.Spec.Handle.Thickness/2)
	}
	return h
}

// Behind reports whether p lies in what a handle that is not drawn takes for certain.
func (k *Knife) Behind(p r2.Vec) bool {
	const ahead = 0.5 // mm: where the outline ends at the front, it ends in a corner or an arc; our own, no source
	if !k.Plan.Undrawn || p.X > k.Plan.HandleFront {
		return false
	}
	low, high := k.Chord(max(k.Plan.HandleFront, k.Plan.Butt.X) + ahead)
	return p.Y >= low && p.Y <= high
}

// Blade is the zone of the blade that p lies in or, beside the blade and on the handle, would lie
// in: that of the outline's nearest point.
func (k *Knife) Blade(p r2.Vec) Zone {
	if on := k.onSteel(p); on != OnFlat || k.Outline.Holds(p) {
		return on
	}
	return k.besideBlade(p)
}

// Holds tells whether p lies within the knife's outline or its handle.
func (k *Knife) Holds(p r2.Vec) bool { return k.Outline.Holds(p) || k.Handle.Holds(p) }

// HandleHalf is the half thickness of the handle at p, as if p lay within it: the handle's edge is
// rounded all round. Outside its outline it is the thickness at the outline.
func (k *Knife) HandleHalf(p r2.Vec) float64 {
	d := 0.0
	if k.Handle.Holds(p) {
		d = k.HandleRim.Within(p, k.Spec.Handle.Rounding)
	}
	return k.HandleIn(d)
}

// HandleIn is the half thickness of the handle d mm within its outline.
func (k *Knife) HandleIn(d float64) float64 {
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

// Chord is the lowest and the highest y of the outline at x.
func (k *Knife) Chord(x float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, s := range k.Outline.Sides {
		a, b := s.A, s.B
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
