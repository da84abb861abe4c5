package picture

import (
	"fmt"
	"image/color"
	"strings"
	"unicode"
	"unicode/utf8"

	"formbuck/buck/batch"
	"formbuck/buck/internal/nest"
	"formbuck/buck/paper/drawing"
	"formbuck/profile"
	"formbuck/profile/dxf"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

var (
	blankTint = color.NRGBA{R: 226, G: 233, B: 222, A: 255}
	keptTint  = color.NRGBA{R: 246, G: 240, B: 218, A: 255}
)

// Cut is one sheet that blanks are cut from.
type Cut struct {
	Colour string
	Gauge  float64 // mm
	Number int     // among those of its colour and gauge, from 1
	Of     int
	Sheet  *nest.Sheet
	Labels []string // of each of the sheet's blanks, in their order: whose it is
}

// Cuts are all sheets of a plan.
func Cuts(p *batch.Plan) []Cut {
	var all []Cut
	for _, c := range p.Cutting {
		for i, s := range c.Sheets {
			cut := Cut{Colour: c.Colour, Gauge: c.Gauge, Number: i + 1, Of: len(c.Sheets), Sheet: s}
			for _, b := range s.Placed {
				l := p.Loads[c.Loads[b.Blank]]
				label := p.Orders[l.Order].ID
				if p.Orders[l.Order].Quantity > 1 {
					label = fmt.Sprintf("%s/%d", label, l.Number)
				}
				cut.Labels = append(cut.Labels, label)
			}
			all = append(all, cut)
		}
	}
	return all
}

// Name is the sheet in words.
func (c Cut) Name() string {
	return fmt.Sprintf("%s %.4g mm, sheet %d of %d: %s", c.Colour, c.Gauge, c.Number, c.Of, c.Sheet.Stock.Name)
}

// Sizes on the picture of a sheet, mm: of the numbers of cuts and the circles round them, of whose a blank is, and the least
// that is read at arm's length.
const (
	numberSize  = 3.0
	numberRound = 2.2
	labelSize   = 4.5
	leastLabel  = 2.2
)

// Drawing shows the sheet smaller than it is, as wide and tall as fits, its extrusion upright: blanks with whose they
// are and how large, the saw's cuts numbered in their order, the rests that are kept with their sizes.
func (c Cut) Drawing(most r2.Vec) *drawing.Drawing {
	const head = 6.0
	size := c.Sheet.Stock.Size
	k := min(most.X/size.Width, (most.Y-head-1)/size.Height)
	d := drawing.New(c.Name(), r2.Vec{X: most.X, Y: size.Height*k + head + 1})
	d.Text(r2.Vec{Y: size.Height*k + 3}, drawing.Type{Size: 4, Bold: true}, c.Name())
	box := func(r nest.Rect) profile.Path { return profile.Rectangle(boxed(r, k)) }
	for _, r := range c.Sheet.Kept() {
		d.Fill(keptTint, box(r))
		within(d, r, k, fmt.Sprintf("keep %.0f x %.0f", r.Width, r.Height))
	}
	for i, b := range c.Sheet.Placed {
		d.Fill(blankTint, box(b.Rect))
		d.Stroke(drawing.Pen{Width: 0.13}, box(b.Rect))
		within(d, b.Rect, k, c.Labels[i], fmt.Sprintf("%.4g x %.4g", b.Width, b.Height))
	}
	for i, cut := range c.Sheet.Cuts {
		d.Fill(drawing.Ink, box(cut.Rect))
		at := r2.Vec{X: (cut.X + cut.Width/2) * k, Y: (cut.Y + cut.Height/2) * k}
		d.Fill(drawing.White, drawing.Round(at, numberRound))
		d.Circle(drawing.Pen{Width: 0.13}, at, numberRound)
		d.Text(r2.Vec{X: at.X, Y: at.Y - 0.36*numberSize}, drawing.Type{Size: numberSize, Align: drawing.Centre}, fmt.Sprint(i+1))
	}
	d.Stroke(drawing.Pen{Width: 0.35}, box(nest.Rect{Size: size}))
	return d
}

// boxed is a rectangle of a sheet k times as large.
func boxed(r nest.Rect, k float64) r2.Box {
	return r2.Box{Min: r2.Vec{X: r.X * k, Y: r.Y * k}, Max: r2.Vec{X: (r.X + r.Width) * k, Y: (r.Y + r.Height) * k}}
}

// within sets lines in the middle of a rectangle, as large as fits; what would be too small to read is left out.
func within(d *drawing.Drawing, r nest.Rect, k float64, lines ...string) {
	wide := 0.0
	for _, line := range lines {
		wide = max(wide, drawing.Width(drawing.Type{Size: 1}, line))
	}
	size := min(labelSize, (r.Width*k-2*numberRound-1)/wide, (r.Height*k-1)/(1.4*float64(len(lines))))
	if size < leastLabel {
		return
	}
	for i, line := range lines {
		y := (r.Y+r.Height/2)*k + size*(0.7*float64(len(lines)-1)-1.4*float64(i)-0.35)
		d.Text(r2.Vec{X: (r.X + r.Width/2) * k, Y: y}, drawing.Type{Size: size, Align: drawing.Centre}, line)
	}
}

// The layers of a sheet's drawing.
const (
	StockLayer = "SHEET"
	BlankLayer = "BLANKS"
	SawLayer   = "CUTS"
	RestLayer  = "REST"
	OrderLayer = "ORDERS" // whose each blank is, in letters that no tool follows
)

// orderHeight is the height in mm of the letters that say whose a blank is; common practice, no source.
const orderHeight = 8.0

// DXF is the sheet at its true size, in mm: its border, the blanks, whose they are, the middle line of each cut and the
// rests that are kept, each kind on its layer.
func (c Cut) DXF() *dxf.Drawing {
	d := &dxf.Drawing{Units: dxf.Millimetres, Layers: []dxf.Layer{
		{Name: StockLayer, Colour: 7},
		{Name: BlankLayer, Colour: 5},
		{Name: SawLayer, Colour: 1},
		{Name: RestLayer, Colour: 8},
		{Name: OrderLayer, Colour: 3},
	}}
	line := func(layer string, x1, y1, x2, y2 float64) {
		d.Entities = append(d.Entities, dxf.Entity{Kind: "LINE", Layer: layer, Shape: &dxf.Line{A: r3.Vec{X: x1, Y: y1}, B: r3.Vec{X: x2, Y: y2}}})
	}
	box := func(layer string, r nest.Rect) { profile.AddContour(d, layer, profile.Rectangle(boxed(r, 1))) }
	box(StockLayer, nest.Rect{Size: c.Sheet.Stock.Size})
	for i, b := range c.Sheet.Placed {
		box(BlankLayer, b.Rect)
		d.Entities = append(d.Entities, dxf.Entity{Kind: "TEXT", Layer: OrderLayer, Shape: &dxf.Text{
			At: r3.Vec{X: b.X + orderHeight, Y: b.Y + orderHeight}, Height: orderHeight, Value: writable(c.Labels[i]),
		}})
	}
	for _, cut := range c.Sheet.Cuts {
		if x, y := cut.X+cut.Width/2, cut.Y+cut.Height/2; cut.Upright {
			line(SawLayer, x, cut.Y, x, cut.Y+cut.Height)
		} else {
			line(SawLayer, cut.X, y, cut.X+cut.Width, y)
		}
	}
	for _, r := range c.Sheet.Kept() {
		box(RestLayer, r)
	}
	return d
}

// writable is a text as a drawing holds it: without characters that steer, and with a question mark for those beyond
// U+FFFF.
func writable(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r):
			return -1
		case r > 0xffff || r == utf8.RuneError:
			return '?'
		default:
			return r
		}
	}, text)
}
