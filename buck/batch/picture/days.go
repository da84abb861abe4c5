// Package picture shows a batch's plan: days with what is done when, sheets with what is cut from them,
// and the papers that are pinned up and go along with the orders.
//
// Drawings are in mm of the paper; stock sheets are shown smaller than they are, with their sizes stated, and
// at their true size as DXF.
package picture

import (
	"fmt"
	"image/color"
	"math"

	"formbuck/profile"

	"formbuck/buck/batch"
	"formbuck/buck/paper/drawing"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	rowHeight = 6.0  // of a machine's row
	rowNames  = 15.0 // width of the machines' names
	dayHead   = 11.0 // over the rows, for the day and its hours
	small     = 2.1  // size of what stands in a bar
)

// tint is the colour of each step: light enough for letters, and apart in grey.
func tint(s batch.Step) color.NRGBA {
	switch s {
	case batch.Heating:
		return color.NRGBA{R: 246, G: 196, B: 160, A: 255}
	case batch.Pressing:
		return color.NRGBA{R: 190, G: 198, B: 226, A: 255}
	case batch.Drilling:
		return color.NRGBA{R: 214, G: 232, B: 214, A: 255}
	case batch.Parting:
		return color.NRGBA{R: 238, G: 238, B: 226, A: 255}
	case batch.Trimming:
		return color.NRGBA{R: 176, G: 212, B: 188, A: 255}
	case batch.Finish:
		return color.NRGBA{R: 250, G: 230, B: 180, A: 255}
	default:
		return color.NRGBA{R: 224, G: 206, B: 228, A: 255}
	}
}

// row is one machine, or one person.
type row struct {
	name    string
	place   batch.Place
	machine int
}

// rows are all machines of the shop, in the order of the work.
func rows(s *batch.Shop) []row {
	var all []row
	for _, place := range batch.Places() {
		for m := range s.Count(place) {
			name := place.String()
			if s.Count(place) > 1 {
				name = fmt.Sprintf("%s %d", name, m+1)
			}
			all = append(all, row{name: name, place: place, machine: m})
		}
	}
	return all
}

// Days are the batch's working days, a drawing of the given width for each: what is done where and when, every bar
// with its order's name where there is room for it.
func Days(p *batch.Plan, width float64) []*drawing.Drawing {
	var all []*drawing.Drawing
	for n := range p.Days() {
		all = append(all, newDay(p, n, width).drawing)
	}
	return all
}

// day is a working day being drawn.
type day struct {
	plan    *batch.Plan
	number  int
	rows    []row
	scale   float64 // mm for a minute
	drawing *drawing.Drawing
}

func newDay(p *batch.Plan, number int, width float64) *day {
	d := &day{plan: p, number: number, rows: rows(p.Shop), scale: (width - rowNames) / p.Shop.Day.Minutes}
	name := dayName(p, number)
	d.drawing = drawing.New(name, r2.Vec{X: width, Y: dayHead + rowHeight*float64(len(d.rows)) + 7})
	d.drawing.Text(r2.Vec{Y: d.drawing.Size.Y - 3.5}, drawing.Type{Size: 3.5, Bold: true}, name)
	d.hours()
	for i, r := range d.rows {
		d.drawing.Text(r2.Vec{X: 0, Y: d.floor(i) + 1.8}, drawing.Type{Size: 3.2}, r.name)
		d.drawing.Line(drawing.Pen{Width: 0.13, Colour: drawing.Hair}, r2.Vec{Y: d.floor(i)}, r2.Vec{X: width, Y: d.floor(i)})
	}
	for _, s := range p.Schedule.Slots {
		d.bar(s)
	}
	d.legend()
	return d
}

// dayName is the day's date, where the plan has one, and its number.
func dayName(p *batch.Plan, number int) string {
	if p.Start.None() {
		return fmt.Sprintf("day %d", number+1)
	}
	return fmt.Sprintf("%s, day %d", p.Start.After(number).Written(), number+1)
}

// floor is where a row stands.
func (d *day) floor(row int) float64 {
	return d.drawing.Size.Y - dayHead - rowHeight*float64(row+1)
}

// at is where a moment of the day is.
func (d *day) at(minutes float64) float64 { return rowNames + d.scale*minutes }

// hours draws a line for every hour of the clock.
func (d *day) hours() {
	hours := d.plan.Shop.Day
	low := d.floor(len(d.rows) - 1)
	first := math.Ceil(hours.Begins/60 - 1e-9)
	for h := first; h*60 <= hours.Begins+hours.Minutes+1e-9; h++ {
		x := d.at(h*60 - hours.Begins)
		d.drawing.Line(drawing.Pen{Width: 0.13, Colour: drawing.Hair}, r2.Vec{X: x, Y: low}, r2.Vec{X: x, Y: d.floor(-1)})
		align := drawing.Centre
		if x > d.drawing.Size.X-5 {
			align = drawing.Right
		}
		d.drawing.Text(r2.Vec{X: x, Y: d.floor(-1) + 1}, drawing.Type{Size: small, Align: align, Colour: drawing.Quiet}, fmt.Sprintf("%d:00", int(h)%24))
	}
}

// bar draws what of a slot is on this day.
func (d *day) bar(s batch.Slot) {
	begin := float64(d.number) * d.plan.Shop.Day.Minutes
	from, to := max(s.Begin-begin, 0), min(s.End-begin, d.plan.Shop.Day.Minutes)
	if to-from < 1e-9 {
		return
	}
	for i, r := range d.rows {
		if r.machine != s.Machine || r.place != s.Step.Place() {
			continue
		}
		b := r2.Box{Min: r2.Vec{X: d.at(from), Y: d.floor(i) + 0.5}, Max: r2.Vec{X: d.at(to), Y: d.floor(i) + rowHeight - 0.5}}
		d.drawing.Fill(tint(s.Step), profile.Rectangle(b))
		d.drawing.Stroke(drawing.Pen{Width: 0.13}, profile.Rectangle(b))
		name := d.plan.Orders[d.plan.Loads[s.Load].Order].ID
		t := drawing.Type{Size: small, Align: drawing.Centre}
		if drawing.Width(t, name) < b.Size().X-0.3 {
			d.drawing.Text(r2.Vec{X: (b.Min.X + b.Max.X) / 2, Y: d.floor(i) + 2}, t, name)
		}
	}
}

// legend names the steps' colours.
func (d *day) legend() {
	x := rowNames
	for _, s := range batch.Steps() {
		b := r2.Box{Min: r2.Vec{X: x, Y: 1}, Max: r2.Vec{X: x + 3, Y: 4}}
		d.drawing.Fill(tint(s), profile.Rectangle(b))
		d.drawing.Stroke(drawing.Pen{Width: 0.13}, profile.Rectangle(b))
		t := drawing.Type{Size: small, Colour: drawing.Quiet}
		d.drawing.Text(r2.Vec{X: x + 4, Y: 1.6}, t, string(s))
		x += 9 + drawing.Width(t, string(s))
	}
}
