package profile

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// How near, in degrees, the outline's long axis comes to a direction for that direction to be the
// blade's.
const (
	throatWithinDeg  = 15
	drawingWithinDeg = 7.5
)

// longAxisDeg is the direction of the outline's long axis, from -90 to 90: the main axis of the
// second moments of its area.
func (l Loop) longAxisDeg() float64 {
	c := l.Centroid()
	var xx, yy, xy float64
	pts := l.Flatten(max(0.01, 1e-5*diagonal(Path(l))))
	for i, p := range pts {
		a, b := r2.Sub(p, c), r2.Sub(pts[(i+1)%len(pts)], c)
		k := r2.Cross(a, b) / 24
		xx += 2 * k * (a.X*a.X + a.X*b.X + b.X*b.X)
		yy += 2 * k * (a.Y*a.Y + a.Y*b.Y + b.Y*b.Y)
		xy += k * (2*a.X*a.Y + a.X*b.Y + b.X*a.Y + 2*b.X*b.Y)
	}
	return math.Atan2(2*xy, xx-yy) / 2 / radPerDeg
}

// apartDeg is the angle between two directions without sign, 0 to 90.
func apartDeg(a, b float64) float64 {
	d := math.Abs(normalDeg(a - b))
	return min(d, 180-d)
}

// axis chooses the direction of the blade's axis, still either way round.
func (p *planner) axis() {
	f := &p.plan.Frame
	long := p.profile.Outline.longAxisDeg()
	if p.hints.TipDeg != nil {
		f.AngleDeg = normalDeg(*p.hints.TipDeg)
		f.Axis = "x axis along the direction given for the tip"
		return
	}
	if t := p.mark(Throat); t != nil {
		chord := r2.Sub(t.Path.End(), t.Path.Start())
		across := math.Atan2(chord.Y, chord.X)/radPerDeg + 90
		if apart := apartDeg(across, long); apart <= throatWithinDeg {
			f.AngleDeg = normalDeg(nearQuarter(across))
			f.Axis = fmt.Sprintf("x axis square to the throat line, %.1f deg from the outline's long axis", apart)
			return
		}
		p.warn("the throat line is not square to the outline's long axis within %d deg; the axis was taken from the outline", throatWithinDeg)
	}
	quarter := 90 * math.Round(long/90)
	if apart := apartDeg(quarter, long); apart <= drawingWithinDeg {
		f.AngleDeg = normalDeg(quarter)
		f.Axis = fmt.Sprintf("x axis along an axis of the drawing, %.1f deg from the outline's long axis", apart)
		return
	}
	f.AngleDeg = normalDeg(long)
	f.Axis = "x axis along the outline's long axis, which lies askew in the drawing"
}

// nearQuarter is an angle in degrees, rounded to a quarter turn where it differs only by rounding of
// coordinates.
func nearQuarter(deg float64) float64 {
	if q := 90 * math.Round(deg/90); math.Abs(deg-q) < 1e-6 {
		return q
	}
	return deg
}

// tip decides which end is the tip, and turns the axis that way.
func (p *planner) tip() {
	f := &p.plan.Frame
	if p.hints.TipDeg != nil {
		f.Tip = "tip where it was said to point"
		return
	}
	outline := f.path(Path(p.profile.Outline))
	b := outline.Bounds()
	mid, long := (b.Min.X+b.Max.X)/2, b.Max.X-b.Min.X
	wideLeft, wideRight := endWidth(outline, b.Min.X, long), endWidth(outline, b.Max.X, -long)
	narrow := 1.0
	if wideLeft < wideRight {
		narrow = -1
	}
	side := narrow
	switch {
	case p.mark(Tip) != nil:
		side = math.Copysign(1, f.path(p.mark(Tip).Path).At(0.5).X-mid)
		f.Tip = "tip at the mark on the tip layer"
	case p.mark(Handle) != nil:
		x := f.path(p.mark(Handle).Path).Bounds()
		if at := (x.Min.X+x.Max.X)/2 - mid; p.mark(Handle).Path.Closed() && math.Abs(at) > 0.05*long {
			side = -math.Copysign(1, at)
			f.Tip = "tip at the end away from the handle"
		}
	}
	if f.Tip == "" {
		lo, hi := min(wideLeft, wideRight), max(wideLeft, wideRight)
		f.Tip = fmt.Sprintf("tip at the more pointed end: %.1f mm wide on average over the last %d %% of the length, the other end %.1f mm", lo, 100/endShare, hi)
		if lo > clearlyNarrow*hi || p.squareEnd(outline, b, side) {
			side = p.tipByGrind(outline, lo, hi)
		}
	} else if side != narrow && wideLeft != wideRight {
		p.warn("the tip taken is the blunter end; state the direction of the tip if it is wrong")
	}
	if side < 0 {
		f.AngleDeg = normalDeg(f.AngleDeg + 180)
	}
}

// squareEnd reports whether the outline ends, at the side of its box that side tells, as square as a tang does: nearly as
// wide right at its end as over the last part of the length.
func (p *planner) squareEnd(outline Path, b r2.Box, side float64) bool {
	const (
		right = 0.5  // mm from the end
		share = 0.75 // of the mean width
	)
	x, long := b.Max.X, b.Min.X-b.Max.X
	if side < 0 {
		x, long = b.Min.X, -long
	}
	lo, hi, ok := span(outline, x+math.Copysign(right, long))
	return ok && hi.at.Y-lo.at.Y > share*endWidth(outline, x, long)
}

// clearlyNarrow is the share of the other end's width up to which an end is clearly the pointed one; common practice, no
// source.
const clearlyNarrow = 0.6

// tipByGrind is the end of the outline, as a sign along x, that the grind line lies nearer to, where the ends' widths say
// nothing; where it says nothing either the tip is not settled.
func (p *planner) tipByGrind(outline Path, lo, hi float64) float64 {
	b := outline.Bounds()
	if g := p.mark(Grind); g != nil {
		x := p.plan.Frame.path(g.Path).Bounds()
		at := (x.Min.X + x.Max.X - b.Min.X - b.Max.X) / 2
		if math.Abs(at) > 0.05*(b.Max.X-b.Min.X) {
			p.plan.Frame.Tip = "tip at the end that the grind line lies nearer to"
			return math.Copysign(1, at)
		}
	}
	p.unsettled("which end is the tip: both are nearly as wide (%.1f and %.1f mm); mark it on layer TIP or state drawing.tip, such as \"right\"", lo, hi)
	return 1
}

// endShare is the part of the length, one in so many, over which an end's width is taken: little, so
// that a narrow tang with a square end is wider than a tip.
const endShare = 25

// endWidth is the mean width across x over the last part of the length next to the end at x.
func endWidth(outline Path, x, long float64) float64 {
	const n = 8
	sum := 0.0
	for i := range n {
		at := x + long*(float64(i)+0.5)/(endShare*n)
		lo, hi, ok := span(outline, at)
		if ok {
			sum += hi.at.Y - lo.at.Y
		}
	}
	return sum / n
}

// span is the lowest and the highest place at which the path crosses the line of constant x.
func span(p Path, x float64) (lo, hi place, ok bool) {
	c := p.lineCrossings(r2.Vec{X: x}, r2.Vec{Y: 1})
	if len(c) < 2 {
		return lo, hi, false
	}
	return c[0], c[len(c)-1], true
}

// edge decides which side the cutting edge is on; with the tip to the right and the edge above, the
// drawing shows the left face and is turned over.
func (p *planner) edge() {
	f := &p.plan.Frame
	outline := f.path(Path(p.profile.Outline))
	up := false
	switch {
	case p.hints.EdgeDeg != nil:
		rel := normalDeg(*p.hints.EdgeDeg - f.AngleDeg)
		up = rel > 0
		f.Edge = "edge on the side that was stated"
		if math.Abs(math.Sin(rel*radPerDeg)) < 0.5 {
			p.warn("the direction given for the edge is nearly along the blade")
		}
	case p.mark(Edge) != nil:
		m := f.path(p.mark(Edge).Path).At(0.5)
		lo, hi, ok := span(outline, m.X)
		up = ok && m.Y > (lo.at.Y+hi.at.Y)/2
		f.Edge = "edge on the side of the mark on the edge layer"
	default:
		up = p.edgeByShape(outline)
	}
	if up {
		f.TurnedOver = true
		f.Edge += "; it lay above with the tip to the right, so the drawing shows the left face and was turned over"
	}
}

// edgeByShape decides by the butt end of the grind line where that lies clearly nearer one side, else by a clear notch
// before the blade on one side alone, unless the tip says otherwise: it lies nearer the spine. Nothing else tells.
func (p *planner) edgeByShape(outline Path) (up bool) {
	f := &p.plan.Frame
	if up, found := p.edgeByGrind(outline); found {
		return up
	}
	share := tipShare(outline)
	_, below := notch(outline, false)
	_, above := notch(outline, true)
	deep, other := max(below, above), min(below, above)
	if deep >= clearNotch && deep >= 2*other && (math.Abs(share-0.5) < 0.1 || (above > below) == (share < 0.5)) {
		f.Edge = fmt.Sprintf("edge on the side with a notch of %.1f mm before the blade", deep)
		return above > below
	}
	if p.hints.Edges == 2 {
		f.Edge = "edges on both sides, as stated; the first is the lower one as drawn, with the tip to the right"
		if len(p.hints.Sided) > 0 {
			p.unsettled("which of the two edges is the first, as %s tells them apart: draw a line beside it on layer EDGE, or state drawing.edge, such as \"down\"",
				strings.Join(p.hints.Sided, ", "))
		}
		return false
	}
	p.unsettled("which side the edge is on: draw a line beside it on layer EDGE, or the grind line on layer GRIND, or state drawing.edge, such as \"down\"")
	return share < 0.5
}

// edgeByGrind decides by the butt end of the grind line; those of two edges tell nothing.
func (p *planner) edgeByGrind(outline Path) (up, found bool) {
	g := p.mark(Grind)
	if g == nil || p.hints.Edges == 2 {
		return false, false
	}
	path := p.plan.Frame.path(g.Path)
	end := path.Start()
	if path.End().X < end.X {
		end = path.End()
	}
	lo, hi, ok := span(outline, end.X)
	if !ok {
		return false, false
	}
	share := (end.Y - lo.at.Y) / (hi.at.Y - lo.at.Y)
	if share >= 0.15 && share <= 0.85 {
		return false, false
	}
	p.plan.Frame.Edge = "edge on the side that the butt end of the grind line lies at"
	return share > 0.5, true
}

// tipShare is where the tip lies across the blade's width: 0 at its lower side, 1 at its upper, beyond them where the
// blade bends. Without a blade it is in the middle.
func tipShare(outline Path) float64 {
	b := outline.Bounds()
	lo, hi, ok := span(outline, b.Max.X-0.35*(b.Max.X-b.Min.X))
	if !ok {
		return 0.5
	}
	return (outline.extreme(r2.Vec{X: 1}).at.Y - lo.at.Y) / (hi.at.Y - lo.at.Y)
}
