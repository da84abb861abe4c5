package profile

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/dxf"
)

// guard finds from where to where a guard or a bolster lies ahead of the handle. The handle's front is the guard's from then on: what
// is thick begins there.
func (p *planner) guard() {
	w, drawn := p.plan, p.own(Guard)
	switch {
	case drawn == nil && !p.hints.Guard:
		return
	case drawn != nil && !p.hints.Guard:
		p.unsettled("how thick the guard on layer %s is: state guard.thickness", drawn.Layer)
		return
	case drawn == nil && p.hints.GuardFrom == 0:
		p.unsettled("where the guard lies: draw lines across the knife at its ends on layer GUARD, or state guard.from, from the tip back to its front")
		return
	case p.hints.NoHandle:
		p.fault(dxf.BadMark, "a guard lies ahead of a handle that is drawn, and handle.drawn says that it is not")
		return
	}
	behind := p.front.x((w.Tip.Y + w.Butt.Y) / 2)
	front, back := w.Tip.X-p.hints.GuardFrom, behind
	if p.hints.GuardTo > 0 {
		back = w.Tip.X - p.hints.GuardTo
	}
	if drawn != nil {
		back, front = p.guardDrawn(behind)
	}
	const touch = 0.5 // mm
	switch {
	case !(front > back+0.1) || front >= w.Tip.X || back <= w.Butt.X:
		p.fault(dxf.OutOfRange, "the guard's front, %.4g mm from the tip, does not lie ahead of its back, %.4g mm from it", w.Tip.X-front, w.Tip.X-back)
		return
	case back > behind+touch:
		p.fault(dxf.OutOfRange, "there are %.3g mm of blade between the guard's back and the handle's front: guard.to is %.4g mm from the tip there", back-behind, w.Tip.X-behind)
		return
	case len(p.front.loop) > 0 && front > behind+touch:
		p.unsettled("which outline handle and guard have together: draw the handle's front as a line across on layer HANDLE, or state handle.front")
		return
	}
	p.guardX = [2]float64{back, front}
	if len(p.front.loop) == 0 {
		p.front = frontLine{at: r2.Vec{X: front}, dir: r2.Vec{Y: 1}}
	}
	w.Frame.Handle += fmt.Sprintf("; the guard ahead of it from %.4g to %.4g mm from the tip, and its front counts", w.Tip.X-back, w.Tip.X-front)
}

// guardDrawn is from where to where the marks on the guard's layer reach: a single line is its front.
func (p *planner) guardDrawn(behind float64) (back, front float64) {
	back, front = math.Inf(1), math.Inf(-1)
	lines := 0
	for _, m := range p.marks {
		if m.Kind != Guard {
			continue
		}
		b := m.Path.Bounds()
		back, front = min(back, b.Min.X), max(front, b.Max.X)
		if lines++; m.Path.Closed() {
			lines++
		}
	}
	if lines == 1 {
		back = behind
	}
	return back, front
}

// guardRegion is the part of the outline between the guard's ends.
func (p *planner) guardRegion() {
	w, x := p.plan, p.guardX
	if x[1] <= x[0] {
		return
	}
	var ends [2][2]place
	for i := range x {
		lo, hi, ok := span(Path(w.Outline), x[i])
		if !ok {
			p.fault(dxf.BadMark, "the guard does not cross the outline")
			return
		}
		ends[i] = [2]place{lo, hi}
	}
	line := func(a, b place) Path { return Path{{A: a.at, B: b.at}} }
	round := append(w.Outline.between(ends[0][0], ends[1][0]), line(ends[1][0], ends[1][1])...)
	round = append(round, w.Outline.between(ends[1][1], ends[0][1])...)
	w.Guard = counterClockwise(append(round, line(ends[0][1], ends[0][0])...))
}
