package knives

import (
	"slices"

	"formbuck/buck/measures"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// bevel is one ground part of the blade: what lies between an edge and its grind line. A swedge is one, too: its edge is the spine.
type bevel struct {
	along  profile.Path // the edge, from its butt end to its tip end
	line   profile.Path // the grind line likewise; where none is drawn, the plunge
	joint  r2.Vec       // where the line has come to the outline
	region Patch
	width  float64 // from the edge to the grind line, where no line is drawn; 0: it is
	thick  float64 // at the edge, full
	kind   measures.Grind

	edge, grind profile.Near
	plunges     []profile.Segment // with which edge and grind line begin after a plunge
}

// newBevel is the bevel between edge and line, not yet with its region.
func newBevel(along, line profile.Path) *bevel {
	b := &bevel{along: along, line: line, edge: *profile.NewNear(along), grind: *profile.NewNear(line), joint: line.End()}
	if r2.Norm(r2.Sub(line.Start(), along.Start())) < plungeRun {
		b.edge = *profile.NewNear(b.cut(along))
	}
	if r2.Norm(r2.Sub(line.End(), along.End())) < plungeRun {
		b.grind = *profile.NewNear(b.cut(line.Reversed()))
	}
	return b
}

// cut is a path without its plunge, the end of which is noted.
func (b *bevel) cut(p profile.Path) profile.Path {
	left := cut(p, plungeRun)
	b.plunges = append(b.plunges, left[0])
	return left
}

// setGrind lays the blade's bevels.
func (k *Knife) setGrind() {
	p := k.Plan
	switch {
	case len(p.Grind) == 0:
		k.front = k.byWidth()
	case len(p.Back) > 0:
		k.front, k.back = k.ground(newBevel(p.Edge, p.Grind)), k.ground(newBevel(p.Back, p.GrindBack))
		k.back.enclose(k.back.along.Flatten(OutlineTolerance))
		k.front.enclose(k.front.along.Flatten(OutlineTolerance))
	default:
		k.front = k.ground(newBevel(p.Edge, p.Grind))
		k.front.joint, _ = profile.NewNear(p.Spine).Nearest(p.Grind.End())
		around := p.Edge.Flatten(OutlineTolerance)
		for _, q := range p.Spine.Reversed().Flatten(OutlineTolerance) {
			if q.X <= k.front.joint.X {
				break // the grind line has come down to the spine: the bevel ends here
			}
			around = append(around, q)
		}
		k.front.enclose(append(around, k.front.joint))
	}
	if len(p.Swedge) > 0 {
		k.back = newBevel(p.SwedgeEdge, p.Swedge)
		k.back.thick, k.back.kind = k.Spec.Swedge.Thickness, measures.Flat
		k.back.enclose(p.SwedgeEdge.Flatten(OutlineTolerance))
	}
}

// ground gives a bevel the edge and the grind of the blade.
func (k *Knife) ground(b *bevel) *bevel {
	b.thick, b.kind = k.Spec.Blade.EdgeThickness, k.Spec.Blade.Grind
	return b
}

// enclose makes the region that lies between what goes before and the grind line.
func (b *bevel) enclose(around []r2.Vec) {
	b.region = NewPatch(append(around, b.line.Reversed().Flatten(OutlineTolerance)...))
}

// byWidth is the bevel of a blade whose grind line is not drawn: all that is ahead of the plunge, of two edges both.
func (k *Knife) byWidth() *bevel {
	p := k.Plan
	_, top := k.Chord(p.Heel.X)
	end, share := r2.Vec{X: p.Heel.X, Y: top}, 0.6
	if len(p.Back) > 0 {
		end, share = p.Back.Start(), 0.5
	}
	b := k.ground(newBevel(p.Edge, profile.Path{{A: p.Heel, B: end}}))
	if len(p.Back) > 0 {
		b.edge = *profile.NewNear(slices.Concat(b.cut(p.Edge), b.cut(p.Back)))
		b.plunges = b.plunges[1:]
	}
	if b.width = k.Spec.Blade.GrindWidth; b.width <= 0 {
		_, wide := profile.NewNear(p.Outline.Between(p.Tip, end)).Nearest(p.Heel)
		b.width = share * wide
	}
	b.region = NewPatch(append(p.Edge.Flatten(OutlineTolerance), p.Outline.Between(p.Tip, end).Flatten(OutlineTolerance)...))
	return b
}

// bevels are those that the blade has.
func (k *Knife) bevels() []*bevel {
	return slices.DeleteFunc([]*bevel{k.front, k.back}, func(b *bevel) bool { return b == nil })
}

// onSteel is the zone of a point of the blade.
func (k *Knife) onSteel(p r2.Vec) Zone {
	front, back := k.front.region.Holds(p), k.back != nil && k.back.region.Holds(p)
	switch {
	case front && back:
		return OnBoth
	case front:
		return OnBevel
	case back:
		return OnBack
	default:
		return OnFlat
	}
}

// half is the half thickness of the bevel at p.
func (k *Knife) half(b *bevel, p r2.Vec) float64 {
	_, e := b.edge.Nearest(p)
	_, g := b.grind.Nearest(p)
	return k.halfIn(b, p, e, g)
}

// halfIn is the half thickness of the bevel at p, e mm from its edge and g from its grind line: it rises from the edge thickness
// at the edge to the stock at the grind line, straight, hollow or convex. Where a convex bevel is so narrow that its bulge would
// stand out of the stock, it is the stock.
func (k *Knife) halfIn(b *bevel, p r2.Vec, e, g float64) float64 {
	te, full := b.thick/2, k.stock(p.X)/2
	u, w := k.rise(b, p, e, g)
	return min(te+(full-te)*u+k.belly(b, u, w), max(full, te))
}
