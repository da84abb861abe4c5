package anyknife

import (
	"math"

	"formbuck/buck/bucktest/sketch"
)

// form is how lines are written.
type form int

const (
	bulged  form = iota // one polyline with bulges
	single              // lines and arcs in no order, some backwards
	strokes             // one polyline of short straight lines
	splines             // a spline from corner to corner
	forms
)

func (f form) String() string { return [...]string{"bulged", "single", "strokes", "splines"}[f] }

// Forms returns the ways in which lines are written.
func Forms() (words []string) {
	for f := range forms {
		words = append(words, f.String())
	}
	return words
}

// newPose draws where the drawing lies, and its units.
func newPose(r random) (sketch.Pose, int) {
	p := sketch.Pose{Mirror: r.one(2), Deg: float64(r.IntN(4) * 90), X: r.in(-100, 300), Y: r.in(-100, 300)}
	if r.one(2) {
		p.Deg = r.in(0, 360)
	}
	i := r.IntN(4)
	p.Unit = []float64{1, 1, 10, 25.4}[i]
	return p, []int{sketch.Millimetres, sketch.Millimetres, sketch.Centimetres, sketch.Inches}[i]
}

// DXF is the drawing.
func (k *Knife) DXF() []byte {
	s, m := k.shape, k.marks
	d := &sketch.Drawing{}
	k.write(d, m.layer, s.outline(), true)
	for _, h := range s.holes {
		x, y := k.pose.Point(h.x, h.y)
		d.Circle(m.layer, x, y, h.r/k.pose.Unit)
	}
	low, high := s.box()
	across := func(layer string, x float64) {
		ax, ay := k.pose.Point(x, low-4)
		bx, by := k.pose.Point(x, high+4)
		d.Line(layer, ax, ay, bx, by)
	}
	switch m.handle {
	case "line":
		across("HANDLE", 0)
	case "loop":
		scales := s.handle
		if s.scales != nil {
			scales = s.scales
		}
		first := scales[0]
		first.In = 90
		loop := append([]sketch.Node{first}, scales[1:]...)
		k.write(d, "HANDLE", append(loop, sketch.Corner(0, -s.half, 0, 90)), true)
	}
	if m.grind {
		k.stroke(d, "GRIND", s.line(m.plunge, m.share, false))
		if s.edges == 2 {
			k.stroke(d, "GRIND", s.line(m.plunge, m.share, true))
		}
	}
	if m.throat {
		across("THROAT", m.mouth)
	}
	if m.edge {
		x := s.heel.X + 0.4*(s.tip.X-s.heel.X)
		k.stroke(d, "EDGE", [][2]float64{{x - 5, low - 3}, {x + 5, low - 3}})
	}
	if m.tip {
		k.stroke(d, "TIP", [][2]float64{{s.tip.X + 1, s.tip.Y}, {s.tip.X + 6, s.tip.Y}})
	}
	k.furnish(d, low, high)
	return d.Bytes(k.header(), "OUTLINE", "HANDLE", "GRIND", "THROAT", "EDGE", "TIP", "Knife", "NOTES", "FRAME")
}

// header is what the drawing says of its units.
func (k *Knife) header() int {
	if k.marks.unitless {
		return 0
	}
	return k.units
}

// furnish puts on the sheet what is no part of the knife.
func (k *Knife) furnish(d *sketch.Drawing, low, high float64) {
	s, m := k.shape, k.marks
	if m.note {
		x, y := k.pose.Point(0, high+12)
		d.Text("NOTES", x, y, 4/k.pose.Unit, "knife, own design")
	}
	if m.frame == "none" {
		return
	}
	layer := "FRAME"
	if m.frame == "outline" {
		layer = m.layer
	}
	x0, y0, x1, y1 := -s.grip-30, low-30, s.tip.X+30, high+30
	var box []sketch.Arc
	for _, c := range [][4]float64{{x0, y0, x1, y0}, {x1, y0, x1, y1}, {x1, y1, x0, y1}, {x0, y1, x0, y0}} {
		box = append(box, sketch.Arc{AX: c[0], AY: c[1], BX: c[2], BY: c[3]})
	}
	d.Polyline(layer, k.pose.Arcs(box), true)
}

// box is how far the knife reaches across.
func (s *shape) box() (low, high float64) {
	for _, n := range append(s.outline(), s.scales...) {
		low, high = min(low, n.Y), max(high, n.Y)
	}
	return low, high
}

// stroke writes points as straight lines or as a spline.
func (k *Knife) stroke(d *sketch.Drawing, layer string, points [][2]float64) {
	if k.form == splines && len(points) > 4 {
		d.Spline(layer, k.pose.Points(points))
		return
	}
	var arcs []sketch.Arc
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		arcs = append(arcs, sketch.Arc{AX: a[0], AY: a[1], BX: b[0], BY: b[1]})
	}
	d.Polyline(layer, k.pose.Arcs(arcs), false)
}

// write writes a row of nodes in the drawing's form.
func (k *Knife) write(d *sketch.Drawing, layer string, nodes []sketch.Node, closed bool) {
	arcs := sketch.Through(closed, nodes...)
	switch k.form {
	case bulged:
		d.Polyline(layer, k.pose.Arcs(arcs), closed)
	case single:
		arcs = k.pose.Arcs(arcs)
		step := 7
		for common(len(arcs), step) > 1 {
			step++
		}
		for i := range arcs {
			a := arcs[i*step%len(arcs)]
			if i%3 == 1 {
				a = sketch.Arc{AX: a.BX, AY: a.BY, BX: a.AX, BY: a.AY, Bulge: -a.Bulge}
			}
			d.LineOrArc(layer, a)
		}
	case strokes:
		var lines []sketch.Arc
		for _, a := range arcs {
			points := flat(a, 0.02)
			for i := 1; i < len(points); i++ {
				lines = append(lines, sketch.Arc{AX: points[i-1][0], AY: points[i-1][1], BX: points[i][0], BY: points[i][1]})
			}
		}
		d.Polyline(layer, k.pose.Arcs(lines), closed)
	case splines:
		k.bend(d, layer, arcs)
	}
}

// common is the greatest number that divides both.
func common(a, b int) int {
	for b > 0 {
		a, b = b, a%b
	}
	return a
}

// bend writes a closed row of arcs as a spline from corner to corner, and straight lines as they are.
func (k *Knife) bend(d *sketch.Drawing, layer string, arcs []sketch.Arc) {
	var row [][2]float64
	end := func() {
		switch {
		case len(row) == 2:
			p := k.pose.Points(row)
			d.Line(layer, p[0][0], p[0][1], p[1][0], p[1][1])
		case len(row) > 2:
			for len(row) < 5 {
				row = append(row, row[len(row)-1])
				i := len(row) - 2
				row[i] = [2]float64{(row[i-1][0] + row[i][0]) / 2, (row[i-1][1] + row[i][1]) / 2}
			}
			d.Spline(layer, k.pose.Points(row))
		}
		row = nil
	}
	for i, a := range arcs {
		points := flat(a, 0.3)
		if row == nil {
			row = points
		} else {
			row = append(row, points[1:]...)
		}
		next := arcs[(i+1)%len(arcs)]
		if i == len(arcs)-1 || math.Abs(turn(a, next)) > 2*math.Pi/180 || a.Bulge == 0 || next.Bulge == 0 {
			end()
		}
	}
}

// turn is the angle from where one arc ends to where the next one begins.
func turn(a, b sketch.Arc) float64 {
	out := math.Atan2(a.BY-a.AY, a.BX-a.AX) + 2*math.Atan(a.Bulge)
	in := math.Atan2(b.BY-b.AY, b.BX-b.AX) - 2*math.Atan(b.Bulge)
	return math.Remainder(in-out, 2*math.Pi)
}
