package paper

import (
	"fmt"
	"math"

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
	partGap  = 32.0 // between two views, mm: room for a dimension's text that is longer than its line
	partRoom = 26.0 // on either side of them
	partTop  = 36.0 // above them
	partFoot = 16.0 // below
	noteWide = 200.0
	small    = 12.0 // pieces no longer than this, mm, are drawn larger
	larger   = 5.0
)

// Draw draws the piece in three views with its measures: at 1:1, and a very small one 5:1.
func (p Part) Draw() *drawing.Drawing {
	box := p.Mesh.Bounds()
	scale := 1.0
	if size := box.Size(); max(size.X, size.Y, size.Z) < small {
		scale = larger
	}
	views := []axes{planView, sideView, endView}
	if p.Left {
		for i := range views {
			views[i] = views[i].turned()
		}
	}
	var low, high [3]r2.Vec
	for i, v := range views {
		low[i], high[i] = spread(p.Mesh, v)
	}
	size := func(i int) r2.Vec { return r2.Scale(scale, r2.Sub(high[i], low[i])) }
	title := p.Title + ", 1:1"
	if scale > 1 {
		title = fmt.Sprintf("%s, %.0f:1", p.Title, scale)
	}
	t := drawing.Type{Size: 3.3}
	wide := max(size(0).X+size(2).X+partGap+2*partRoom, noteWide+2*room)
	var notes []string
	for _, note := range p.Notes {
		notes = append(notes, drawing.Wrap(note, t, noteWide)...)
	}
	foot := 6 * float64(len(notes)+1)
	d := drawing.New(title, r2.Vec{X: wide, Y: size(0).Y + size(1).Y + partGap + partTop + partFoot + foot})
	d.Text(r2.Vec{X: room, Y: d.Size.Y - 8}, drawing.Type{Size: 5, Bold: true}, title)
	corner := [3]r2.Vec{
		{X: partRoom, Y: foot + partFoot + size(1).Y + partGap},
		{X: partRoom, Y: foot + partFoot},
		{X: partRoom + size(0).X + partGap, Y: foot + partFoot},
	}
	s := sheet{Drawing: d, scale: scale, views: views}
	for i, v := range views {
		s.by = append(s.by, r2.Sub(corner[i], r2.Scale(scale, low[i])))
		var paths []profile.Path
		for _, l := range lines(p.Mesh, v) {
			paths = append(paths, drawing.Polyline(s.place(i, l[0]), s.place(i, l[1])))
		}
		d.Stroke(drawing.Pen{Width: 0.25}, paths...)
	}
	s.overall(low, high)
	for _, m := range p.Marks {
		a, b := s.place(int(m.On), views[m.On].seen(m.From)), s.place(int(m.On), views[m.On].seen(m.To))
		switch {
		case a.X > b.X+1e-9: // a view that is turned over runs the other way
			a, b = b, a
		case p.Left && math.Abs(a.X-b.X) < 1e-9: // its other side is where there is room
			a.X = s.place(int(m.On), low[m.On]).X + s.place(int(m.On), high[m.On]).X - a.X
			b.X = a.X
		}
		d.Dimension(a, b, m.Off, drawing.Millimetres(r3.Norm(r3.Sub(m.To, m.From)))+" "+m.What)
	}
	for i, note := range notes {
		d.Text(r2.Vec{X: room, Y: 6 * float64(len(notes)-i)}, t, note)
	}
	return d
}

// sheet is a drawing with three views on it.
type sheet struct {
	*drawing.Drawing
	scale float64
	views []axes
	by    []r2.Vec
}

func (s *sheet) place(view int, p r2.Vec) r2.Vec { return r2.Add(r2.Scale(s.scale, p), s.by[view]) }

// overall states length, width and height.
func (s *sheet) overall(low, high [3]r2.Vec) {
	state := func(view int, a, b r2.Vec, off float64) {
		s.Dimension(s.place(view, a), s.place(view, b), off, drawing.Millimetres(r2.Norm(r2.Sub(a, b))))
	}
	state(1, low[1], r2.Vec{X: high[1].X, Y: low[1].Y}, -9)
	state(0, low[0], r2.Vec{X: low[0].X, Y: high[0].Y}, 9)
	state(1, low[1], r2.Vec{X: low[1].X, Y: high[1].Y}, 9)
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
