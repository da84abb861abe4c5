package profile

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/dxf"
)

// frontLine is the straight line that ends the handle, or the loop whose front it is.
type frontLine struct {
	at, dir r2.Vec // dir points from the edge to the spine
	loop    Loop   // the handle's outline where it is drawn as a loop
}

// x is where the front lies at the height y.
func (f frontLine) x(y float64) float64 {
	if len(f.loop) > 0 {
		if c := Path(f.loop).lineCrossings(r2.Vec{Y: y}, r2.Vec{X: 1}); len(c) > 0 {
			return c[len(c)-1].at.X
		}
		return f.loop.Bounds().Max.X
	}
	return f.at.X + (y-f.at.Y)*f.dir.X/f.dir.Y
}

// acrossDeg is how far from square to the axis, in degrees, a line across the knife may lie.
const acrossDeg = 60

// across is a mark as a straight line from the edge to the spine; false, with a fault, where it lies
// along the knife or beside it.
func (p *planner) across(m *Mark) (frontLine, bool) {
	a, b := m.Path.Start(), m.Path.End()
	if b.Y < a.Y {
		a, b = b, a
	}
	d := r2.Sub(b, a)
	f := frontLine{at: r2.Scale(0.5, r2.Add(a, b)), dir: d}
	if m.Path.Closed() || math.Abs(d.X) > d.Y*math.Tan(acrossDeg*radPerDeg) || d.Y == 0 {
		p.fault(dxf.BadMark, "the mark on layer %s does not run across the knife", m.Layer)
		return f, false
	}
	if c := Path(p.plan.Outline).lineCrossings(f.at, d); len(c) < 2 {
		p.fault(dxf.BadMark, "the mark on layer %s lies beside the outline", m.Layer)
		return f, false
	}
	return f, true
}

// guessedFront is the share of the knife's length, from the butt, at which what else is wrong with a drawing is looked for
// where nothing tells where the handle ends.
const guessedFront = 0.45

// handleFront finds where the handle ends: as stated or as drawn. Elsewhere it is not settled: a notch before the edge lies
// ahead of the handle, mostly, and on 1000 knives drawn at random 20 mm off its front at the median.
func (p *planner) handleFront() {
	w, f := p.plan, &p.plan.Frame
	square := func(x float64) { p.front = frontLine{at: r2.Vec{X: x}, dir: r2.Vec{Y: 1}} }
	long := w.Tip.X - w.Butt.X
	switch m := p.own(Handle); {
	case m != nil && p.hints.NoHandle:
		p.fault(dxf.BadMark, "layer %s shows the handle, and handle.drawn says that it is not drawn", m.Layer)
		square(w.Butt.X)
	case p.hints.HandleFront > 0:
		if p.hints.HandleFront >= long && !p.hints.NoHandle {
			p.fault(dxf.OutOfRange, "the handle's front is said to be %.4g mm from the tip, the knife is %.4g mm long: change handle.front, or say handle.drawn = \"no\" of a blade drawn alone", p.hints.HandleFront, long)
		}
		square(w.Tip.X - p.hints.HandleFront)
		f.Handle = fmt.Sprintf("handle's front %.1f mm from the tip, as stated", p.hints.HandleFront)
	case m != nil && m.Path.Closed():
		p.front = frontLine{loop: counterClockwise(m.Path)}
		f.Handle = "handle as drawn on its layer"
	case m != nil:
		p.front, _ = p.across(m)
		if p.front.dir.Y == 0 {
			square(p.front.at.X)
		}
		f.Handle = "handle's front at the line on its layer; the handle is the outline behind it"
	case p.hints.NoHandle:
		square(w.Butt.X)
		f.Handle = "handle not drawn, as stated: its front lies at the outline's end"
	default:
		square(w.Butt.X + guessedFront*long)
		p.frontGuessed = true
		hint := ""
		if x, rise := notch(Path(w.Outline), false); rise >= clearNotch {
			hint = fmt.Sprintf("; if it begins behind the notch before the edge, state handle.front = %q", figureOf(w.Tip.X-x))
		}
		p.unsettled("where the handle begins: draw its outline or its front on layer HANDLE, or state handle.front, from the tip; where the outline is the blade alone state handle.drawn = \"no\"%s", hint)
	}
}

// throat finds where the sheath's mouth crosses the outline.
func (p *planner) throat() bool {
	w, f := p.plan, &p.plan.Frame
	outline := Path(w.Outline)
	if m := p.own(Throat); m != nil {
		line, ok := p.across(m)
		if !ok {
			return false
		}
		p.throatA, p.throatB = outerCrossings(outline.lineCrossings(line.at, line.dir), m.Path)
		f.Throat = "throat at the line on its layer"
	} else {
		x, ok := p.throatX()
		if !ok {
			return false
		}
		if p.throatA, p.throatB, ok = span(outline, x); !ok {
			p.offKnife()
			return false
		}
		f.Throat = "throat " + p.depth() + ", square to the axis"
	}
	w.ThroatEdge, w.ThroatSpine = p.throatA.at, p.throatB.at
	if mid := (w.ThroatEdge.X + w.ThroatSpine.X) / 2; mid >= w.Tip.X-1 || mid <= w.Butt.X {
		if p.own(Throat) == nil {
			p.offKnife()
			return false
		}
		p.fault(dxf.BadMark, "the throat does not lie between butt and tip")
		return false
	}
	return true
}

// throatX is where the throat lies on the axis when it is not drawn: its depth behind the handle's
// front. The height of the axis is that of the chord there, found in a few rounds.
func (p *planner) throatX() (float64, bool) {
	y := (p.plan.Tip.Y + p.plan.Butt.Y) / 2
	x := 0.0
	for range 8 {
		x = p.front.x(y) - p.hints.ThroatDepth
		lo, hi, ok := span(Path(p.plan.Outline), x)
		if !ok {
			p.offKnife()
			return 0, false
		}
		y = (lo.at.Y + hi.at.Y) / 2
	}
	return x, true
}

// depth says where the throat lies that is not drawn.
func (p *planner) depth() string {
	if d := p.hints.ThroatDepth; d < 0 {
		return fmt.Sprintf("%.4g mm ahead of the handle's front", -d)
	}
	return fmt.Sprintf("%.4g mm behind the handle's front", p.hints.ThroatDepth)
}

// offKnife refuses a throat that the outline does not reach.
func (p *planner) offKnife() {
	p.fault(dxf.OutOfRange, "the throat, %s, would lie off the knife: change throat.depth, below 0 ahead of the front, or draw it on layer THROAT", p.depth())
}

// outerCrossings are the two crossings nearest the ends of the mark that made the line.
func outerCrossings(c []place, m Path) (edge, spine place) {
	a, b := m.Start(), m.End()
	if b.Y < a.Y {
		a, b = b, a
	}
	edge, spine = c[0], c[len(c)-1]
	for _, k := range c {
		if r2.Norm(r2.Sub(k.at, a)) < r2.Norm(r2.Sub(edge.at, a)) {
			edge = k
		}
		if r2.Norm(r2.Sub(k.at, b)) < r2.Norm(r2.Sub(spine.at, b)) {
			spine = k
		}
	}
	if spine.at.Y <= edge.at.Y {
		return c[0], c[len(c)-1]
	}
	return edge, spine
}

// handleRegion is the handle's loop, or the outline behind its front.
func (p *planner) handleRegion() {
	w := p.plan
	if w.Undrawn = p.hints.NoHandle; w.Undrawn {
		return
	}
	if len(p.front.loop) > 0 {
		w.Handle = p.front.loop
		return
	}
	c := Path(w.Outline).lineCrossings(p.front.at, p.front.dir)
	if len(c) < 2 {
		p.fault(dxf.BadMark, "the handle's front does not cross the outline")
		return
	}
	lo, hi := c[0], c[len(c)-1]
	behind := w.Outline.between(hi, lo)
	w.Handle = counterClockwise(append(behind, Segment{A: lo.at, B: hi.at}))
}

// sides are the edge from heel to tip and the spine from throat to tip.
func (p *planner) sides() {
	w := p.plan
	if len(p.faults) > 0 {
		return
	}
	outline := Path(w.Outline)
	tip, heel := outline.placeOf(w.Tip), outline.placeOf(w.Heel)
	if w.Heel.X >= w.Tip.X {
		p.fault(dxf.BadMark, "the heel lies beyond the tip")
		return
	}
	w.Edge = w.Outline.between(heel, tip)
	w.Spine = w.Outline.between(tip, p.throatB).Reversed()
	if p.hints.Edges == 2 {
		p.secondEdge()
	}
	p.swedge()
}
