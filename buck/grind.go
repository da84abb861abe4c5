package buck

import (
	"math"
	"slices"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

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
	if !k.lined() {
		return k.grindWidth
	}
	_, w := k.grind.Nearest(q)
	return w
}

// lined reports whether the drawing has a grind line.
func (k *Knife) lined() bool { return len(k.Plan.Grind) > 0 }

// setGrind lays the region between edge and grind line: of a blade whose line is not drawn, all that is ahead of the plunge.
func (k *Knife) setGrind() {
	p := k.Plan
	k.line = p.Grind
	if !k.lined() {
		k.grindWidth = k.Spec.Blade.GrindWidth
		if k.grindWidth <= 0 {
			k.grindWidth = 0.6 * k.bladeWidth()
		}
		_, top := k.chord(p.Heel.X)
		k.line = profile.Path{{A: p.Heel, B: r2.Vec{X: p.Heel.X, Y: top}}}
	}
	k.grind = *profile.NewNear(k.line)
	if d := r2.Norm(r2.Sub(k.line.Start(), p.Edge.Start())); d < plungeRun {
		k.edge = *profile.NewNear(k.cut(p.Edge))
	}
	if d := r2.Norm(r2.Sub(k.line.End(), p.Edge.End())); d < plungeRun {
		k.grind = *profile.NewNear(k.cut(k.line.Reversed()))
	}
	around := p.Edge.Flatten(outlineTolerance)
	if !k.lined() {
		k.joint = k.line.End()
		k.bevel = newPatch(append(around, p.Outline.Between(p.Tip, k.joint).Flatten(outlineTolerance)...))
		return
	}
	k.joint, _ = profile.NewNear(p.Spine).Nearest(p.Grind.End())
	for _, q := range p.Spine.Reversed().Flatten(outlineTolerance) {
		if q.X <= k.joint.X {
			break // the grind line has come down to the spine: the bevel ends here
		}
		around = append(around, q)
	}
	line := p.Grind.Reversed().Flatten(outlineTolerance)
	k.bevel = newPatch(append(append(around, k.joint), line...))
}

// GrindLine is the line that parts bevel and flat, from the heel along the grind line to the spine
// or the tip and a little beyond either, its chords within tol. Where the drawing has no grind line
// it is the plunge, from edge to spine.
func (k *Knife) GrindLine(tol, little float64) []r2.Vec {
	line := append([]r2.Vec{k.Plan.Edge.Start()}, k.line.Flatten(tol)...)
	line = slices.CompactFunc(append(line, k.joint), func(a, b r2.Vec) bool { return r2.Norm(r2.Sub(a, b)) < 1e-6 })
	last := len(line) - 1
	line[0] = beyond(line[1], line[0], little)
	line[last] = beyond(line[last-1], line[last], little)
	return line
}

// beyond is the end of the line from a to b, gone on by a little, so that it surely crosses what it
// ends on.
func beyond(a, b r2.Vec, little float64) r2.Vec {
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

// cut is a path without its plunge, the end of which is noted.
func (k *Knife) cut(p profile.Path) profile.Path {
	left := cut(p, plungeRun)
	k.plunges = append(k.plunges, left[0])
	return left
}

// PlungeLines are the lines along which the bevel bends where a plunge ends, from edge or grind line square across
// to the other.
func (k *Knife) PlungeLines() [][2]r2.Vec {
	const step = 0.1 // mm
	var lines [][2]r2.Vec
	for _, s := range k.plunges {
		from, along := s.A, r2.Unit(r2.Sub(s.At(1e-3), s.A))
		for _, across := range []r2.Vec{{X: -along.Y, Y: along.X}, {X: along.Y, Y: -along.X}} {
			n := 0.0
			for k.bevel.holds(r2.Add(from, r2.Scale((n+1)*step, across))) {
				n++
			}
			if n > 0 {
				lines = append(lines, [2]r2.Vec{from, r2.Add(from, r2.Scale(n*step, across))})
			}
		}
	}
	return lines
}

// cut is a path without its first length mm; a path no longer than twice that loses half.
func cut(p profile.Path, length float64) profile.Path {
	left := min(length, p.Length()/2)
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

// rise is how far p, e mm from the edge and g from the grind line, lies from the one (0) to the other (1), and the bevel's
// width there. Without a drawn line the bevel is as wide as stated, but for the plunge, which then is what g is counted from. A little beyond either it comes back at the same slope.
func (k *Knife) rise(p r2.Vec, e, g float64) (u, width float64) {
	if e+g == 0 { // edge and grind line meet
		return 0, 0
	}
	if !k.lined() {
		if e < k.grindWidth && !k.outline.holds(p) && k.offEdge(p, e) {
			return 0, k.grindWidth
		}
		width = min(k.grindWidth, e+g)
		return min(1, e/width), width
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
