package paper

import (
	"fmt"
	"math"
	"slices"

	"formbuck/buck/paper/drawing"
	"formbuck/mesh"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Part is a printed piece as it is drawn by itself.
type Part struct {
	Title string
	Mesh  *mesh.Mesh // where it sits on the knife, or with its axis along x
	Left  bool       // it lies on the left face, and is seen from there
	Notes []string   // what governs its measures, and what to check
	Marks []Mark     // its governing measures, beside its overall ones
}

// Mark is a measure that is stated on one of the views.
type Mark struct {
	On       View
	From, To r3.Vec
	Off      float64 // of the dimension's line, to the left of the way, mm
	What     string  // after the length
}

// View is one of the three in which a piece is drawn.
type View int

// The views.
const (
	Plan View = iota
	Side
	End
)

const (
	viewGap   = 4.0   // between what is drawn of two views, mm
	noteWide  = 105.0 // of the notes' lines, at the most
	noteLine  = 4.2   // from one of them to the next
	leastNote = 55.0  // of lines beside the views, at the least
	longPart  = 90.0  // pieces no shorter have their notes beside the views
	widest    = 240.0 // of views and notes together: a page of any paper that lies
	small     = 12.0  // pieces no longer than this, mm, are drawn larger
	larger    = 5.0
)

// Draw draws the piece in three views with its measures: at 1:1, and a very small one 5:1.
func (p Part) Draw() *drawing.Drawing {
	box := p.Mesh.Bounds()
	s := sheet{scale: 1, title: p.Title + ", 1:1"}
	if size := box.Size(); max(size.X, size.Y, size.Z) < small {
		s.scale, s.title = larger, fmt.Sprintf("%s, %.0f:1", p.Title, larger)
	}
	s.views = []axes{planView, sideView, endView}
	if p.Left {
		for i := range s.views {
			s.views[i] = s.views[i].turned()
		}
	}
	for i, v := range s.views {
		s.low[i], s.high[i] = spread(p.Mesh, v)
		s.drawn[i] = drawing.New(s.title, r2.Vec{})
		var paths []profile.Path
		for _, l := range lines(p.Mesh, v) {
			paths = append(paths, profile.Polyline(s.place(i, l[0]), s.place(i, l[1])))
		}
		s.drawn[i].Stroke(drawing.Pen{Width: 0.25}, paths...)
	}
	s.overall(p.Marks)
	for _, m := range p.Marks {
		s.mark(m, p.Left)
	}
	return s.joined(p.Notes, box.Size().X*s.scale >= longPart)
}

// sheet is a piece in three views, each with its measures and with its lower left corner in the origin.
type sheet struct {
	title     string
	scale     float64
	views     []axes
	low, high [3]r2.Vec
	drawn     [3]*drawing.Drawing
}

// mark states a measure on its view.
func (s *sheet) mark(m Mark, left bool) {
	on := int(m.On)
	a, b := s.place(on, s.views[on].seen(m.From)), s.place(on, s.views[on].seen(m.To))
	switch {
	case a.X > b.X+1e-9: // a view that is turned over runs the other way
		a, b = b, a
	case left && math.Abs(a.X-b.X) < 1e-9: // its other side is where there is room
		a.X = s.place(on, s.high[on]).X - a.X
		b.X = a.X
	}
	s.drawn[on].Dimension(a, b, m.Off, drawing.Millimetres(r3.Norm(r3.Sub(m.To, m.From)))+" "+m.What)
}

// joined puts the views together, third-angle, as near to each other as their measures let them: the heading over the plan,
// under it the side, beside that the end; and the notes below or, beside a long piece, to the right of the plan.
func (s *sheet) joined(notes []string, beside bool) *drawing.Drawing {
	plan, side, end := s.drawn[Plan].Ink(), s.drawn[Side].Ink(), s.drawn[End].Ink()
	d := drawing.New(s.title, r2.Vec{})
	d.Heading(r2.Vec{X: min(plan.Min.X, side.Min.X), Y: plan.Max.Y + viewGap}, s.title)
	d.Add(s.drawn[Plan], r2.Vec{})
	down := plan.Min.Y - viewGap - side.Max.Y
	d.Add(s.drawn[Side], r2.Vec{Y: down})
	left := min(plan.Min.X, side.Min.X)
	by := r2.Vec{X: side.Max.X + viewGap - end.Min.X, Y: down}
	if by.X+end.Max.X-left > widest { // no room beside the side: below it
		by = r2.Vec{X: left - end.Min.X, Y: down + side.Min.Y - viewGap - end.Max.Y}
		s.drawn[End].Text(r2.Vec{X: end.Max.X + viewGap}, drawing.Type{Size: 3, Colour: drawing.Quiet}, "from the tip")
	}
	d.Add(s.drawn[End], by)
	at, wide := r2.Vec{X: left, Y: min(side.Min.Y+down, end.Min.Y+by.Y) - viewGap - noteLine}, noteWide
	if right := max(plan.Max.X, by.X+end.Max.X) + viewGap; beside && right-left+leastNote < widest {
		wide = min(wide, widest-(right-left))
		at = r2.Vec{X: right, Y: plan.Max.Y - noteLine}
	}
	d.AddApart(noted(notes, wide), at)
	return d.Fitted(room)
}

// noted are the notes, the first line on y = 0.
func noted(notes []string, wide float64) *drawing.Drawing {
	d, t, y := drawing.New("notes", r2.Vec{}), drawing.Type{Size: 3.3}, 0.0
	for _, note := range notes {
		for _, line := range drawing.Wrap(note, t, wide) {
			d.Text(r2.Vec{Y: y}, t, line)
			y -= noteLine
		}
	}
	return d
}

// place is a point of a view on its drawing.
func (s *sheet) place(view int, p r2.Vec) r2.Vec { return r2.Scale(s.scale, r2.Sub(p, s.low[view])) }

// overall states length, width and height; the height on the right where a mark is on the left.
func (s *sheet) overall(marks []Mark) {
	state := func(view View, a, b r2.Vec, off float64) {
		s.drawn[view].Dimension(s.place(int(view), a), s.place(int(view), b), off, drawing.Millimetres(r2.Norm(r2.Sub(a, b))))
	}
	plan, side := s.low[Plan], s.low[Side]
	state(Side, side, r2.Vec{X: s.high[Side].X, Y: side.Y}, -9)
	state(Plan, plan, r2.Vec{X: plan.X, Y: s.high[Plan].Y}, 9)
	x, off := side.X, 9.0
	if slices.ContainsFunc(marks, func(m Mark) bool { return m.On == Side && m.Off > 0 }) {
		x, off = s.high[Side].X, -off
	}
	state(Side, r2.Vec{X: x, Y: side.Y}, r2.Vec{X: x, Y: s.high[Side].Y}, off)
}

// spread is the box of a body as it is seen.
func spread(m *mesh.Mesh, a axes) (low, high r2.Vec) {
	low, high = r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, t := range m.Triangles {
		for _, v := range t {
			q := a.seen(m.Vertices[v])
			low = r2.Vec{X: min(low.X, q.X), Y: min(low.Y, q.Y)}
			high = r2.Vec{X: max(high.X, q.X), Y: max(high.Y, q.Y)}
		}
	}
	return low, high
}
