package pieces

import (
	"fmt"
	"math"
	"slices"

	"formbuck/buck/knives"
	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// RampPiece is a draw ramp or, inside the mouth, a handle filler. A ramp fills what would hold the knife on its way out, in front of the blade
// faces and beside the outline, from as deep as anything binds to the handle or the mouth. Its head is
// a rectangle on the draw's axes, x against the draw; the side towards the mouth ends square, the
// other three go down by the draft. A piece in one part serves both faces. A filler is the same over the handle, from the
// mouth to where the handle binds deepest in the sheath.
type RampPiece struct {
	Knife    *Buck
	Head     r2.Box  // on the draw's axes, mm
	CantDeg  float64 // of the draw's axes from the blade's
	Rise     float64 // of its surface over what passes: the clearance, or what cheeks of the least wall need
	Gap      float64 // between cheeks and blade: glue and fit
	Fit      float64 // between the piece and the outline and the handle
	DraftDeg float64
	Split    bool        // one piece for each face
	Grip     bool        // a filler: it stands on the handle, inside the mouth, not on the blade
	Side     string      // of the knife: "edge", "spine", "face"
	Boss     Pill        // room that is left to the mount boss
	Drain    *DrainPiece // its room is left to it; nil: there is none
	Deepest  float64
	DeepAt   r2.Vec
	Governs  string
	Lock     *LockPocket // nil: this ramp keeps none
	Trims    []*Trim     // what of the head and its sides the ramp does without
	For      RampFor     // which faces it is for; a ramp for some faces is split

	Mark      [][]r2.Vec // engraved in the underside of the cheek on the right face, in the plan; nil: nothing
	MarkDepth float64
	mark      []knives.Patch

	passes *Field // what passes, nowhere steeper than rampSlope
}

// rampSlope is the steepest that the piece's surface falls inside its head, as a tangent: 45
// degrees, which the sheet follows and the knife slides over. Common practice, no source.
const rampSlope = 1

// jointLeast is the least area, in mm2 of the plan, beside the knife that joins both cheeks of a piece; common practice, no
// source.
const jointLeast = 2

// NewRamps computes the ramps that free the draw, one for each bind; none where the knife draws
// freely. Its errors are Faults.
func NewRamps(d *Draw) (*Ramps, error) {
	heads, err := d.heads()
	if err != nil {
		return nil, err
	}
	return d.faced(heads)
}

// heads are the ramps as if nothing parted them.
func (d *Draw) heads() ([]*RampPiece, error) {
	if draft := d.Knife.Spec.Ramp.DraftDeg; !drafts(draft) {
		return nil, measures.Faultf("ramp.draft", "sides %.3g deg from upright: 0, or %d deg and more", draft, leastDraft)
	}
	passes := d.passing().covered(rampSlope)
	var ramps []*RampPiece
	for _, b := range united(d.Binds, d.Knife.Spec.Ramp.Lap) {
		r := d.ramp(b)
		r.passes = passes
		if b.Box.Max.X < r.Head.Min.X || !d.felt(b) {
			continue // beside the handle only: whether it binds there the formed cavity tells
		}
		if r.Head.Max.X <= r.Head.Min.X || r.Head.Max.Y <= r.Head.Min.Y {
			return nil, measures.FaultAtf("ramp.x", b.At, "the placement leaves nothing of the ramp")
		}
		if r.Gap < 0 || r.Fit < 0 {
			return nil, measures.Faultf("ramp.fit", "a fit of %.4g mm presses the ramp into the blade", r.Fit)
		}
		ramps = append(ramps, r)
	}
	ramps = apart(joined(ramps), d.Binds)
	outline := d.Knife.Plan.Outline.Flatten(knives.OutlineTolerance / 4)
	for _, r := range ramps {
		d.trimIdle(r, outline)
	}
	return append(ramps, d.fillers(ramps)...), nil
}

// part makes a piece for each face of the ramp where it cannot be slid on, or that is asked for.
func (r *RampPiece) part() error {
	slides := r.slides()
	if r.For != AllFaces {
		r.Split = true
		return nil
	}
	switch r.Knife.Spec.Ramp.Split {
	case measures.SplitNever:
		if !slides {
			return measures.FaultAtf("ramp.split", r.DeepAt, "the %s cannot be slid on in one piece", r.title())
		}
	case measures.SplitAlways:
		r.Split = true
	default:
		r.Split = !slides
	}
	return nil
}

// Place is where of the knife the ramp frees the draw, in words.
func (r *RampPiece) Place() string {
	if r.Grip {
		return "handle, towards the " + r.Where()
	}
	return r.Where()
}

// Where is the side of the knife in words.
func (r *RampPiece) Where() string { return r.Knife.Spec.Blade.Told(r.Side) }

// title is the ramp in words.
func (r *RampPiece) title() string {
	if r.Grip {
		return "handle filler"
	}
	return "ramp"
}

// joined are the ramps, those of one side whose plans, with their drafted sides, would meet made one.
func joined(ramps []*RampPiece) []*RampPiece {
	for i, a := range ramps {
		for j := i + 1; j < len(ramps); j++ {
			b, room := ramps[j], a.Skirt()+ramps[j].Skirt()
			if a.Side != b.Side || a.Head.Max.Y+room < b.Head.Min.Y || b.Head.Max.Y+room < a.Head.Min.Y {
				continue
			}
			if a.Head.Max.X+room < b.Head.Min.X || b.Head.Max.X+room < a.Head.Min.X {
				continue
			}
			a.Head.Min = r2.Vec{X: min(a.Head.Min.X, b.Head.Min.X), Y: min(a.Head.Min.Y, b.Head.Min.Y)}
			a.Head.Max = r2.Vec{X: max(a.Head.Max.X, b.Head.Max.X), Y: max(a.Head.Max.Y, b.Head.Max.Y)}
			if b.Deepest > a.Deepest {
				a.Deepest, a.DeepAt = b.Deepest, b.DeepAt
			}
			return joined(slices.Delete(ramps, j, j+1))
		}
	}
	return ramps
}

// apart sees to it that ramps of the edge and the spine leave each other room, with their drafted sides, if their laps
// have that much to give.
func apart(ramps []*RampPiece, binds []Bind) []*RampPiece {
	for _, e := range ramps {
		for _, s := range ramps {
			if e.Side != "edge" || s.Side != "spine" {
				continue
			}
			low, high := math.Inf(-1), math.Inf(1) // what the binds need
			for _, b := range binds {
				if b.side() == "edge" {
					low = max(low, b.Box.Max.Y)
				} else if b.side() == "spine" {
					high = min(high, b.Box.Min.Y)
				}
			}
			e.keepFrom(s, low, high)
		}
	}
	return ramps
}

// keepFrom draws the heads of a piece at the edge and of one at the spine back from each other, where they or their sides
// would meet: no further than up to low and down to high, which the binds need, where there is so much room.
func (r *RampPiece) keepFrom(spine *RampPiece, low, high float64) {
	width := piecesApart + r.Skirt() + spine.Skirt()
	if r.Head.Max.Y+width <= spine.Head.Min.Y {
		return
	}
	middle := min(max((r.Head.Max.Y+spine.Head.Min.Y)/2, low+width/2), high-width/2)
	r.Head.Max.Y, spine.Head.Min.Y = middle-width/2, middle+width/2
}

// ramp lays the head over a bind: from the mouth to where it binds deepest in the sheath, and over
// the blade beside it by the lap. The placement moves its end towards the tip and its lap.
func (d *Draw) ramp(b Bind) *RampPiece {
	s := d.Knife.Spec.Ramp
	const half = drawStep / 2
	r := &RampPiece{
		Knife: d.Knife, CantDeg: d.CantDeg, Side: b.side(), Boss: d.Knife.bossRoom(), Drain: d.Knife.drain(),
		Gap: s.Glue + s.Fit, Fit: s.Fit, DraftDeg: s.DraftDeg,
		Deepest: b.Deepest, DeepAt: b.At,
		Head: r2.Box{
			Min: r2.Vec{X: 0, Y: b.Box.Min.Y - half},
			Max: r2.Vec{X: b.Box.Max.X + half + s.X, Y: b.Box.Max.Y + half},
		},
	}
	r.raised()
	reach := d.Envelope.box
	low, high := &r.Head.Min.Y, &r.Head.Max.Y
	// what binds from the row of nodes next to the outermost on is taken to that: else the draft would end on a corner
	// of the blade; our own, no source
	const row = 1.5 * drawStep
	if side := reach.Min.Y - half; r.Side == "edge" && *low < side+row {
		*low = min(*low, side)
	}
	if side := reach.Max.Y + half; r.Side == "spine" && *high > side-row {
		*high = max(*high, side)
	}
	switch r.Side {
	case "edge":
		*high = min(*high+s.Lap+s.Y, reach.Max.Y-s.Wall)
	case "spine":
		*low = max(*low-s.Lap-s.Y, reach.Min.Y+s.Wall)
	default:
		*low, *high = *low+s.Y, *high+s.Y
	}
	r.besideHandle(b)
	return r
}

// raised sets by how much the surface stands over what passes, and why.
func (r *RampPiece) raised() {
	s := r.Knife.Spec.Ramp
	r.Rise = max(s.Clearance, r.Gap+s.Wall)
	r.Governs = fmt.Sprintf("wall %.4g mm over glue %.4g mm", s.Wall, r.Gap)
	if r.Rise == s.Clearance {
		r.Governs = fmt.Sprintf("running clearance %.4g mm", s.Clearance)
	}
}

// besideHandle sees to the strip that goes on beside the handle, from its front to the mouth: a strip too thin to
// print is left out or, where the bind is there too, made as thick as the least wall.
func (r *RampPiece) besideHandle(b Bind) {
	low, high := math.Inf(1), math.Inf(-1) // of the handle in the sheath, grown by the fit
	for _, p := range r.Knife.Plan.Handle.Flatten(knives.OutlineTolerance) {
		if q := r.Turned(p); q.X >= 0 {
			low, high = min(low, q.Y-r.Fit), max(high, q.Y+r.Fit)
		}
	}
	least, front := r.Knife.Spec.Ramp.Wall, r.Knife.Plan.HandleFront
	switch spine := r.Side == "spine"; {
	case spine && r.Head.Max.Y-high >= least, !spine && low-r.Head.Min.Y >= least:
	case b.Box.Min.X >= front:
		r.Head.Min.X = front
	case spine:
		r.Head.Max.Y = high + least
	default:
		r.Head.Min.Y = low - least
	}
}

// slides tells whether the piece can be pushed on from its side: in every column the steel is one
// stretch that ends on the far side, and never gets thinner on the way; and what is beside the knife joins its cheeks.
func (r *RampPiece) slides() bool {
	if r.Side == "face" {
		return false
	}
	const step = 0.5 // our own, no source
	ny := int((r.Head.Max.Y - r.Head.Min.Y) / step)
	joint := 0.0
	for x := r.Head.Min.X + step/2; x < r.Head.Max.X; x += step {
		last := 0.0
		for j := range ny + 1 {
			y := r.Head.Min.Y + float64(j)*step
			if r.Side == "spine" {
				y = r.Head.Max.Y - float64(j)*step
			}
			p := r.Blade(r2.Vec{X: x, Y: y})
			if r.BaseAt(p) == Gap {
				joint += step * step
			}
			on := r.Knife.Handle.Holds(p)
			if on != r.Grip && (on || r.Knife.Outline.Holds(p)) {
				continue // the piece ends there
			}
			h := r.Knife.Half(p)
			if h < last-0.02 {
				return false
			}
			last = h
		}
	}
	return joint >= jointLeast
}

// Ends is how far from the mouth the ramp's foot ends, along the draw: at its head or, of a drafted end, beyond it.
func (r *RampPiece) Ends() float64 {
	far := 0.0
	for _, p := range r.FootLine() {
		far = max(far, r.Turned(p).X)
	}
	return far
}

// Turned is p on the draw's axes.
func (r *RampPiece) Turned(p r2.Vec) r2.Vec {
	if r.CantDeg == 0 {
		return p
	}
	return r2.Rotate(p, -measures.Radians(r.CantDeg), r2.Vec{})
}

// Blade is a point of the draw's axes on the blade's.
func (r *RampPiece) Blade(q r2.Vec) r2.Vec {
	return r2.Rotate(q, measures.Radians(r.CantDeg), r2.Vec{})
}

// On is the zone of the knife that the piece stands on at p; beside it, that it is nearest to.
func (r *RampPiece) On(p r2.Vec) knives.Zone {
	if r.Grip {
		return knives.OnHandle
	}
	return r.Knife.Blade(r.Across(p))
}

// Underside is the height of the cheeks' underside at p, as if p lay in the zone of the knife.
func (r *RampPiece) Underside(on knives.Zone, p r2.Vec) float64 {
	if on == knives.OnHandle {
		return r.Knife.HandleIn(r.Inside(p)) + r.Gap
	}
	return r.Knife.HalfOn(on, p) + r.Gap
}

// Inside is how far p lies within the handle's outline grown by the fit; no more than its rounding, and 0 outside.
func (r *RampPiece) Inside(p r2.Vec) float64 {
	k, most := r.Knife, r.Knife.Spec.Handle.Rounding
	if k.Handle.Holds(p) {
		return min(k.HandleRim.Within(p, most)+r.Fit, most)
	}
	if r.Fit == 0 {
		return 0
	}
	return min(max(r.Fit-distance(&k.HandleRim, p), 0), most)
}

// Surface is the height of the piece's surface at p, as if there were no lock: within the head what passes, raised, and the
// drafted sides beyond it.
func (r *RampPiece) Surface(p r2.Vec) float64 {
	q := r.Turned(p)
	q.X = max(q.X, r.Head.Min.X) // where it ends square
	in := r.inside(q)
	z := r.passes.at(in) + r.Rise
	if r.DraftDeg > 0 && in != q {
		z -= r2.Norm(r2.Sub(q, in)) / measures.TanDeg(r.DraftDeg)
	}
	return z
}

// Nodes are the nodes between which Passes is straight along the draw's axes: the first, in the blade's axes, and how far
// they are apart along the draw and across it.
func (r *RampPiece) Nodes() (first r2.Vec, dx, dy float64) {
	return r.Blade(r.passes.box.Min), r.passes.dx, r.passes.dy
}

// Passes is what the surface is raised over at a point of the draw's axes: what passes there, its cliffs let down.
func (r *RampPiece) Passes(q r2.Vec) float64 { return r.passes.at(q) }

// Skirt is how far the drafted sides may reach beyond the head; nothing where they stand upright.
func (r *RampPiece) Skirt() float64 {
	if r.DraftDeg == 0 {
		return 0
	}
	high := r.Knife.Spec.Blade.Thickness
	if r.Grip {
		high = r.Knife.Spec.Handle.Thickness
	}
	return (high/2 + r.Rise + 0.2) * measures.TanDeg(r.DraftDeg)
}

// inside is the point of the head nearest to q, on the draw's axes.
func (r *RampPiece) inside(q r2.Vec) r2.Vec {
	return r2.Vec{
		X: min(max(q.X, r.Head.Min.X), r.Head.Max.X),
		Y: min(max(q.Y, r.Head.Min.Y), r.Head.Max.Y),
	}
}

// Across is p or, beyond a long side of the head, the point of that side straight across the draw, both
// in the blade's axes. What lies there tells what the piece stands on at p: a drafted side stands on
// what the head stands on beside it.
func (r *RampPiece) Across(p r2.Vec) r2.Vec {
	q := r.Turned(p)
	if q.Y >= r.Head.Min.Y && q.Y <= r.Head.Max.Y {
		return p
	}
	return r.Blade(r2.Vec{X: q.X, Y: min(max(q.Y, r.Head.Min.Y), r.Head.Max.Y)})
}

// Base is what lies under the piece at a point.
type Base int

// The bases: none beyond the head and its sides, in the handle and in the rooms of the boss and the drain; the steel;
// the gap beside it. Steel and handle are grown by the fit.
const (
	NoBase Base = iota
	Steel
	Gap
)

// OnSteel tells whether p, within the head, lies over the blade or, of a filler, the handle, grown by the fit.
func (r *RampPiece) OnSteel(p r2.Vec) bool {
	if r.Grip {
		return r.Knife.Handle.Holds(p) || r.Fit > 0 && distance(&r.Knife.HandleRim, p) < r.Fit
	}
	return r.Knife.Outline.Holds(p) || r.Fit > 0 && distance(&r.Knife.Rim, p) < r.Fit
}

// BaseAt is the base at p.
func (r *RampPiece) BaseAt(p r2.Vec) Base {
	q := r.Turned(p)
	skirt := r.Skirt()
	k := r.Knife
	switch {
	case q.X < r.Head.Min.X || q.X > r.Head.Max.X+skirt || q.Y < r.Head.Min.Y-skirt || q.Y > r.Head.Max.Y+skirt:
		return NoBase
	case r.Boss.Distance(p) < 0 || r.Drain.RoomHolds(p):
		return NoBase
	case r.Grip && (k.Guard.Holds(p) || k.Outline.Holds(p) && !k.Handle.Holds(p)):
		return NoBase // what lies ahead of the handle
	case r.Grip:
	case k.Handle.Holds(p) || r.Fit > 0 && distance(&k.HandleRim, p) < r.Fit:
		return NoBase
	}
	if r.OnSteel(r.Across(p)) {
		if r.Lock.Holds(p) || r.trimmed(p, false) {
			return NoBase // the lock's pocket takes the cheeks away
		}
		return Steel
	}
	if r.trimmed(p, true) {
		return NoBase
	}
	return Gap
}
