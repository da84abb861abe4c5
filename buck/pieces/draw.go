package pieces

import (
	"math"

	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Draw is the study of a knife's way out of its sheath: straight, out of the mouth, against x turned
// by the ramp's cant.
//
// Its axes are the blade's turned by that cant. What of the bare knife passes over a point q on its
// way out is the draw envelope, E(q) = max over a >= 0 of h(q - a d), d the direction of the draw: along each row
// of the grid the running maximum of h from the tip back.
type Draw struct {
	Knife    *Buck
	CantDeg  float64
	Envelope *Field // E between the mouth and the tip, the handle left aside
	Binds    []Bind

	steel *Field // h at the same nodes
}

// Bind is one place where the draw is not free without a ramp: connected nodes at which what passes
// is higher than the sheet's inner face would be.
type Bind struct {
	Box     r2.Box  // on the draw's axes
	Deepest float64 // mm, per face
	At      r2.Vec  // where it is deepest, in the blade's axes
	Above   int     // nodes beside the outline that have steel above them, towards the spine
	Below   int     // nodes beside the outline that have steel below them
}

const (
	// drawStep is the distance of the nodes in mm. On a bevel of one in ten with an edge curved to
	// 50 mm radius straight interpolation misses less than 1e-5 mm; along a grind line, 0.005 mm. Derived.
	drawStep = 0.2
	// graze is how far, in mm, the outermost rows stay within the knife, so that they meet the steel
	// that touches its lowest and its highest point.
	graze = 1e-3
	// level is by how much, in mm, what passes must be higher than the sheet's inner face: less than that is the rounding
	// of heights on a bare blade.
	level = 1e-6
	// handleIn is how far within the handle's outline, in mm, its rounded edge is looked at for where the sheet leaves it; one
	// of a larger rounding keeps the sheet no lower than this says. Our own, no source.
	handleIn = 2
	// bindFelt is how deep, in mm on one face, a place may bind and not be felt; common practice, no source.
	bindFelt = 0.05
	// bindLeast is the area in mm2 below which a bind is taken for a rounding of the outline. Our own, no source.
	bindLeast = 1
)

// NewDraw finds where the knife binds between the mouth and the tip, the handle left aside.
func NewDraw(k *Buck) *Draw {
	d := &Draw{Knife: k, CantDeg: k.Spec.Ramp.CantDeg}
	d.steel = newField(d.reach(), drawStep)
	for n := range d.steel.z {
		p := d.blade(d.steel.node(n))
		if k.Outline.Holds(p) && !k.Handle.Holds(p) {
			d.steel.z[n] = k.BladeHalf(p)
		}
	}
	d.Envelope = d.steel.clone()
	d.Envelope.sweep()
	d.Binds = d.binds()
	return d
}

// traced returns the envelope with what stands between the nodes: steel thinner than their distance,
// as the corner of a heel, is put on the nodes round each point of a loop, as high as height says. A
// negative height is none.
func (d *Draw) traced(envelope *Field, loop profile.Loop, height func(p r2.Vec) float64) *Field {
	e := envelope.clone()
	for _, s := range loop {
		steps := math.Ceil(2 * s.Length() / drawStep)
		for i := range int(steps) {
			p := s.At(float64(i) / steps)
			if q := d.turned(p); q.X >= 0 {
				if z := height(p); z >= 0 {
					e.raise(q, z)
				}
			}
		}
	}
	e.sweep()
	return e
}

// passing is the envelope with the outline of the blade on it.
func (d *Draw) passing() *Field {
	return d.traced(d.Envelope, d.Knife.Plan.Outline, func(p r2.Vec) float64 {
		if d.Knife.onHandle(p) {
			return -1
		}
		return d.Knife.BladeHalf(p)
	})
}

// turned is a point of the blade's axes on the draw's.
func (d *Draw) turned(p r2.Vec) r2.Vec { return r2.Rotate(p, -measures.Radians(d.CantDeg), r2.Vec{}) }

// blade is a point of the draw's axes on the blade's.
func (d *Draw) blade(q r2.Vec) r2.Vec { return r2.Rotate(q, measures.Radians(d.CantDeg), r2.Vec{}) }

// reach is the part of the blade within the sheath, on the draw's axes, to a graze from its lowest
// to its highest point.
func (d *Draw) reach() r2.Box {
	box := r2.Box{Min: r2.Vec{X: 0, Y: math.Inf(1)}, Max: r2.Vec{X: drawStep, Y: math.Inf(-1)}}
	for _, p := range d.Knife.Plan.Outline.Flatten(knives.OutlineTolerance / 4) {
		q := d.turned(p)
		if q.X < 0 || d.Knife.onHandle(p) {
			continue
		}
		box.Max.X = max(box.Max.X, q.X)
		box.Min.Y, box.Max.Y = min(box.Min.Y, q.Y), max(box.Max.Y, q.Y)
	}
	box.Min.Y += graze
	box.Max.Y -= graze
	return box
}

// onHandle tells whether p lies in the handle or on its outline.
func (k *Buck) onHandle(p r2.Vec) bool {
	return k.Handle.Holds(p) || distance(&k.HandleRim, p) < 0.1
}

func distance(n *profile.Near, p r2.Vec) float64 {
	_, d := n.Nearest(p)
	return d
}

// binds gathers the nodes that bind, by neighbourhood.
func (d *Draw) binds() []Bind {
	depth := make([]float64, len(d.steel.z))
	side := make([]int8, len(depth))
	for n := range depth {
		depth[n], side[n] = d.depth(n)
	}
	var found []Bind
	for n := range depth {
		if depth[n] <= 0 {
			continue
		}
		b, nodes := d.gather(n, depth, side)
		if float64(nodes)*d.steel.dx*d.steel.dy >= bindLeast {
			found = append(found, b)
		}
	}
	return found
}

// depth is by how much the draw binds at node n, 0 within the grace, and where the steel is of a node
// beside the outline: 1 above it, -1 below, 0 where it is rather ahead or behind.
func (d *Draw) depth(n int) (float64, int8) {
	k, e, h := d.Knife, d.Envelope.z[n], d.steel.z[n]
	if e <= h+level {
		return 0, 0
	}
	p := d.blade(d.steel.node(n))
	switch {
	case k.Handle.Holds(p):
		return 0, 0
	case h > 0:
		return k.counted(e - h - k.TapeAt(p)), 0
	}
	foot, far := k.Rim.Nearest(p)
	side := int8(0)
	switch to := r2.Sub(d.turned(foot), d.turned(p)); {
	case math.Abs(to.Y) < math.Abs(to.X): // behind a guard: the steel is ahead
	case to.Y > 0:
		side = 1
	default:
		side = -1
	}
	return k.counted(e - k.bend(k.BladeHalf(foot)+k.TapeAt(foot), far)), side
}

// felt reports whether a bind that lies wholly beside the handle is one: where the sheet comes down from the handle beside it,
// it may be kept high enough for what passes.
func (d *Draw) felt(b Bind) bool {
	if b.Box.Max.X > d.Knife.Plan.HandleFront {
		return true
	}
	for n, e := range d.Envelope.z {
		q := d.steel.node(n)
		if q.X > b.Box.Max.X || q.Y < b.Box.Min.Y || q.Y > b.Box.Max.Y {
			continue
		}
		if depth, _ := d.depth(n); depth > 0 && d.Knife.counted(e-d.Knife.besideHandle(d.blade(q), e)) > 0 {
			return true
		}
	}
	return false
}

// besideHandle is how high the sheet's inner face is kept at p by the handle, in the sheath, that lies beside it; no more
// is looked for than is enough.
func (k *Buck) besideHandle(p r2.Vec, enough float64) float64 {
	foot, far := k.HandleRim.Nearest(p)
	if r2.Rotate(foot, -measures.Radians(k.Spec.Ramp.CantDeg), r2.Vec{}).X < 0 {
		return 0
	}
	high := 0.0
	for in := 0.0; in <= handleIn && high < enough; in += drawStep {
		high = max(high, k.bend(k.HandleIn(in), far+in))
	}
	return high
}

// counted is a depth, or 0 where it is within the grace.
func (k *Buck) counted(depth float64) float64 {
	if depth <= max(k.Spec.Ramp.Grace, level) {
		return 0
	}
	return depth
}

// TapeAt is the thickness of the tape on one face at p of the blade: it stops short of the tip.
func (k *Buck) TapeAt(p r2.Vec) float64 {
	if r2.Norm(r2.Sub(p, k.Plan.Tip)) < k.Spec.Tape.TipGap {
		return 0
	}
	return k.Spec.Tape.Total()
}

// bend is the height of the sheet's inner face over a point, far mm outside an outline where the
// buck is half mm high: the press cannot make a foot sharper than the sheet's thickness on the
// outside, so the sheet comes down along a ball of twice that, resting on the outline and the middle
// plane.
func (k *Buck) bend(half, far float64) float64 {
	ball := k.Spec.Sheet.Ball()
	half = min(half, ball)
	left := math.Sqrt(half*(2*ball-half)) - far
	if left <= 0 {
		return 0
	}
	return ball - math.Sqrt(ball*ball-left*left)
}

// gather takes the nodes that hang together with node n, and clears them.
func (d *Draw) gather(n int, depth []float64, side []int8) (Bind, int) {
	at := d.steel.node(n)
	b := Bind{Box: r2.Box{Min: at, Max: at}}
	nodes, stack := 0, []int{n}
	for len(stack) > 0 {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if depth[n] <= 0 {
			continue
		}
		nodes++
		q := d.steel.node(n)
		b.take(q, d.blade(q), depth[n], side[n])
		depth[n] = 0
		d.steel.neighbours(n, func(m int, _ float64) { stack = append(stack, m) })
	}
	return b, nodes
}

// take adds a node, q on the draw's axes and p on the blade's.
func (b *Bind) take(q, p r2.Vec, depth float64, side int8) {
	b.Box.Min = r2.Vec{X: min(b.Box.Min.X, q.X), Y: min(b.Box.Min.Y, q.Y)}
	b.Box.Max = r2.Vec{X: max(b.Box.Max.X, q.X), Y: max(b.Box.Max.Y, q.Y)}
	switch side {
	case 1:
		b.Above++
	case -1:
		b.Below++
	}
	if depth > b.Deepest {
		b.Deepest, b.At = depth, p
	}
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

// united are the binds, those whose ramps would be of one side and would overlap taken together: every ramp
// reaches to the mouth.
func united(binds []Bind, lap float64) []Bind {
	var all []Bind
next:
	for _, b := range binds {
		for i := range all {
			if joins(all[i], b) && all[i].Box.Min.Y <= b.Box.Max.Y+2*lap && b.Box.Min.Y <= all[i].Box.Max.Y+2*lap {
				all[i].unite(b)
				continue next
			}
		}
		all = append(all, b)
	}
	return all
}

// joins tells whether one ramp may serve both binds: they are of one side of the knife, or one is on its face.
func joins(a, b Bind) bool {
	return a.side() == b.side() || a.side() == "face" || b.side() == "face"
}

func (b *Bind) unite(c Bind) {
	b.Box.Min = r2.Vec{X: min(b.Box.Min.X, c.Box.Min.X), Y: min(b.Box.Min.Y, c.Box.Min.Y)}
	b.Box.Max = r2.Vec{X: max(b.Box.Max.X, c.Box.Max.X), Y: max(b.Box.Max.Y, c.Box.Max.Y)}
	b.Above, b.Below = b.Above+c.Above, b.Below+c.Below
	if c.Deepest > b.Deepest {
		b.Deepest, b.At = c.Deepest, c.At
	}
}
