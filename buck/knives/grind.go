package knives

import (
	"math"
	"slices"

	"formbuck/buck/measures"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// checkGrind refuses a hollow that cuts deeper than the edge is thick, and a bulge past the stock.
func (k *Knife) checkGrind() error {
	if b := k.Spec.Blade; b.Grind == measures.Convex && b.Bulge > (b.Thickness-b.EdgeThickness)/4+1e-9 {
		return measures.Faultf("blade.bulge", "%.3g mm over the chord at mid bevel stands out of a stock of %.3g mm", b.Bulge, b.Thickness)
	}
	for _, ground := range k.bevels() {
		if err := k.checkBevel(ground); err != nil {
			return err
		}
	}
	return nil
}

func (k *Knife) checkBevel(ground *bevel) error {
	b := k.Spec.Blade
	if ground.kind != measures.Hollow {
		return nil
	}
	for _, q := range ground.along.Flatten(1) {
		w := ground.bevelWidth(q)
		if w == 0 {
			continue
		}
		if 2*b.WheelRadius <= w {
			return measures.FaultAtf("blade.wheel_radius", q, "a wheel of %.4g mm radius cannot grind a bevel %.4g mm wide", b.WheelRadius, w)
		}
		te := b.EdgeThickness / 2
		for u := 0.05; u < 1; u += 0.05 {
			full := k.stock(q.X) / 2
			h := te + (full-te)*u + k.belly(ground, u, w)
			if h < te/2 {
				return measures.FaultAtf("blade.wheel_radius", q, "the hollow leaves %.3g mm at %.0f %% of a bevel %.4g mm wide: a larger wheel, a thicker edge or a narrower bevel leaves more", 2*h, 100*u, w)
			}
		}
	}
	return nil
}

// bevelWidth is the width of a bevel at a point of its edge, from edge to grind line.
func (b *bevel) bevelWidth(q r2.Vec) float64 {
	if b.width > 0 {
		return b.width
	}
	_, w := b.grind.Nearest(q)
	return w
}

// GrindLines are the lines that part bevels and flat, each from the butt end of its edge along the grind line to the
// outline and a little beyond either, their chords within tol. Where the drawing has no grind line
// it is the plunge, from edge to spine.
func (k *Knife) GrindLines(tol, little float64) [][]r2.Vec {
	var lines [][]r2.Vec
	for _, b := range k.bevels() {
		line := append([]r2.Vec{b.along.Start()}, b.line.Flatten(tol)...)
		line = slices.CompactFunc(append(line, b.joint), func(a, b r2.Vec) bool { return r2.Norm(r2.Sub(a, b)) < 1e-6 })
		last := len(line) - 1
		line[0] = beyond(line[1], line[0], little)
		line[last] = beyond(line[last-1], line[last], little)
		lines = append(lines, line)
	}
	return lines
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

// PlungeLines are the lines along which the bevel bends where a plunge ends, from edge or grind line square across
// to the other.
func (k *Knife) PlungeLines() [][2]r2.Vec {
	var lines [][2]r2.Vec
	for _, b := range k.bevels() {
		lines = append(lines, b.plungeLines()...)
	}
	return lines
}

func (b *bevel) plungeLines() (lines [][2]r2.Vec) {
	const step = 0.1 // mm; our own, no source
	for _, s := range b.plunges {
		from, along := s.A, r2.Unit(r2.Sub(s.At(1e-3), s.A))
		for _, across := range []r2.Vec{{X: -along.Y, Y: along.X}, {X: along.Y, Y: -along.X}} {
			n := 0.0
			for b.region.Holds(r2.Add(from, r2.Scale((n+1)*step, across))) {
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

// rise is how far p, e mm from the edge and g from the grind line, lies from the one (0) to the other (1), and the bevel's
// width there. Without a drawn line the bevel is as wide as stated, but for the plunge, which then is what g is counted from. A little beyond either it comes back at the same slope.
func (k *Knife) rise(b *bevel, p r2.Vec, e, g float64) (u, width float64) {
	if e+g == 0 { // edge and grind line meet
		return 0, 0
	}
	if b.width > 0 {
		if e < b.width && !k.Outline.Holds(p) && k.offEdge(p, e) {
			return 0, b.width
		}
		width = min(b.width, e+g)
		return min(1, e/width), width
	}
	return e / (e + g), e + g
}

// offEdge tells of a point outside the outline, e from the edge, whether the edge is what it is nearest to.
func (k *Knife) offEdge(p r2.Vec, e float64) bool {
	_, d := k.Rim.Nearest(p)
	return e <= d+1e-9
}

// belly is how far a hollow or convex grind stands from the straight line from edge to grind line,
// for a bevel of the given width: an arc through both ends, below the line for a hollow one.
func (k *Knife) belly(ground *bevel, u, width float64) float64 {
	b := k.Spec.Blade
	s := width * (u - 0.5)
	switch ground.kind {
	case measures.Hollow:
		return -arcOver(s, width, b.WheelRadius)
	case measures.Convex:
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
