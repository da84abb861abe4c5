package drawing

import (
	"fmt"
	"math"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Sizes of a dimension's parts, mm.
const (
	arrowLong, arrowWide = 2.4, 0.8
	stub                 = 1.2 // by which an extension line goes past the dimension line
	lift                 = 0.9 // of the text over the dimension line
	dimSize              = 3.2
	upright              = 4.0 // by which an upright dimension is longer than the text along it
)

// Dimension states the distance from a to b, measured along the line that lies off mm to the left of
// the way from a to b; a negative off lies to its right. The text is the distance with its unit, unless
// another is given.
func (d *Drawing) Dimension(a, b r2.Vec, off float64, text string) {
	along := r2.Unit(r2.Sub(b, a))
	aside := r2.Vec{X: -along.Y, Y: along.X}
	length := r2.Norm(r2.Sub(b, a))
	if text == "" {
		text = Millimetres(length)
	}
	p, q := r2.Add(a, r2.Scale(off, aside)), r2.Add(b, r2.Scale(off, aside))
	pen := Pen{Width: 0.13, Colour: Quiet}
	past := r2.Scale(math.Copysign(stub, off), aside)
	gap := r2.Scale(math.Copysign(min(1, math.Abs(off)), off), aside)
	d.Line(pen, r2.Add(a, gap), r2.Add(p, past))
	d.Line(pen, r2.Add(b, gap), r2.Add(q, past))
	turn := math.Atan2(along.Y, along.X) * 180 / math.Pi
	up := aside
	if turn > 90+1e-6 || turn <= -90+1e-6 { // read from below or from the right
		turn, up = turn+180, r2.Scale(-1, aside)
	}
	wide := Width(Type{Size: dimSize}, text)
	if length >= 2*arrowLong+1 {
		d.Line(pen, p, q)
		d.arrow(p, along)
		d.arrow(q, r2.Scale(-1, along))
	} else { // too short: the arrows point inwards from outside
		d.Line(pen, r2.Sub(p, r2.Scale(2*arrowLong, along)), r2.Add(q, r2.Scale(2*arrowLong, along)))
		d.arrow(p, r2.Scale(-1, along))
		d.arrow(q, along)
	}
	at, align := r2.Scale(0.5, r2.Add(p, q)), Centre
	if wide > length-upright && math.Abs(along.X) < 1e-9 { // level, beside the line on its outer side
		shift := r2.Vec{X: math.Copysign(lift+arrowWide/2, off*aside.X), Y: -dimSize * 0.36}
		if align = Left; shift.X < 0 {
			align = Right
		}
		d.Text(r2.Add(at, shift), Type{Size: dimSize, Align: align, Clear: true}, text)
		return
	}
	if wide > length-1 {
		at, align = r2.Add(q, r2.Scale(2*arrowLong+0.8, along)), Left
		if turn != math.Atan2(along.Y, along.X)*180/math.Pi {
			align = Right
		}
	}
	d.Text(r2.Add(at, r2.Scale(lift, up)), Type{Size: dimSize, Align: align, TurnDeg: turn, Clear: true}, text)
}

// arrow is an arrow head with its tip at a point, coming from where it points away to.
func (d *Drawing) arrow(tip, back r2.Vec) {
	base := r2.Add(tip, r2.Scale(arrowLong, back))
	side := r2.Scale(arrowWide/2, r2.Vec{X: -back.Y, Y: back.X})
	d.Fill(Quiet, profile.Polygon(tip, r2.Add(base, side), r2.Sub(base, side)))
}

// Leader is a note beside a place, with a line to it.
func (d *Drawing) Leader(to, from r2.Vec, t Type, text string) {
	pen := Pen{Width: 0.13, Colour: Quiet}
	d.Line(pen, from, to)
	d.Fill(Quiet, Round(to, 0.45))
	shift := r2.Vec{X: 0.8, Y: -t.size() * 0.3}
	if t.Align == Right {
		shift.X = -0.8
	}
	d.Text(r2.Add(from, shift), t, text)
}

// Millimetres is a length as drawings state it.
func Millimetres(mm float64) string { return fmt.Sprintf("%.4g mm", math.Round(mm*100)/100) }

// Bars are two bars along x and two along y from a corner, 100 mm and 4 in long, that tell whether a
// print is 1:1.
func (d *Drawing) Bars(corner r2.Vec) {
	x, y := r2.Vec{X: 1}, r2.Vec{Y: 1}
	for _, b := range []struct {
		along, aside r2.Vec
		length, part float64
		off          float64
		text         string
		turn         float64
	}{
		{x, y, 100, 10, 0, "100 mm", 0},
		{x, y, 101.6, 25.4, 5, "4 in", 0},
		{y, x, 100, 10, 0, "100 mm", 90},
		{y, x, 101.6, 25.4, 5, "4 in", 90},
	} {
		from := r2.Add(corner, r2.Add(r2.Scale(b.off, b.aside), r2.Vec{}))
		if b.along == y {
			from = r2.Add(from, r2.Vec{Y: 16}) // clear of the bars along x
		} else {
			from = r2.Add(from, r2.Vec{X: 16})
		}
		d.bar(from, b.along, b.aside, b.length, b.part)
		end := r2.Add(from, r2.Scale(b.length+1.5, b.along))
		if b.turn == 90 {
			end.X += 2.4
		}
		d.Text(end, Type{Size: 3, Colour: Quiet, TurnDeg: b.turn}, b.text)
	}
}

// barWide is the width of a bar, mm.
const barWide = 2.0

// bar is one bar in parts, every other of them filled; its ends are the outer edges of fills.
func (d *Drawing) bar(from, along, aside r2.Vec, length, part float64) {
	n := int(math.Round(length / part))
	for i := range n {
		a := r2.Add(from, r2.Scale(float64(i)*part, along))
		b := r2.Add(from, r2.Scale(float64(i+1)*part, along))
		c, e := r2.Add(b, r2.Scale(barWide, aside)), r2.Add(a, r2.Scale(barWide, aside))
		if i%2 == 0 {
			d.Fill(Ink, profile.Polygon(a, b, c, e))
			continue
		}
		d.Fill(Ink, thin(a, b, aside, 0))
		d.Fill(Ink, thin(a, b, aside, barWide-0.3))
		if i == n-1 {
			d.Fill(Ink, thin(b, c, r2.Scale(-1, along), 0))
		}
	}
}

// thin is a strip 0.3 mm wide along a bar.
func thin(a, b, aside r2.Vec, off float64) profile.Path {
	a, b = r2.Add(a, r2.Scale(off, aside)), r2.Add(b, r2.Scale(off, aside))
	wide := r2.Scale(0.3, aside)
	return profile.Polygon(a, b, r2.Add(b, wide), r2.Add(a, wide))
}
