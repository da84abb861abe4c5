package buck

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// RampPiece is a draw ramp: it fills what would hold the knife on its way out, in front of the blade
// faces and beside the outline, from as deep as anything binds to the handle or the mouth. Its head is
// a rectangle on the draw's axes, x against the draw; the side towards the mouth ends square, the
// other three go down by the draft.
type RampPiece struct {
	Knife    *Knife
	Envelope *Envelope
	Head     r2.Box  // on the draw's axes, mm
	CantDeg  float64 // of the draw's axes from the blade's
	Rise     float64 // of its surface over the envelope: the clearance, or what cheeks of the least wall need
	Gap      float64 // between cheeks and blade: glue and fit
	Fit      float64 // between the piece and the outline and the handle
	DraftDeg float64
	Split    bool   // one piece for each face
	Side     string // of the knife: "edge", "spine", "face"
	Boss     Pill   // room that is left to the mount boss; of no length where there is none
	Deepest  float64
	DeepAt   r2.Vec
	Governs  string
}

// Bind is one place where the draw is not free without a ramp: connected cells in which what passes
// is thicker than knife and tape there.
type Bind struct {
	Box     r2.Box // on the draw's axes
	Deepest float64
	At      r2.Vec // where it is deepest, in the blade's axes
	Above   int    // cells beside the outline that have steel above them, towards the spine
	Below   int    // cells beside the outline that have steel below them
}

// bindLeast is the area in mm2 below which a bind is taken for a rounding of the outline.
const bindLeast = 1

// Draw is the study of a knife's way out of its sheath: straight, against x turned by the ramp's cant.
type Draw struct {
	Knife    *Knife
	Envelope *Envelope
	CantDeg  float64
	Binds    []Bind
}

// NewDraw finds where the knife binds between the mouth and the tip, the handle left aside.
func NewDraw(k *Knife) *Draw {
	d := &Draw{Knife: k, CantDeg: k.Spec.Ramp.CantDeg}
	box := d.reach()
	steel := func(p r2.Vec) float64 {
		if k.handle.holds(p) || !k.outline.holds(p) {
			return 0
		}
		return k.BladeHalf(p)
	}
	d.Envelope = newEnvelope(steel, box, d.CantDeg)
	d.Binds = d.binds(box)
	return d
}

// turned is a point of the blade's axes on the draw's.
func (d *Draw) turned(p r2.Vec) r2.Vec { return r2.Rotate(p, -radians(d.CantDeg), r2.Vec{}) }

// blade is a point of the draw's axes on the blade's.
func (d *Draw) blade(q r2.Vec) r2.Vec { return r2.Rotate(q, radians(d.CantDeg), r2.Vec{}) }

// reach is the part of the knife within the sheath, on the draw's axes: exactly from its lowest to
// its highest point.
func (d *Draw) reach() r2.Box {
	box := r2.Box{Min: r2.Vec{X: 0, Y: math.Inf(1)}, Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, p := range d.Knife.Plan.Outline.Flatten(outlineTolerance / 4) {
		q := d.turned(p)
		if q.X < 0 || d.Knife.onHandle(p) {
			continue
		}
		box.Max.X = math.Max(box.Max.X, q.X)
		box.Min.Y, box.Max.Y = math.Min(box.Min.Y, q.Y), math.Max(box.Max.Y, q.Y)
	}
	return box
}

// onHandle tells whether p lies in the handle or on its outline.
func (k *Knife) onHandle(p r2.Vec) bool {
	return k.handle.holds(p) || k.handleRim != nil && distance(k.handleRim, p) < 0.1
}

// binds gathers the cells of the envelope's grid that bind, by neighbourhood.
func (d *Draw) binds(box r2.Box) []Bind {
	const step = envelopeStep
	nx, ny := int((box.Max.X-box.Min.X)/step), int((box.Max.Y-box.Min.Y)/step)
	depth := make([]float64, max(nx*ny, 0))
	side := make([]int8, len(depth))
	centre := func(i int) r2.Vec {
		return r2.Vec{X: box.Min.X + (float64(i%nx)+0.5)*step, Y: box.Min.Y + (float64(i/nx)+0.5)*step}
	}
	for i := range depth {
		p := d.blade(centre(i))
		depth[i], side[i] = d.depth(p)
	}
	var found []Bind
	for i := range depth {
		if depth[i] <= 0 {
			continue
		}
		if b, cells := d.gather(i, nx, depth, side, centre); float64(cells)*step*step >= bindLeast {
			found = append(found, b)
		}
	}
	return found
}

// grace is by how much, in mm, a half may be opened without being felt; common practice, no source.
const grace = 0.05

// depth is by how much the draw binds at p beyond the grace, and where the steel is of a p beside the
// outline: 1 above it, -1 below.
func (d *Draw) depth(p r2.Vec) (float64, int8) {
	k := d.Knife
	if k.handle.holds(p) {
		return 0, 0
	}
	if k.outline.holds(p) {
		h := k.BladeHalf(p)
		return math.Max(d.Envelope.OverSteel(p, h)-h-k.tapeAt(p)-grace, 0), 0
	}
	if !d.Envelope.inGap(p) {
		return 0, 0
	}
	foot, far := k.rim.Nearest(p)
	side := int8(1)
	if foot.Y < p.Y {
		side = -1
	}
	return math.Max(d.Envelope.OverGap(p)-k.bend(k.BladeHalf(foot)+k.tapeAt(foot), far)-grace, 0), side
}

// tapeAt is the thickness of the tape on one face at p.
func (k *Knife) tapeAt(p r2.Vec) float64 {
	if r2.Norm(r2.Sub(p, k.Plan.Tip)) < k.Spec.Tape.TipGap {
		return 0
	}
	return k.Spec.Tape.Total()
}

// bend is the height of the sheet's inner face over a point, far mm outside an outline where the
// buck is half mm high: the press cannot make a foot sharper than the sheet's thickness on the
// outside, so the sheet comes down along a ball of twice that, resting on the outline and the middle plane.
func (k *Knife) bend(half, far float64) float64 {
	ball := 2 * k.Spec.Sheet.Thickness
	if half >= ball {
		half = ball
	}
	left := math.Sqrt(half*(2*ball-half)) - far
	if left <= 0 {
		return 0
	}
	return ball - math.Sqrt(ball*ball-left*left)
}

// gather takes the cells that hang together with cell i, and clears them.
func (d *Draw) gather(i, nx int, depth []float64, side []int8, centre func(int) r2.Vec) (Bind, int) {
	b := Bind{Box: r2.Box{Min: centre(i), Max: centre(i)}}
	cells, stack := 0, []int{i}
	for len(stack) > 0 {
		c := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if depth[c] <= 0 {
			continue
		}
		q := centre(c)
		cells++
		b.Box.Min = r2.Vec{X: math.Min(b.Box.Min.X, q.X), Y: math.Min(b.Box.Min.Y, q.Y)}
		b.Box.Max = r2.Vec{X: math.Max(b.Box.Max.X, q.X), Y: math.Max(b.Box.Max.Y, q.Y)}
		switch side[c] {
		case 1:
			b.Above++
		case -1:
			b.Below++
		}
		if depth[c] > b.Deepest {
			b.Deepest, b.At = depth[c], d.blade(q)
		}
		depth[c] = 0
		if x := c % nx; x > 0 {
			stack = append(stack, c-1)
		}
		if x := c % nx; x < nx-1 {
			stack = append(stack, c+1)
		}
		if c >= nx {
			stack = append(stack, c-nx)
		}
		if c+nx < len(depth) {
			stack = append(stack, c+nx)
		}
	}
	return b, cells
}

// NewRamps computes the ramps that free the draw, one for each bind; none where the knife draws
// freely. Its errors are Faults.
func NewRamps(d *Draw) ([]*RampPiece, error) {
	var ramps []*RampPiece
	for _, b := range united(d.Binds, d.Knife.Spec.Ramp.Lap) {
		r := d.ramp(b)
		if r.Head.Max.X <= r.Head.Min.X || r.Head.Max.Y <= r.Head.Min.Y {
			return nil, faultAt("ramp.x", b.At, "the placement leaves nothing of the ramp")
		}
		if r.Gap < 0 || r.Fit < 0 {
			return nil, fault("ramp.fit", "a fit of %.4g mm presses the ramp into the blade", r.Fit)
		}
		slides := r.slides()
		switch d.Knife.Spec.Ramp.Split {
		case SplitNever:
			if !slides {
				return nil, faultAt("ramp.split", b.At, "the ramp cannot be slid on in one piece")
			}
		case SplitAlways:
			r.Split = true
		default:
			r.Split = !slides
		}
		ramps = append(ramps, r)
	}
	return ramps, nil
}

// side is where of the knife the bind is.
func (b Bind) side() string {
	switch {
	case b.Above > b.Below:
		return "edge"
	case b.Below > 0:
		return "spine"
	default:
		return "face"
	}
}

// united are the binds, those of one side whose ramps would overlap taken together: every ramp reaches
// to the mouth.
func united(binds []Bind, lap float64) []Bind {
	var all []Bind
	for _, b := range binds {
		merged := false
		for i := range all {
			a := &all[i]
			if a.side() != b.side() || a.Box.Min.Y > b.Box.Max.Y+2*lap || b.Box.Min.Y > a.Box.Max.Y+2*lap {
				continue
			}
			a.Box.Min = r2.Vec{X: math.Min(a.Box.Min.X, b.Box.Min.X), Y: math.Min(a.Box.Min.Y, b.Box.Min.Y)}
			a.Box.Max = r2.Vec{X: math.Max(a.Box.Max.X, b.Box.Max.X), Y: math.Max(a.Box.Max.Y, b.Box.Max.Y)}
			a.Above, a.Below = a.Above+b.Above, a.Below+b.Below
			if b.Deepest > a.Deepest {
				a.Deepest, a.At = b.Deepest, b.At
			}
			merged = true
			break
		}
		if !merged {
			all = append(all, b)
		}
	}
	return all
}

func (d *Draw) ramp(b Bind) *RampPiece {
	s := d.Knife.Spec.Ramp
	const half = envelopeStep / 2
	r := &RampPiece{
		Knife: d.Knife, Envelope: d.Envelope, CantDeg: d.CantDeg,
		Gap: s.Glue + s.Fit, Fit: s.Fit, DraftDeg: s.DraftDeg,
		Deepest: b.Deepest, DeepAt: b.At, Boss: d.Knife.bossRoom(),
		Head: r2.Box{
			Min: r2.Vec{X: 0, Y: b.Box.Min.Y - half},
			Max: r2.Vec{X: b.Box.Max.X + half + s.X, Y: b.Box.Max.Y + half},
		},
	}
	r.Rise = math.Max(s.Clearance, r.Gap+s.Wall)
	r.Governs = fmt.Sprintf("wall %.4g mm over glue %.4g mm", s.Wall, r.Gap)
	if r.Rise == s.Clearance {
		r.Governs = fmt.Sprintf("running clearance %.4g mm", s.Clearance)
	}
	reach := d.reach()
	low, high := &r.Head.Min.Y, &r.Head.Max.Y
	r.Side = b.side()
	switch r.Side {
	case "edge":
		*high = math.Min(*high+s.Lap+s.Y, reach.Max.Y-s.Wall)
	case "spine":
		*low = math.Max(*low-s.Lap-s.Y, reach.Min.Y+s.Wall)
	default:
		*low, *high = *low+s.Y, *high+s.Y
	}
	if !r.underHandle() {
		r.Head.Min.X = d.Knife.Plan.HandleFront
	}
	return r
}

// underHandle tells whether the strip below or above the handle, from the mouth to the handle's
// front, is thick enough to print.
func (r *RampPiece) underHandle() bool {
	least := r.Knife.Spec.Ramp.Wall
	for _, p := range r.Knife.Plan.Handle.Flatten(1) {
		q := r.Turned(p)
		if q.X < 0 {
			continue
		}
		if q.Y-r.Head.Min.Y < least && r.Side != "spine" || r.Head.Max.Y-q.Y < least && r.Side == "spine" {
			return false
		}
	}
	return true
}

// slides tells whether the piece can be pushed on from its side: in every column the steel is one
// stretch that ends on the far side, and never gets thinner on the way.
func (r *RampPiece) slides() bool {
	if r.Side == "face" {
		return false
	}
	const step = 0.5
	ny := int((r.Head.Max.Y - r.Head.Min.Y) / step)
	for x := r.Head.Min.X + step/2; x < r.Head.Max.X; x += step {
		last := 0.0
		for j := range ny + 1 {
			y := r.Head.Min.Y + float64(j)*step
			if r.Side == "spine" {
				y = r.Head.Max.Y - float64(j)*step
			}
			p := r.Blade(r2.Vec{X: x, Y: y})
			if r.Knife.handle.holds(p) {
				continue
			}
			h := r.Knife.Half(p)
			if h < last-0.02 {
				return false
			}
			last = h
		}
	}
	return true
}

// Turned is p on the draw's axes.
func (r *RampPiece) Turned(p r2.Vec) r2.Vec { return r2.Rotate(p, -radians(r.CantDeg), r2.Vec{}) }

// Blade is a point of the draw's axes on the blade's.
func (r *RampPiece) Blade(q r2.Vec) r2.Vec { return r2.Rotate(q, radians(r.CantDeg), r2.Vec{}) }

// Underside is the height of the cheeks' underside at p, as if p lay in the zone of the blade.
func (r *RampPiece) Underside(on Zone, p r2.Vec) float64 { return r.Knife.HalfOn(on, p) + r.Gap }

// OverSteel is the height of the piece's surface at p, where there is steel of the zone below: the
// envelope raised, within the head, and the drafted sides beyond it.
func (r *RampPiece) OverSteel(on Zone, p r2.Vec) float64 {
	q, out := r.clamp(p)
	return r.Envelope.OverSteel(q, r.Knife.HalfOn(on, q)) + r.Rise - out/r.slope()
}

// OverGap is the height of the piece's surface at p beside the steel.
func (r *RampPiece) OverGap(p r2.Vec) float64 {
	q, out := r.clamp(p)
	return r.Envelope.OverGap(q) + r.Rise - out/r.slope()
}

// slope is the tangent of the draft; a wall without draft is given a tenth of a degree, so that it
// can be felt.
func (r *RampPiece) slope() float64 { return math.Max(tanDeg(r.DraftDeg), 2e-3) }

// Skirt is how far the drafted sides may reach beyond the head.
func (r *RampPiece) Skirt() float64 {
	return (r.Knife.Spec.Blade.Thickness/2 + r.Rise + 0.2) * r.slope()
}

// clamp is the point of the head nearest to p, in the blade's axes, and how far it is.
func (r *RampPiece) clamp(p r2.Vec) (r2.Vec, float64) {
	q := r.Turned(p)
	in := r2.Vec{
		X: math.Min(math.Max(q.X, r.Head.Min.X), r.Head.Max.X),
		Y: math.Min(math.Max(q.Y, r.Head.Min.Y), r.Head.Max.Y),
	}
	if in == q {
		return p, 0
	}
	return r.Blade(in), r2.Norm(r2.Sub(q, in))
}

// Inside is the point of the head nearest to p.
func (r *RampPiece) Inside(p r2.Vec) r2.Vec {
	in, _ := r.clamp(p)
	return in
}

// Base is what lies under p: none beyond the head and its sides and where the handle is, the steel, or
// the gap beside it. Steel and handle are grown by the fit.
type Base int

// The bases.
const (
	NoBase Base = iota
	Steel
	Gap
)

// BaseAt is the base at p.
func (r *RampPiece) BaseAt(p r2.Vec) Base {
	q := r.Turned(p)
	skirt := r.Skirt()
	k := r.Knife
	switch {
	case r.Boss.Length > 0 && r.Boss.Distance(p) < 0:
		return NoBase
	case q.X < r.Head.Min.X || q.X > r.Head.Max.X+skirt || q.Y < r.Head.Min.Y-skirt || q.Y > r.Head.Max.Y+skirt:
		return NoBase
	case k.handle.holds(p) || r.Fit > 0 && k.handleRim != nil && distance(k.handleRim, p) < r.Fit:
		return NoBase
	}
	if in, out := r.clamp(p); out > 0 {
		p = in // a side stands on what the head stands on beside it
	}
	if k.outline.holds(p) || r.Fit > 0 && distance(k.rim, p) < r.Fit {
		return Steel
	}
	return Gap
}

// Creases are the heights, on the draw's axes, of the lines along the draw in which the piece's
// surface is bent.
func (r *RampPiece) Creases() []float64 {
	const bend = 0.03 // mm over a row's distance
	e := r.Envelope
	var found []float64
	for j := range e.rows {
		y := e.y0 + float64(j)*e.dy
		if y <= r.Head.Min.Y || y >= r.Head.Max.Y {
			continue
		}
		for x := r.Head.Min.X; x <= r.Head.Max.X; x += 1 {
			at := func(y float64) float64 { return e.Over(r.Blade(r2.Vec{X: x, Y: y})) }
			if math.Abs(at(y-e.dy)-2*at(y)+at(y+e.dy)) > bend {
				found = append(found, y)
				break
			}
		}
	}
	return found
}

func distance(n interface {
	Nearest(r2.Vec) (r2.Vec, float64)
}, p r2.Vec,
) float64 {
	_, d := n.Nearest(p)
	return d
}
