package profile

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/dxf"
)

// grind takes the grind line from its butt end to its tip end; of a blade with two edges, both.
func (p *planner) grind() {
	var lines []Path
	for _, m := range p.marks {
		if m.Kind != Grind {
			continue
		}
		if m.Path.Closed() {
			p.fault(dxf.BadMark, "the mark on layer %s is closed; the grind line is an open path from the heel to the tip", m.Layer)
			return
		}
		lines = append(lines, forward(m.Path))
	}
	slices.SortStableFunc(lines, func(a, b Path) int { return cmp.Compare(b.Length(), a.Length()) })
	switch w := p.plan; {
	case len(lines) == 0:
	case p.hints.Edges != 2:
		w.Grind = lines[0]
		if a, b := p.opposite(lines); b > a {
			p.unsettled("which edges are ground: layer GRIND has a line from either side of the blade: " +
				"state blade.edges = 2, or draw the line of a false edge on layer SWEDGE")
		}
	default:
		a, b := p.opposite(lines)
		if b <= a {
			b = min(1, len(lines)-1)
		}
		if len(lines) > 2 {
			p.warn("layer %s has %d paths; of those from either side of the blade the longest were taken", p.own(Grind).Layer, len(lines))
		}
		w.Grind, w.GrindBack = lines[a], lines[b]
		if w.Grind.At(0.5).Y > w.GrindBack.At(0.5).Y {
			w.Grind, w.GrindBack = w.GrindBack, w.Grind
		}
		p.joinAtTip()
	}
}

// opposite are the first two of lines that come from either side of the blade; 0, 0 where none do.
func (p *planner) opposite(lines []Path) (a, b int) {
	lines = lines[:min(len(lines), crowd)]
	for a := range lines {
		for b := a + 1; b < len(lines); b++ {
			if p.fromBothSides(lines[a], lines[b]) {
				return a, b
			}
		}
	}
	return 0, 0
}

// fromBothSides reports whether two lines begin about as far from the edge's side of the blade as
// from the spine's, one on either half, as the grind lines of two edges do: within a fifth of the
// width of mirror images, and no nearer than a seventh to each other; common practice, no source.
func (p *planner) fromBothSides(a, b Path) bool {
	var share [2]float64
	for i, line := range []Path{a, b} {
		q := line.Start()
		lo, hi, ok := span(Path(p.plan.Outline), q.X)
		if !ok {
			return false
		}
		share[i] = (q.Y - lo.at.Y) / (hi.at.Y - lo.at.Y)
	}
	return math.Abs(share[0]+share[1]-1) < 1./5 && math.Abs(share[0]-share[1]) > 1./7
}

// forward is a path from its butt end to its tip end.
func forward(p Path) Path {
	if p.Start().X > p.End().X {
		return p.Reversed()
	}
	return p
}

// joinAtTip carries two grind lines that end short of the tip on to where they meet and, as one, to the tip; a single line is
// that of both edges.
func (p *planner) joinAtTip() {
	w := p.plan
	meet := r2.Scale(0.5, r2.Add(w.Grind.End(), w.GrindBack.End()))
	for _, line := range []*Path{&w.Grind, &w.GrindBack} {
		for _, to := range []r2.Vec{meet, w.Tip} {
			if end := line.End(); r2.Norm(r2.Sub(to, end)) > sameWithin {
				*line = append(slices.Clone(*line), Segment{A: end, B: to})
			}
		}
	}
}

// secondEdge is the edge on the other side, from its own heel to the tip.
func (p *planner) secondEdge() {
	w := p.plan
	outline := Path(w.Outline)
	side := w.Outline.between(outline.placeOf(w.Tip), p.throatB)
	_, hi, ok := span(outline, w.Heel.X)
	heel := hi.at
	if len(w.GrindBack) > 0 {
		q := w.GrindBack.Start()
		if heel = side.placeOf(q).at; r2.Norm(r2.Sub(heel, q)) > onOutline {
			_, hi, ok = span(outline, q.X)
			heel = hi.at
		}
	}
	if !ok || heel.X >= w.Tip.X {
		p.fault(dxf.BadMark, "the second edge does not begin between butt and tip")
		return
	}
	w.Back = w.Outline.between(outline.placeOf(w.Tip), outline.placeOf(corner(side, heel))).Reversed()
	w.Frame.Heel += "; the second edge on the other side"
}

// swedge takes the line of a false edge, and the spine that it has come down to.
func (p *planner) swedge() {
	m := p.own(Swedge)
	if m == nil {
		return
	}
	w := p.plan
	outline := Path(w.Outline)
	if p.hints.Edges == 2 || m.Path.Closed() {
		p.fault(dxf.BadMark, "the mark on layer %s is no open path along the spine of a blade with one edge", m.Layer)
		return
	}
	line := forward(m.Path)
	from, to := outline.placeOf(line.Start()), outline.placeOf(line.End())
	if r2.Norm(r2.Sub(from.at, line.Start())) > onOutline || r2.Norm(r2.Sub(to.at, line.End())) > onOutline {
		p.fault(dxf.BadMark, "the line on layer %s does not begin and end on the outline, at the spine or the tip, within %g mm", m.Layer, onOutline)
		return
	}
	edge := w.Outline.between(to, from).Reversed()
	if edge.Length() > 2*line.Length()+1 {
		p.fault(dxf.BadMark, "the line on layer %s does not lie along the spine", m.Layer)
		return
	}
	w.Swedge, w.SwedgeEdge = line, edge
}
