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

	outline, handle, bevel      *patch
	edge, grind, rim, handleRim *profile.Near
	grindWidth                  float64
}

// NewKnife checks the measures of the blade and the handle against the plan. Its errors are Faults.
func NewKnife(plan *profile.Plan, s Spec) (*Knife, error) {
	k := &Knife{
		Plan:    plan,
		Spec:    s,
		outline: newPatch(plan.Outline.Flatten(outlineTolerance)),
		rim:     profile.NewNear(plan.Outline.Path()),
		edge:    profile.NewNear(plan.Edge),
	}
	if len(plan.Handle) > 0 {
		k.handle = newPatch(plan.Handle.Flatten(outlineTolerance))
		k.handleRim = profile.NewNear(plan.Handle.Path())
	} else {
		k.handle = newPatch(nil)
	}
	k.setGrind()
	return k, k.check()
}

func (k *Knife) check() error {
	b := k.Spec.Blade
	switch {
	case b.Thickness <= 0:
		return fault("blade.thickness", "the blade must be thicker than 0 mm")
	case b.TipThickness <= 0 || b.TipThickness > b.Thickness:
		return fault("blade.tip_thickness", "%.3g mm at the tip is not between 0 and the stock's %.3g mm", b.TipThickness, b.Thickness)
	case b.EdgeThickness < 0 || b.EdgeThickness >= b.TipThickness:
		return fault("blade.edge_thickness", "%.3g mm at the edge is not below the %.3g mm of the stock at the tip", b.EdgeThickness, b.TipThickness)
	}
	return k.checkGrind()
}

// checkGrind refuses a hollow that cuts deeper than the edge is thick, and a bulge past the stock.
func (k *Knife) checkGrind() error {
	b := k.Spec.Blade
	if b.Grind == Flat {
		return nil
	}
	for _, q := range k.Plan.Edge.Flatten(1) {
		w := k.bevelWidth(q)
		if w == 0 {
			continue
		}
		if b.Grind == Hollow && 2*b.WheelRadius <= w {
			return faultAt("blade.wheel_radius", q, "a wheel of %.4g mm radius cannot grind a bevel %.4g mm wide", b.WheelRadius, w)
		}
		te := b.EdgeThickness / 2
		for u := 0.05; u < 1; u += 0.05 {
			full := k.stock(q.X) / 2
			h := te + (full-te)*u + k.belly(u, w)
			if h < te/2 || h > full+1e-9 && b.Grind == Convex {
				return faultAt("blade.grind", q, "the %s grind leaves %.3g mm at %.0f %% of a bevel %.4g mm wide", b.Grind, 2*h, 100*u, w)
			}
		}
	}
	return nil
}

// bevelWidth is the width of the bevel at a point of the edge, from edge to grind line.
func (k *Knife) bevelWidth(q r2.Vec) float64 {
	if k.grind == nil {
		return k.grindWidth
	}
	_, w := k.grind.Nearest(q)
	return w
}

// setGrind lays the region between edge and grind line.
func (k *Knife) setGrind() {
	p := k.Plan
	if len(p.Grind) == 0 {
		k.grindWidth = k.Spec.Blade.GrindWidth
		if k.grindWidth <= 0 {
			k.grindWidth = 0.6 * k.bladeWidth()
		}
		return
	}
	k.grind = profile.NewNear(p.Grind)
	if d := r2.Norm(r2.Sub(p.Grind.Start(), p.Edge.Start())); d < plungeRun {
		k.edge = profile.NewNear(cut(p.Edge, plungeRun))
	}
	if d := r2.Norm(r2.Sub(p.Grind.End(), p.Edge.End())); d < plungeRun {
		k.grind = profile.NewNear(cut(p.Grind.Reversed(), plungeRun))
	}
	around := p.Edge.Flatten(outlineTolerance)
	joint, _ := profile.NewNear(p.Spine).Nearest(p.Grind.End())
	for _, q := range p.Spine.Reversed().Flatten(outlineTolerance) {
		if q.X <= joint.X {
			break // the grind line has come down to the spine: the bevel ends here
		}
		around = append(around, q)
	}
	line := p.Grind.Reversed().Flatten(outlineTolerance)
	k.bevel = newPatch(append(append(around, joint), line...))
}

// GrindLine is the line that parts bevel and flat, from the heel along the grind line to the spine
// or the tip, its chords within tol; nil where the drawing has no grind line.
func (k *Knife) GrindLine(tol float64) []r2.Vec {
	p := k.Plan
	if len(p.Grind) == 0 {
		return nil
	}
	joint, _ := profile.NewNear(p.Spine).Nearest(p.Grind.End())
	line := append([]r2.Vec{p.Edge.Start()}, p.Grind.Flatten(tol)...)
	line = append(line, joint)
	last := len(line) - 1
	line[0] = beyond(line[1], line[0])
	line[last] = beyond(line[last-1], line[last])
	return line
}

// beyond is the end of the line from a to b, gone on by a little, so that it surely crosses what it ends on.
func beyond(a, b r2.Vec) r2.Vec {
	const little = 0.05 // mm
	d := r2.Sub(b, a)
	if l := r2.Norm(d); l > 0 {
		return r2.Add(b, r2.Scale(little/l, d))
	}
	return b
}

// plungeRun is the length, in mm, over which the edge comes up to the full stock where the grind
// line meets it at the heel, as the corner of a wheel or a file leaves it; common practice, no
// source. It also keeps the grind line off the edge at the tip. Where the two met in a point, the
// half thickness there would have no one value.
const plungeRun = 2

// cut is a path without its first length mm; a path no longer than twice that loses half.
func cut(p profile.Path, length float64) profile.Path {
	left := math.Min(length, p.Length()/2)
	for i, s := range p {
		n := s.Length()
		if left < n {
			return append(profile.Path{s.Part(left/n, 1)}, p[i+1:]...)
		}
		left -= n
	}
	return p
}

// bladeWidth is the blade's width at the heel, from edge to spine.
func (k *Knife) bladeWidth() float64 {
	_, w := profile.NewNear(k.Plan.Spine).Nearest(k.Plan.Heel)
	return w
}

// Zone is what the knife is at a point of the plan. Heights are smooth within a zone, and may jump
// from one to the next.
type Zone int

// The zones. Without a grind line in the drawing all of the blade is bevel.
const (
	Beside Zone = iota // no knife
	OnBevel
	OnFlat
	OnHandle
)

// ZoneAt is the zone of p.
func (k *Knife) ZoneAt(p r2.Vec) Zone {
	switch {
	case k.handle.holds(p):
		return OnHandle
	case !k.outline.holds(p):
		return Beside
	case k.grind != nil && !k.bevel.holds(p):
		return OnFlat
	default:
		return OnBevel
	}
}

// HalfOn is the half thickness h at p, in mm, as if p lay in the zone; 0 beside the knife.
func (k *Knife) HalfOn(z Zone, p r2.Vec) float64 {
	switch z {
	case OnHandle:
		return k.HandleHalf(p)
	case OnFlat:
		return k.stock(p.X) / 2
	case OnBevel:
		return k.bevelHalf(p)
	default:
		return 0
	}
}

// Half is the half thickness h at p, in mm.
func (k *Knife) Half(p r2.Vec) float64 { return k.HalfOn(k.ZoneAt(p), p) }

// Blade is the zone of the blade that p lies in or, beside the blade and on the handle, would lie in.
func (k *Knife) Blade(p r2.Vec) Zone {
	if k.grind == nil || k.bevel.holds(p) {
		return OnBevel
	}
	if k.outline.holds(p) {
		return OnFlat
	}
	_, e := k.edge.Nearest(p)
	if _, g := k.grind.Nearest(p); e < g {
		return OnBevel
	}
	return OnFlat
}

// Holds tells whether p lies within the knife's outline or its handle.
func (k *Knife) Holds(p r2.Vec) bool { return k.outline.holds(p) || k.handle.holds(p) }

// HandleHalf is the half thickness of the handle at p, as if p lay within it: the handle's edge is
// rounded all round. Outside its outline it is the thickness at the outline.
func (k *Knife) HandleHalf(p r2.Vec) float64 {
	full, r := k.Spec.Handle.Thickness/2, k.Spec.Handle.Rounding
	d := 0.0
	if k.handle.holds(p) {
		_, d = k.handleRim.Nearest(p)
	}
	if d >= r {
		return full
	}
	return full - r + math.Sqrt(r*r-(r-d)*(r-d))
}

// BladeHalf is the half thickness of the blade at p, as if p lay within it.
func (k *Knife) BladeHalf(p r2.Vec) float64 { return k.HalfOn(k.Blade(p), p) }

// bevelHalf rises from the edge thickness at the edge to the stock at the grind line, straight,
// hollow or convex.
func (k *Knife) bevelHalf(p r2.Vec) float64 {
	te, full := k.Spec.Blade.EdgeThickness/2, k.stock(p.X)/2
	u, w := k.rise(p)
	return te + (full-te)*u + k.belly(u, w)
}

// stock is the full thickness of the blade stock at x, with its distal taper from heel to tip.
func (k *Knife) stock(x float64) float64 {
	b := k.Spec.Blade
	from, to := k.Plan.Heel.X, k.Plan.Tip.X
	t := math.Min(math.Max((x-from)/(to-from), 0), 1)
	return b.Thickness + (b.TipThickness-b.Thickness)*t
}

// rise is how far p lies from the edge (0) to the grind line (1), and the bevel's width there. A
// little beyond either it comes back at the same slope.
func (k *Knife) rise(p r2.Vec) (u, width float64) {
	_, e := k.edge.Nearest(p)
	if k.grind == nil {
		if e < k.grindWidth && !k.outline.holds(p) && k.offEdge(p, e) {
			return 0, k.grindWidth
		}
		return math.Min(1, e/k.grindWidth), k.grindWidth
	}
	_, g := k.grind.Nearest(p)
	if e+g == 0 { // edge and grind line meet
		return 0, 0
	}
	return e / (e + g), e + g
}

// offEdge tells of a point outside the outline, e from the edge, whether the edge is what it is nearest to.
func (k *Knife) offEdge(p r2.Vec, e float64) bool {
	_, d := k.rim.Nearest(p)
	return e <= d+1e-9
}

// belly is how far a hollow or convex grind stands from the straight line from edge to grind line,
// for a bevel of the given width: an arc through both ends, below the line for a hollow one.
func (k *Knife) belly(u, width float64) float64 {
	b := k.Spec.Blade
	s := width * (u - 0.5)
	switch b.Grind {
	case Hollow:
		return -arcOver(s, width, b.WheelRadius)
	case Convex:
		if b.Bulge == 0 {
			return 0
		}
		return arcOver(s, width, width*width/(8*b.Bulge)+b.Bulge/2)
	default:
		return 0
	}
}

// arcOver is the height of an arc of radius r over its chord, s from the chord's middle.
func arcOver(s, chord, r float64) float64 {
	half := chord / 2
	if math.Abs(s) >= half || r <= half {
		return 0
	}
	return math.Sqrt(r*r-s*s) - math.Sqrt(r*r-half*half)
}
