package profile

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/dxf"
)

// Plan turns the profile into the blade frame and finds its landmarks.
//
// What is drawn goes before what is judged, and what h states before both. How each thing was found
// is said in the plan's frame. The error is a dxf.Faults: no outline, a mark that cannot be what it says, a
// hint that the knife has no room for, and whatever places a piece and neither the drawing nor h tells, all at once.
func (p *Profile) Plan(h Hints) (*Plan, error) {
	if len(p.Outline) == 0 {
		return nil, dxf.Faults{{File: p.File, Class: dxf.NoOutline, What: "there is no outline to plan from"}}
	}
	w := &planner{profile: p, hints: h, plan: &Plan{}}
	w.axis()
	w.tip()
	w.edge()
	w.turn()
	w.landmarks()
	w.plan.Warnings = append(w.plan.Warnings, w.warnings...)
	slices.SortStableFunc(w.faults, func(a, b *dxf.Fault) int { return order(a) - order(b) })
	if err := w.faults.Err(); err != nil {
		return nil, err
	}
	return w.plan, nil
}

// order puts what is wrong before what is only not settled.
func order(f *dxf.Fault) int {
	if f.Class == dxf.Unsettled {
		return 1
	}
	return 0
}

// planner is the state of one Plan.
type planner struct {
	profile  *Profile
	hints    Hints
	plan     *Plan
	marks    []Mark // in the blade frame, once it is known
	warnings []Warning
	faults   dxf.Faults

	front   frontLine
	throatA place      // edge side
	throatB place      // spine side
	guardX  [2]float64 // back and front of the guard; alike where there is none

	frontGuessed bool // the handle's front is not known, which was told
}

func (p *planner) warn(format string, args ...any) {
	p.warnings = append(p.warnings, Warning{What: fmt.Sprintf(format, args...)})
}

func (p *planner) fault(c dxf.Class, format string, args ...any) {
	p.faults = append(p.faults, &dxf.Fault{File: p.profile.File, Class: c, What: fmt.Sprintf(format, args...)})
}

// unsettled refuses to guess: what is not known, and what settles it.
func (p *planner) unsettled(format string, args ...any) { p.fault(dxf.Unsettled, format, args...) }

// mark is the drawing's mark of a kind, in its axes: of several the longest; nil for none.
func (p *planner) mark(k MarkKind) *Mark { return longestMark(p.profile.Marks, k) }

// own is mark in the blade frame.
func (p *planner) own(k MarkKind) *Mark { return longestMark(p.marks, k) }

func longestMark(marks []Mark, k MarkKind) *Mark {
	var best *Mark
	for i := range marks {
		m := &marks[i]
		if m.Kind == k && (best == nil || m.Path.Length() > best.Path.Length()) {
			best = m
		}
	}
	return best
}

// turn brings everything into the blade's directions; the origin follows once the throat is known.
func (p *planner) turn() {
	f := p.plan.Frame
	p.plan.Outline = f.loop(p.profile.Outline.thinned())
	for _, h := range p.profile.Holes {
		p.plan.Holes = append(p.plan.Holes, f.loop(h))
	}
	count := map[MarkKind]int{}
	for _, m := range p.profile.Marks {
		m.Path = f.path(m.Path)
		p.marks = append(p.marks, m)
		if count[m.Kind]++; count[m.Kind] == 2 && m.Kind != Guard && !(m.Kind == Grind && p.hints.Edges == 2) {
			p.warn("layer %s has more than one path; the longest was taken", m.Layer)
		}
	}
}

// landmarks finds everything on the turned outline, then shifts it to the origin.
func (p *planner) landmarks() {
	w := p.plan
	path := Path(w.Outline)
	w.Tip = p.tipPoint()
	w.Butt = path.extreme(r2.Vec{X: -1}).at
	p.handleFront()
	p.guard()
	if !p.throat() {
		return
	}
	p.handleRegion()
	p.guardRegion()
	p.grind()
	p.heel()
	p.sides()
	p.shift()
}

// shift moves everything so that the origin lies in the middle of the throat's chord.
func (p *planner) shift() {
	w := p.plan
	o := r2.Scale(0.5, r2.Add(w.ThroatEdge, w.ThroatSpine))
	move := Frame{Origin: o}
	back := w.Frame // origin still that of the drawing
	w.Frame.Origin = back.ToDrawing(o)
	w.Outline, w.Handle, w.Guard = move.loop(w.Outline), move.loop(w.Handle), move.loop(w.Guard)
	for i := range w.Holes {
		w.Holes[i] = move.loop(w.Holes[i])
	}
	for _, path := range []*Path{&w.Grind, &w.GrindBack, &w.Edge, &w.Back, &w.Spine, &w.Swedge, &w.SwedgeEdge} {
		*path = move.path(*path)
	}
	for _, v := range []*r2.Vec{&w.Tip, &w.Heel, &w.Butt, &w.ThroatSpine, &w.ThroatEdge} {
		*v = r2.Sub(*v, o)
	}
	w.HandleFront = p.front.x(o.Y) - o.X
}
