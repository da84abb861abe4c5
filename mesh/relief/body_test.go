package relief_test

import (
	"errors"
	"math"
	"testing"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// box is a rectangle as a closed line.
func box(x0, y0, x1, y1 float64) relief.Line {
	return relief.Line{Closed: true, Points: []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}
}

// line is a straight line.
func line(x0, y0, x1, y1 float64) relief.Line {
	return relief.Line{Points: []r2.Vec{{X: x0, Y: y0}, {X: x1, Y: y1}}}
}

// inBox tells whether p is in a rectangle.
func inBox(p r2.Vec, x0, y0, x1, y1 float64) bool {
	return p.X > x0 && p.X < x1 && p.Y > y0 && p.Y < y1
}

// slope is a plane that rises along x.
func slope(z, along float64) relief.Height { return func(p r2.Vec) float64 { return z + along*p.X } }

// block is one span between two heights.
func block(low, high relief.Height) []relief.Span { return []relief.Span{{Low: low, High: high}} }

// TestBodies meshes bodies each of which needs one thing; volumes are sums of prisms and wedges.
func TestBodies(t *testing.T) {
	halves := func(low, high []relief.Span) func(p r2.Vec) []relief.Span {
		return func(p r2.Vec) []relief.Span {
			switch {
			case !inBox(p, -5, -5, 5, 5):
				return nil
			case p.Y < 0:
				return low
			}
			return high
		}
	}
	square := []relief.Line{box(-5, -5, 5, 5), line(-5, 0, 5, 0)}
	tests := []struct {
		name   string
		lines  []relief.Line
		spans  func(p r2.Vec) []relief.Span
		volume float64
		genus  []int
	}{
		// Two wedges, one rising as the other falls: their walls change places over x = 0.
		{
			"lids cross along a line", square,
			halves(block(flat(0), slope(2, 0.2)), block(flat(0), slope(2, -0.2))), 200,
			[]int{0},
		},
		// The same, so slanting that the two lids are nowhere further apart than points that are one.
		{
			"lids cross and meld", square,
			halves(block(flat(0), slope(2, 4e-4)), block(flat(0), slope(2, -4e-4))), 200,
			[]int{0},
		},
		// The wall between the halves begins at x = 0 and grows: one lid goes round its end.
		{
			"a wall that dies out", square,
			halves(block(flat(0), flat(1)), block(flat(0), func(p r2.Vec) float64 { return 1 + 0.2*max(p.X, 0) })),
			100 + 5*5*0.5,
			[]int{0},
		},
		// Three heights meet in a point: the wall of the highest passes the level of the middle one.
		{
			"steps about a point",
			append(square, line(0, 0, 0, 5)),
			func(p r2.Vec) []relief.Span {
				switch {
				case !inBox(p, -5, -5, 5, 5):
					return nil
				case p.Y < 0:
					return block(flat(0), flat(1))
				case p.X < 0:
					return block(flat(0), flat(2))
				}
				return block(flat(0), flat(3))
			}, 50 + 25*2 + 25*3,
			[]int{0},
		},
		// A block slit from one side: two spans over half of it.
		{
			"two spans", square,
			halves(block(flat(-2), flat(2)), []relief.Span{{Low: flat(-2), High: flat(-0.5)}, {Low: flat(0.5), High: flat(2)}}),
			50*4 + 50*3,
			[]int{0},
		},
		// A block with a window through it and one with a tunnel.
		{
			"a hole through",
			[]relief.Line{box(-5, -5, 5, 5), box(-2, -2, 2, 2)},
			func(p r2.Vec) []relief.Span {
				if !inBox(p, -5, -5, 5, 5) || inBox(p, -2, -2, 2, 2) {
					return nil
				}
				return block(flat(0), flat(1))
			}, 100 - 16,
			[]int{1},
		},
		{
			"a tunnel",
			[]relief.Line{box(-5, -5, 5, 5), line(-5, -1, 5, -1), line(-5, 1, 5, 1)},
			func(p r2.Vec) []relief.Span {
				switch {
				case !inBox(p, -5, -5, 5, 5):
					return nil
				case math.Abs(p.Y) < 1:
					return []relief.Span{{Low: flat(0), High: flat(1)}, {Low: flat(2), High: flat(3)}}
				}
				return block(flat(0), flat(3))
			}, 300 - 10*2,
			[]int{1},
		},
		// Two blocks touch in an upright line: the one that is next to nothing goes.
		{
			"touching in a line",
			[]relief.Line{box(-5, -5, 0, 0), box(0, 0, 0.2, 0.2)},
			func(p r2.Vec) []relief.Span {
				if !inBox(p, -5, -5, 0, 0) && !inBox(p, 0, 0, 0.2, 0.2) {
					return nil
				}
				return block(flat(0), flat(2))
			}, 50,
			[]int{0},
		},
		// The same of blocks that are both large: one loses its corner.
		{
			"touching in a line, both large",
			[]relief.Line{box(-5, -5, 0, 0), box(0, 0, 5, 5)},
			func(p r2.Vec) []relief.Span {
				if !inBox(p, -5, -5, 0, 0) && !inBox(p, 0, 0, 5, 5) {
					return nil
				}
				return block(flat(0), flat(2))
			}, 100,
			[]int{0, 0},
		},
		// Two bodies that share no point.
		{
			"apart",
			[]relief.Line{box(-5, -5, -1, 5), box(1, -5, 5, 5)},
			func(p r2.Vec) []relief.Span {
				if !inBox(p, -5, -5, 5, 5) || math.Abs(p.X) < 1 {
					return nil
				}
				return block(flat(0), flat(1))
			}, 80,
			[]int{0, 0},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := build(t, relief.Body{Lines: tt.lines, Spans: tt.spans}, 0.01)
			meshtest.Volume(t, m, tt.volume, 0.05)
			meshtest.Genus(t, m, tt.genus...)
		})
	}
}

// A level lid over a floor bent as a parabola, z = x^2/20: they meet at x = +-sqrt(40), which nothing
// draws. The section is 2/3 of base times height (Archimedes, Quadrature of the Parabola).
func TestFootOnACurvedUnderside(t *testing.T) {
	half := math.Sqrt(40)
	b := relief.Body{
		Lines: []relief.Line{box(-8, -5, 8, 5), line(-1, 0, 1, 0)},
		Spans: func(p r2.Vec) []relief.Span {
			if !inBox(p, -8, -5, 8, 5) {
				return nil
			}
			return block(func(p r2.Vec) float64 { return p.X * p.X / 20 }, flat(2))
		},
	}
	m := build(t, b, 0.01)
	meshtest.Volume(t, m, 10*2./3*2*half*2, 10*2*half*0.01)
	bounds := m.Bounds()
	for _, x := range []float64{-bounds.Min.X, bounds.Max.X} {
		if math.Abs(x-half) > 0.01 {
			t.Errorf("the foot is at %.4f, want %.4f", x, half)
		}
	}
}

// dome is a lid bent as a ball of radius 20 with rings at which it may be cut, on an underside that is
// bent along x, within upright walls at radius 8. The rings bend what marks say.
func dome(marks relief.Marks) relief.Body {
	lines := []relief.Line{ring(16, 16, 40)}
	for r := 1.; r < 8; r++ {
		l := ring(2*r, 2*r, 20)
		l.Bends = marks
		lines = append(lines, l)
	}
	return relief.Body{Lines: lines, Spans: func(p r2.Vec) []relief.Span {
		if r2.Norm(p) > 8 {
			return nil
		}
		return []relief.Span{{
			Low: func(p r2.Vec) float64 { return -5 - p.X*p.X/200 }, LowMarks: 2,
			High: func(p r2.Vec) float64 { return math.Sqrt(400 - r2.Norm2(p)) }, HighMarks: 1,
		}}
	}}
}

// facing counts the triangles of a mesh that face up, and those that face down.
func facing(m *mesh.Mesh) (up, down int) {
	for _, c := range m.Triangles {
		a, b, d := m.Vertices[c[0]], m.Vertices[c[1]], m.Vertices[c[2]]
		switch area := (b.X-a.X)*(d.Y-a.Y) - (b.Y-a.Y)*(d.X-a.X); {
		case area > 1e-9:
			up++
		case area < -1e-9:
			down++
		}
	}
	return up, down
}

// TestMarks checks that a line adds triangles to what it bends only.
func TestMarks(t *testing.T) {
	both, downBoth := facing(build(t, dome(0), 0.1))
	lid, down := facing(build(t, dome(1), 0.1))
	if lid != both {
		t.Errorf("%d triangles in the lid, %d where the rings bend the floor too", lid, both)
	}
	if down >= downBoth/2 {
		t.Errorf("%d triangles in the floor, %d where the rings bend it", down, downBoth)
	}
}

// TestFlatIsItsBorder checks that a level lid takes its border's triangles, two less than it has
// points, whatever lines cross it.
func TestFlatIsItsBorder(t *testing.T) {
	lines := []relief.Line{box(-5, -5, 5, 5)}
	for y := -4.; y < 5; y++ {
		lines = append(lines, line(-4, y, 4, y+0.5))
	}
	m := build(t, relief.Body{Lines: lines, Spans: func(p r2.Vec) []relief.Span {
		if !inBox(p, -5, -5, 5, 5) {
			return nil
		}
		return block(flat(0), slope(2, 0.125))
	}}, 0.01)
	if n := len(m.Triangles); n != 12 {
		t.Errorf("%d triangles in a block, want 12", n)
	}
}

// TestHeightsAreWithinTolerance compares every face of a mesh with the heights it stands for.
func TestHeightsAreWithinTolerance(t *testing.T) {
	for _, tol := range []float64{0.1, 0.03, 0.01} {
		b := dome(1)
		s := b.Spans(r2.Vec{})[0]
		m := build(t, b, tol)
		worst := 0.0
		for _, c := range m.Triangles {
			a, b, d := m.Vertices[c[0]], m.Vertices[c[1]], m.Vertices[c[2]]
			area := (b.X-a.X)*(d.Y-a.Y) - (b.Y-a.Y)*(d.X-a.X)
			if math.Abs(area) < 1e-9 {
				continue // a wall
			}
			h := s.High
			if area < 0 {
				h = s.Low
			}
			for _, w := range [][3]float64{{1. / 3, 1. / 3, 1. / 3}, {0.5, 0.5, 0}, {0, 0.5, 0.5}, {0.5, 0, 0.5}, {0.6, 0.2, 0.2}, {0.2, 0.2, 0.6}} {
				p := r2.Vec{X: w[0]*a.X + w[1]*b.X + w[2]*d.X, Y: w[0]*a.Y + w[1]*b.Y + w[2]*d.Y}
				worst = max(worst, math.Abs(h(p)-w[0]*a.Z-w[1]*b.Z-w[2]*d.Z))
			}
		}
		if worst > tol {
			t.Errorf("tolerance %g: %g off", tol, worst)
		}
		if worst < tol/10 {
			t.Errorf("tolerance %g: only %g off, more triangles than needed", tol, worst)
		}
	}
}

func TestRefused(t *testing.T) {
	within := func(s []relief.Span) func(p r2.Vec) []relief.Span {
		return func(p r2.Vec) []relief.Span {
			if !inBox(p, -5, -5, 5, 5) {
				return nil
			}
			return s
		}
	}
	square := []relief.Line{box(-5, -5, 5, 5)}
	rough := func(p r2.Vec) float64 { return 2 + math.Sin(40*p.X)*math.Cos(40*p.Y) }
	tests := []struct {
		name string
		body relief.Body
		opts relief.Options
		want error
	}{
		{"no lines", relief.Body{Spans: within(nil)}, relief.Options{}, relief.ErrEmpty},
		{"no spans", relief.Body{Lines: square, Spans: within(nil)}, relief.Options{}, relief.ErrEmpty},
		{"upside down", relief.Body{Lines: square, Spans: within(block(flat(1), flat(0)))}, relief.Options{}, relief.ErrEmpty},
		{"not a number", relief.Body{Lines: square, Spans: within(block(flat(0), flat(math.NaN())))}, relief.Options{}, relief.ErrHeight},
		{"infinite", relief.Body{Lines: square, Spans: within(block(flat(0), flat(math.Inf(1))))}, relief.Options{}, relief.ErrHeight},
		{"beyond reach", relief.Body{Lines: square, Spans: within(block(flat(0), flat(2e5)))}, relief.Options{}, relief.ErrHeight},
		{"too rough", relief.Body{Lines: square, Spans: within(block(flat(0), rough))}, relief.Options{MaxPoints: 500}, relief.ErrTooFine},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m, err := relief.Build(tt.body, tt.opts)
			if !errors.Is(err, tt.want) || m != nil {
				t.Errorf("%v, want %v", err, tt.want)
			}
		})
	}
}
