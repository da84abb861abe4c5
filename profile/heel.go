package profile

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/dxf"
)

// onOutline is how near, in mm, the grind line's butt end comes to the outline to end on it.
const onOutline = 1.0

// heel is the butt end of the edge, where the bevel begins: where the grind line begins, carried over to the edge; else as
// stated, or where the outline tells. Where nothing tells it is not settled.
func (p *planner) heel() {
	w, f := p.plan, &p.plan.Frame
	if len(w.Grind) > 0 {
		at, ok := p.heelBy(w.Grind.Start())
		if !ok {
			p.fault(dxf.BadMark, "the grind line begins beyond the outline")
			return
		}
		w.Heel = at
		f.Heel = "heel at the butt end of the grind line"
		return
	}
	x, how := p.plunge()
	lo, _, ok := span(Path(w.Outline), x)
	if !ok {
		p.fault(dxf.OutOfRange, "the bevel, said by blade.plunge to begin %.4g mm from the tip, would begin off the knife", w.Tip.X-x)
		return
	}
	w.Heel = corner(p.edgeSide(), lo.at)
	f.Heel = how
}

// edgeSide is the outline from the throat to the tip along the edge.
func (p *planner) edgeSide() Path {
	return p.plan.Outline.between(p.throatA, Path(p.plan.Outline).placeOf(p.plan.Tip))
}

// heelBy is where a grind line that begins at q leaves the edge.
func (p *planner) heelBy(q r2.Vec) (at r2.Vec, ok bool) {
	side := p.edgeSide()
	at = side.placeOf(q).at
	if r2.Norm(r2.Sub(at, q)) > onOutline {
		lo, _, ok := span(Path(p.plan.Outline), q.X)
		if !ok {
			return at, false
		}
		at = lo.at
	}
	return corner(side, at), true
}

// plunge is the x at which the bevel begins where no grind line is drawn, and how it was found.
func (p *planner) plunge() (x float64, how string) {
	w := p.plan
	if d := p.hints.Plunge; d > 0 {
		return w.Tip.X - d, fmt.Sprintf("heel and plunge %.4g mm from the tip, as stated", d)
	}
	front := p.front.x(p.throatA.at.Y)
	if len(p.front.loop) > 0 {
		front = p.front.loop.Bounds().Max.X
	}
	if at, found := p.choil(front + heelAhead); found && !p.frontGuessed {
		how = fmt.Sprintf("no grind line is drawn: heel and plunge taken at the corner where the edge comes down, %.1f mm from the tip", w.Tip.X-at.X)
		p.warn("%s; draw it on layer GRIND or state blade.plunge if the bevel begins elsewhere", how)
		return at.X, how
	}
	const ask = "where the bevel begins: draw the grind line on layer GRIND, or state blade.plunge, from the tip back to there"
	if at, found := p.choil(front); found && !p.frontGuessed {
		p.unsettled("%s; if it begins at the corner beside the handle's front, state blade.plunge = %q", ask, figureOf(w.Tip.X-at.X))
	} else {
		p.unsettled(ask)
	}
	return front, ""
}

// How the outline tells where the edge begins: ahead of the handle it comes down by a step, at a corner, and goes on at
// that height; common practice, no source.
const (
	heelStep   = leastNotch     // mm
	heelAhead  = 2.5            // mm ahead of the handle's front: a step nearer to it is the handle's shoulder
	heelTurn   = 15 * radPerDeg // of the corner
	heelWithin = 0.4            // of the blade's length
	heelRun    = 8.0            // mm of edge ahead of the corner
	heelRise   = 0.8            // of the step, by which that may come up again: more is a guard
)

// choil is the first corner of the edge side ahead of an x, the handle's front, at which it has come down from what lies
// between.
func (p *planner) choil(front float64) (r2.Vec, bool) {
	tip, outline := p.plan.Tip.X, Path(p.plan.Outline)
	top := math.Inf(-1)
	side := p.edgeSide()
	for i, s := range side[:max(0, len(side)-1)] {
		at := s.B
		if at.X > front+heelWithin*(tip-front) {
			break
		}
		for _, q := range (Path{s}).Flatten(0.05) {
			if q.X > front {
				top = max(top, q.Y)
			}
		}
		if at.X > front && top-at.Y >= heelStep && angle(s.Tangent(1), side[i+1].Tangent(0)) > heelTurn && staysDown(outline, at, at.Y+heelRise*(top-at.Y)) {
			return at, true
		}
	}
	return r2.Vec{}, false
}

// staysDown reports whether the lower side of the outline does not come up again to a height right ahead of a point.
func staysDown(outline Path, at r2.Vec, y float64) bool {
	for d := 0.5; d <= heelRun; d += 0.5 {
		if lo, _, ok := span(outline, at.X+d); !ok || lo.at.Y > y {
			return false
		}
	}
	return true
}

// corner is the corner of the path within onOutline of a point, where there is one.
func corner(p Path, at r2.Vec) r2.Vec {
	const sharp = 15 * radPerDeg
	best, bestD := at, onOutline
	for i := range p[:max(0, len(p)-1)] {
		d := r2.Norm(r2.Sub(p[i].B, at))
		if d <= bestD && math.Abs(angle(p[i].Tangent(1), p[i+1].Tangent(0))) > sharp {
			best, bestD = p[i].B, d
		}
	}
	return best
}
