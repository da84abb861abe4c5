package pieces

import (
	"math"

	"formbuck/buck/knives"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	// gripLock is how deep, in mm on one face, the handle may bind in the mouth and ask for no filler: a swell or a groove
	// of that depth is the lock that holds the knife, of 0.2 to 0.6 mm on both halves together; common practice, no source.
	gripLock = 0.3
	// gripSlope is the steepest that a filler's surface falls across the draw, as a tangent. A handle's rounded side is
	// steeper than the blade's and as high as the sheet can be pressed; 45 degrees would widen the mouth. Our own, no source.
	gripSlope = 2
)

// grip is the study of the handle within the mouth: as that of the blade, on the draw's axes.
type grip struct {
	*Draw
	half   *Field    // h of the handle; 0 beside it
	own    *Field    // E of the handle alone: what of the blade passes it is no deeper than the ramps ahead of it
	passes *Field    // E of all of the knife
	middle []float64 // of the handle in each column of nodes, y
}

// newGrip looks at the handle from the mouth to its front; nil where none of it is in the sheath.
func newGrip(d *Draw) *grip {
	k := d.Knife
	box := r2.Box{Min: r2.Vec{Y: math.Inf(1)}, Max: r2.Vec{Y: math.Inf(-1)}}
	for _, p := range k.Plan.Handle.Flatten(knives.OutlineTolerance) {
		if q := d.turned(p); q.X > 0 {
			box.Max.X = max(box.Max.X, q.X)
			box.Min.Y, box.Max.Y = min(box.Min.Y, q.Y), max(box.Max.Y, q.Y)
		}
	}
	if box.Max.X < drawStep {
		return nil
	}
	box.Min.Y, box.Max.Y = box.Min.Y-2, box.Max.Y+2 // the mouth's own corners lie in the sides that are cut
	g := &grip{Draw: d, half: newField(box, drawStep)}
	for n := range g.half.z {
		if p := d.blade(g.half.node(n)); k.Handle.Holds(p) {
			g.half.z[n] = k.Half(p)
		}
	}
	g.own = g.half.clone()
	g.own.sweep()
	e := g.half.clone()
	for n := range e.z {
		q := e.node(n)
		if b := d.Envelope.box; q.Y >= b.Min.Y && q.Y <= b.Max.Y {
			e.z[n] = max(e.z[n], d.Envelope.at(q))
		}
	}
	e.sweep()
	g.passes = e
	g.middles()
	return g
}

// middles finds the handle's middle across the draw in each column; beyond the handle it goes on as it is.
func (g *grip) middles() {
	f := g.half
	g.middle = make([]float64, f.nx+1)
	last := (f.box.Min.Y + f.box.Max.Y) / 2
	for i := range g.middle {
		low, high := math.Inf(1), math.Inf(-1)
		for j := range f.ny + 1 {
			if n := j*(f.nx+1) + i; f.z[n] > 0 {
				low, high = min(low, f.node(n).Y), max(high, f.node(n).Y)
			}
		}
		if low <= high {
			last = (low + high) / 2
		}
		g.middle[i] = last
	}
}

// under is how high the sheet's inner face is at node n of the handle, or beside it: no less than what passes where the
// blade or nothing is near.
func (g *grip) under(n int) float64 {
	k, h := g.Knife, g.half.z[n]
	p := g.blade(g.half.node(n))
	if k.Guard.Holds(p) {
		return math.Inf(1) // a filler stands on the handle behind it
	}
	if h > 0 || g.own.z[n] == 0 {
		return h
	}
	if k.Outline.Holds(p) {
		return math.Inf(1) // the blade ahead of the handle: the ramps' concern
	}
	if _, far := k.HandleRim.Nearest(p); distance(&k.Rim, p) < far {
		return math.Inf(1) // beside the blade
	}
	return k.besideHandle(p, math.Inf(1))
}

// depths are by how much the draw binds at each node; 0 where that is not felt. A wall of the sheath gives way by a node to
// either side.
func (g *grip) depths() []float64 {
	stride := g.half.nx + 1
	under := make([]float64, len(g.half.z))
	for n := range under {
		under[n] = g.under(n)
	}
	depth := make([]float64, len(under))
	for n, e := range g.own.z {
		high := under[n]
		if n >= stride {
			high = max(high, under[n-stride])
		}
		if n+stride < len(under) {
			high = max(high, under[n+stride])
		}
		if d := e - high; d > max(g.Knife.Spec.Ramp.Grace, bindFelt) {
			depth[n] = d
		}
	}
	return depth
}

// binds are what binds on the handle's edge side and on its spine side: each all of it, as every filler reaches to the mouth.
func (g *grip) binds() (edge, spine *Bind) {
	f := g.half
	depth := g.depths()
	above := make([]bool, len(f.z))
	for n := range depth {
		above[n] = f.node(n).Y > g.middle[n%(f.nx+1)]
	}
	for n := range depth {
		if depth[n] <= 0 {
			continue
		}
		b, nodes := g.gatherGrip(n, depth, above)
		if float64(nodes)*f.dx*f.dy < bindLeast {
			continue
		}
		into := &edge
		if above[n] {
			into = &spine
		}
		if *into == nil {
			*into = &b
		} else {
			(*into).unite(b)
		}
	}
	return edge, spine
}

// gatherGrip takes the nodes that hang together with node n on its side of the middle, and clears them.
func (g *grip) gatherGrip(n int, depth []float64, above []bool) (Bind, int) {
	at := g.half.node(n)
	b := Bind{Box: r2.Box{Min: at, Max: at}}
	nodes, stack, on := 0, []int{n}, above[n]
	for len(stack) > 0 {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if depth[n] <= 0 || above[n] != on {
			continue
		}
		nodes++
		q := g.half.node(n)
		b.take(q, g.blade(q), depth[n], 0)
		depth[n] = 0
		g.half.neighbours(n, func(m int, _ float64) { stack = append(stack, m) })
	}
	return b, nodes
}

// fillers are the ramps that stand on the handle, where it lies in the sheath and binds there: from the mouth to
// where it binds deepest in the sheath, over its side and, by the lap, over its face. What of the blade passes beside the
// handle they are raised over too, so that the ramps ahead of them may end there.
func (d *Draw) fillers(ramps []*RampPiece) []*RampPiece {
	g := newGrip(d)
	if g == nil {
		return nil
	}
	passes := g.passing().covered(gripSlope)
	var all []*RampPiece
	edge, spine := g.binds()
	for side, b := range []*Bind{edge, spine} {
		if b == nil || b.Deepest <= gripLock {
			continue
		}
		f := g.filler(*b, side == 1)
		f.passes = passes
		f.meet(ramps)
		all = append(all, f)
	}
	if len(all) > 1 {
		all[0].keepFrom(all[1], edge.Box.Max.Y, spine.Box.Min.Y)
	}
	return all
}

// passing is what passes, with the outline of the handle on it.
func (g *grip) passing() *Field {
	return g.traced(g.passes, g.Knife.Plan.Handle, g.Knife.rimHalf)
}

// rimHalf is the half thickness at a point of the handle's outline: the handle's, or the guard's.
func (k *Buck) rimHalf(p r2.Vec) float64 {
	const little = 0.01 // mm; our own, no source
	for _, d := range [4]r2.Vec{{X: little}, {X: -little}, {Y: little}, {Y: -little}} {
		if k.Guard.Holds(r2.Add(p, d)) {
			return k.Spec.Guard.Thickness / 2
		}
	}
	return k.HandleIn(0)
}

// filler lays the head over what binds on a side of the handle.
func (g *grip) filler(b Bind, spine bool) *RampPiece {
	s := g.Knife.Spec.Ramp
	const half = drawStep / 2
	r := &RampPiece{
		Knife: g.Knife, CantDeg: g.CantDeg, Side: "edge", Grip: true, Boss: g.Knife.bossRoom(), Drain: g.Knife.drain(),
		Gap: s.Glue + s.Fit, Fit: s.Fit, DraftDeg: s.DraftDeg,
		Deepest: b.Deepest, DeepAt: b.At,
		Head: r2.Box{
			Min: r2.Vec{X: 0, Y: b.Box.Min.Y - half},
			Max: r2.Vec{X: b.Box.Max.X + half, Y: b.Box.Max.Y + half},
		},
	}
	r.raised()
	low, high := math.Inf(1), math.Inf(-1) // of the handle's middle beside the piece
	for i, y := range g.middle {
		if float64(i)*g.half.dx <= r.Head.Max.X {
			low, high = min(low, y), max(high, y)
		}
	}
	if spine {
		r.Side = "spine"
		r.Head.Min.Y = max(r.Head.Min.Y-s.Lap, (low+high)/2+piecesApart/2+r.Skirt())
	} else {
		r.Head.Max.Y = min(r.Head.Max.Y+s.Lap, (low+high)/2-piecesApart/2-r.Skirt())
	}
	return r
}

// meet ends the ramps beside the handle where the filler begins, which goes on for them.
func (r *RampPiece) meet(ramps []*RampPiece) {
	ends := r.Head.Max.X + r.Skirt() + piecesApart
	for _, o := range ramps {
		wide := o.Skirt() + r.Skirt() + piecesApart
		if o.Head.Min.X >= ends || o.Head.Max.Y+wide <= r.Head.Min.Y || o.Head.Min.Y-wide >= r.Head.Max.Y {
			continue
		}
		if o.Side == "edge" {
			r.Head.Min.Y = min(r.Head.Min.Y, o.Head.Min.Y)
		} else if o.Side == "spine" {
			r.Head.Max.Y = max(r.Head.Max.Y, o.Head.Max.Y)
		}
		o.Head.Min.X = ends
	}
}
