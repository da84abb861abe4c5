package pieces

import (
	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// NubPiece is a self-centring nub: a cone that leaves a dimple for a drill's point.
type NubPiece struct {
	Centre   r2.Vec
	BaseZ    float64 // of the plane it stands on
	Base     float64 // diameter
	AngleDeg float64 // included
}

// Tall is the cone's height: base / (2 tan(angle/2)).
func (n NubPiece) Tall() float64 { return n.Base / (2 * measures.TanDeg(n.AngleDeg/2)) }

// Height is the height of the cone's surface at p, going on below its base outside of it.
func (n NubPiece) Height(p r2.Vec) float64 {
	d := r2.Norm(r2.Sub(p, n.Centre))
	return n.BaseZ + n.Tall()*(1-2*d/n.Base)
}

// newNub checks the nub against the hole and the drill. A nub steeper than the drill's point would
// be met by the lips of the drill before its tip (Today's Machining World, October 2006,
// "Off-Center"), and one wider than the hole would leave its dimple round it. The fit is taken from
// its base on either side.
func newNub(s measures.Spec, centre r2.Vec, z float64) (NubPiece, error) {
	base := s.Nub.Base
	if base == 0 {
		base = s.Hole.Diameter - s.Nub.Margin
	}
	base -= 2 * s.Nub.Fit
	switch {
	case base <= 0:
		return NubPiece{}, measures.Faultf("nub.base", "nothing is left of the nub: its base would be %.4g mm wide", base)
	case base >= s.Hole.Diameter:
		return NubPiece{}, measures.Faultf("nub.base", "a base %.4g mm wide is not narrower than the hole of %.4g mm, so its dimple would show", base, s.Hole.Diameter)
	case s.Nub.AngleDeg <= s.Hole.PointAngleDeg || s.Nub.AngleDeg >= 180:
		return NubPiece{}, measures.Faultf("nub.angle", "an included angle of %.4g deg is not between the drill's %.4g deg and 180 deg", s.Nub.AngleDeg, s.Hole.PointAngleDeg)
	}
	return NubPiece{Centre: centre, BaseZ: z, Base: base, AngleDeg: s.Nub.AngleDeg}, nil
}

// NewNub is a loose nub, to be glued where a hole is wanted beside those of the posts. Where it sits
// is up to the maker; here it stands on the blade where the boss's middle would be, moved by its
// placement.
func NewNub(k *Buck) (*NubPiece, error) {
	s := k.Spec
	boss := k.bossTop().Centre
	at := r2.Vec{X: boss.X - s.Standoff.X + s.Nub.X, Y: boss.Y - s.Standoff.Y + s.Nub.Y}
	return nubAt(k, s, at)
}

// nubAt is a loose nub on the blade at a point, with the measures of s.
func nubAt(k *Buck, s measures.Spec, at r2.Vec) (*NubPiece, error) {
	if !k.Outline.Holds(at) {
		return nil, measures.FaultAtf("nub.x", at, "the nub is not on the knife")
	}
	n, err := newNub(s, at, 0)
	if err != nil {
		return nil, err
	}
	n.BaseZ, _ = highest(n.Base, n.Base, Pill{Centre: at}, func(p r2.Vec) float64 {
		if r2.Norm(r2.Sub(p, at)) > n.Base/2 {
			return 0
		}
		return k.Half(p)
	})
	n.BaseZ += s.Standoff.Glue
	return &n, nil
}

// NewHoleNub is a loose nub for a named hole: as wide as its diameter less the margin. It stands on the blade
// at the hole, on the right face; the left face's is its mirror. Its errors are Faults.
func NewHoleNub(k *Buck, h measures.NamedHole) (*NubPiece, error) {
	s := k.Spec
	s.Hole.Diameter, s.Nub.Base = h.Diameter, 0
	n, err := nubAt(k, s, h.At)
	if err != nil {
		return nil, measures.Faultf("nub.holes", "%s: %v", h.Name, err)
	}
	return n, nil
}
