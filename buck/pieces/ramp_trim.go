package pieces

import (
	"math"

	"formbuck/buck/knives"

	"gonum.org/v1/gonum/spatial/r2"
)

// Trim is a part of the plan that a ramp does without.
type Trim struct {
	Loop   []r2.Vec // closed, in the blade's axes
	Beside bool     // only what lies beside the steel goes; the cheeks stay

	in knives.Patch
}

// Holds reports whether p lies in the part.
func (t *Trim) Holds(p r2.Vec) bool { return t.in.Holds(p) }

const (
	idleStep = 0.2  // mm between the rows that are looked at; our own, no source
	idleJump = 1.0  // mm by which the steel's far side leaves its place from row to row: a corner or a tip lies between; our own, no source
	idleIn   = 0.3  // mm by which the near side of what is idle lies within the steel; our own, no source
	idleOut  = 0.4  // mm by which what is idle stands out beside the steel: less is a bead's width and left; our own, no source
	idleArea = 0.5  // mm2: what is idle and smaller is left as it is; common practice, no source
	idleFar  = 1000 // mm: beyond any knife; our own, no source
)

// trimIdle takes from the ramp what serves nothing beside the steel: where nothing of the knife passes, as ahead of the
// blade's own outline, and what lies beyond the far side of the blade.
//
// The outline is the knife's. What binds is never taken: one ramp may serve both sides.
func (d *Draw) trimIdle(r *RampPiece, outline []r2.Vec) {
	over := []r2.Vec{{X: 1}}
	switch r.Side {
	case "edge":
		over = append(over, r2.Vec{Y: 1})
	case "spine":
		over = append(over, r2.Vec{Y: -1})
	}
	for _, way := range over {
		t := &Trim{Beside: true, Loop: r.beyondSteel(outline, d.Envelope.box, way)}
		if t.Loop == nil {
			continue
		}
		t.in = knives.NewPatch(t.Loop)
		if r.takes(t) >= idleArea && !d.feltWhere(func(p r2.Vec) bool { return t.Holds(p) && r.BaseAt(p) == Gap }) {
			r.Trims = append(r.Trims, t)
		}
	}
}

// feltWhere reports whether anything is felt to bind in a part of the plan.
func (d *Draw) feltWhere(in func(p r2.Vec) bool) bool {
	cells := 0
	for n := range d.steel.z {
		if d.Envelope.z[n] <= d.steel.z[n]+bindFelt {
			continue
		}
		if p := d.blade(d.steel.node(n)); in(p) {
			if deep, _ := d.depth(n); deep > bindFelt {
				cells++
			}
		}
	}
	return float64(cells)*d.steel.dx*d.steel.dy >= roomLeast
}

// takes is the area, in mm2, that a part would take from the head where that stands out.
func (r *RampPiece) takes(t *Trim) float64 {
	cells := 0
	for x := r.Head.Min.X + idleStep/2; x < r.Head.Max.X; x += idleStep {
		for y := r.Head.Min.Y + idleStep/2; y < r.Head.Max.Y; y += idleStep {
			if p := r.Blade(r2.Vec{X: x, Y: y}); t.Holds(p) && r.BaseAt(p) == Gap && distance(&r.Knife.Rim, p) > idleOut {
				cells++
			}
		}
	}
	return float64(cells) * idleStep * idleStep
}

// beyondSteel is the part of the plan beyond which no steel follows, the way given on the draw's axes: in every row across it
// what lies past the last of the steel. Its near side runs within the steel but where the last of the steel jumps from
// row to row: there it goes straight along the row. Rows past the steel are as the last one with any.
func (r *RampPiece) beyondSteel(outline []r2.Vec, reach r2.Box, way r2.Vec) []r2.Vec {
	// axes along the way: u along it, v across
	across := r2.Vec{X: -way.Y, Y: way.X}
	var turned []r2.Vec
	for _, p := range outline {
		q := r.Turned(p)
		turned = append(turned, r2.Vec{X: r2.Dot(q, way), Y: r2.Dot(q, across)})
	}
	steel := knives.NewPatch(turned)
	low, high := spanOf(reach, across)
	last := func(v float64) (in, far float64) {
		in, far, middle := lastStretch(&steel, min(max(v, low+graze), high-graze))
		if v <= low+graze || v >= high-graze {
			in = middle // of the outermost steel, so that no wedge is left between it and what is past it
		}
		return in, far
	}
	from, to := spanOf(r.Head, across)
	room := r.Skirt() + 1
	from, to = from-room, to+room
	var near []r2.Vec
	add := func(v, u float64) { near = append(near, r2.Vec{X: u, Y: v}) }
	was, wasFar := last(from)
	add(from, was)
	for v := from; v < to; {
		next := min(v+idleStep, to)
		for _, end := range [2]float64{low + graze, high - graze} {
			if v < end && end < next {
				next = end // a chord from the row before to one past the steel would leave a wedge beside it
			}
		}
		in, far := last(next)
		if math.Abs(far-wasFar) > idleJump {
			x, y := v, next
			for range 40 {
				if mid := (x + y) / 2; func() bool { _, f := last(mid); return math.Abs(f-wasFar) <= math.Abs(f-far) }() {
					x = mid
				} else {
					y = mid
				}
			}
			before, _ := last(x)
			after, _ := last(y)
			add(x, before)
			add(x, after)
		}
		add(next, in)
		v, wasFar = next, far
	}
	near = append(near, r2.Vec{X: idleFar, Y: to}, r2.Vec{X: idleFar, Y: from})
	loop := make([]r2.Vec, len(near))
	for i, t := range near {
		loop[i] = r.Blade(r2.Add(r2.Scale(t.X, way), r2.Scale(t.Y, across)))
	}
	return loop
}

const (
	thinShare = 0.75 // of the least wall: what is narrower is a whisker that breaks off, however a cell falls on its sides; our own, no source
	thinLong  = 1.5  // mm: a shorter one is the end of a corner; our own, no source
	thinCost  = 1    // mm2 of what is wide enough that a cut may take with it; common practice, no source
)

// trimThin takes from the ramp what in the plan is thinner than the least wall and long. It reports whether anything was.
func (r *RampPiece) trimThin() bool {
	p := r.cells(true)
	wide := int(thinShare * r.Knife.Spec.Ramp.Wall / partStep)
	if wide < 2 {
		return false
	}
	thick := make([]bool, len(p.full)) // part of a square that is all full
	for n := range p.full {
		if i, j := n%p.nx, n/p.nx; all(p.full, p.nx, p.ny, i, j, wide) {
			for v := range wide {
				for u := range wide {
					thick[n+v*p.nx+u] = true
				}
			}
		}
	}
	was := len(r.Trims)
	for n := range p.full {
		if !p.full[n] || thick[n] {
			continue
		}
		box, cells := p.gather(n, thick)
		if r2.Norm(r2.Sub(box.Max, box.Min)) < thinLong {
			continue
		}
		taken := 0
		for m := range p.full {
			if q := p.at(m); thick[m] && q.X > box.Min.X && q.X < box.Max.X && q.Y > box.Min.Y && q.Y < box.Max.Y {
				taken++
			}
		}
		if cost := float64(taken) * partStep * partStep; cost <= thinCost && cost <= float64(cells)*partStep*partStep {
			r.Trims = append(r.Trims, r.trimBox(box))
		}
	}
	return len(r.Trims) > was
}

// gather is the box round the cells that are full and not thick and hang together with one, which it clears, and how many
// they are.
func (p *rampPlan) gather(n int, thick []bool) (box r2.Box, cells int) {
	box = r2.Box{Min: p.at(n), Max: p.at(n)}
	for stack := []int{n}; len(stack) > 0; {
		m := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if !p.full[m] || thick[m] {
			continue
		}
		p.full[m] = false
		cells++
		q := p.at(m)
		box.Min = r2.Vec{X: min(box.Min.X, q.X), Y: min(box.Min.Y, q.Y)}
		box.Max = r2.Vec{X: max(box.Max.X, q.X), Y: max(box.Max.Y, q.Y)}
		for _, d := range [4]int{-1, 1, -p.nx, p.nx} {
			if o := m + d; o >= 0 && o < len(p.full) && (d*d > 1 || o/p.nx == m/p.nx) {
				stack = append(stack, o)
			}
		}
	}
	half := r2.Vec{X: partStep / 2, Y: partStep / 2}
	return r2.Box{Min: r2.Sub(box.Min, half), Max: r2.Add(box.Max, half)}, cells
}

// trimBox is a box of the draw's axes that goes, with the drafted side beyond it where it lies at one of the head's.
func (r *RampPiece) trimBox(b r2.Box) *Trim {
	room := r.Skirt() + 1
	if b.Max.X > r.Head.Max.X-2*partStep {
		b.Max.X = r.Head.Max.X + room
	}
	if b.Min.X < r.Head.Min.X+2*partStep {
		b.Min.X = r.Head.Min.X - room
	}
	if b.Max.Y > r.Head.Max.Y-2*partStep {
		b.Max.Y = r.Head.Max.Y + room
	}
	if b.Min.Y < r.Head.Min.Y+2*partStep {
		b.Min.Y = r.Head.Min.Y - room
	}
	t := &Trim{}
	for _, q := range b.Vertices() {
		t.Loop = append(t.Loop, r.Blade(q))
	}
	t.in = knives.NewPatch(t.Loop)
	return t
}

// whole are the ramp's parts, none with a whisker.
func (r *RampPiece) whole(needed func(r2.Box) bool) []*RampPiece {
	var all []*RampPiece
	for _, p := range r.parts(needed) {
		if p.trimThin() {
			all = append(all, p.parts(needed)...)
		} else {
			all = append(all, p)
		}
	}
	return all
}

// spanOf is how far a box reaches along an axis.
func spanOf(b r2.Box, axis r2.Vec) (low, high float64) {
	low, high = r2.Dot(b.Min, axis), r2.Dot(b.Max, axis)
	return min(low, high), max(low, high)
}

// lastStretch is the far end of the last stretch of a polygon along the row at y, towards greater x, and a place shortly before it:
// no further back than the stretch's middle, which comes third.
func lastStretch(p *knives.Patch, y float64) (in, far, middle float64) {
	at := p.Crossings(y)
	if len(at) < 2 {
		return -idleFar, -idleFar, -idleFar
	}
	far = at[len(at)-1]
	middle = (at[len(at)-2] + far) / 2
	return max(far-idleIn, middle), far, middle
}

// trimmed reports whether p, beside the steel or over it, lies in a part that the ramp does without.
func (r *RampPiece) trimmed(p r2.Vec, beside bool) bool {
	for _, t := range r.Trims {
		if (beside || !t.Beside) && t.Holds(p) {
			return true
		}
	}
	return false
}

// TrimLines are the lines, in the blade's axes, along which the trims end beside the steel.
func (r *RampPiece) TrimLines() [][2]r2.Vec {
	var lines [][2]r2.Vec
	for _, t := range r.Trims {
		for i, a := range t.Loop {
			b := t.Loop[(i+1)%len(t.Loop)]
			if m := r2.Scale(0.5, r2.Add(a, b)); t.Beside && r.OnSteel(a) && r.OnSteel(b) && r.OnSteel(m) {
				continue
			}
			lines = append(lines, [2]r2.Vec{a, b})
		}
	}
	return lines
}
