package batch

import (
	"fmt"
	"io"
	"math"
	"strconv"

	"formbuck/buck/internal/nest"
)

// WriteSteps writes the plan's steps as CSV, in the order of time: on which working day, from 1, from when to
// when by the clock, which step of which sheath, and at which of the step's machines.
func WriteSteps(to io.Writer, p *Plan) error {
	records := [][]string{{"day", "date", "begin", "end", "step", "machine", "order", "sheath", "buck", "colour"}}
	for _, s := range p.Schedule.InTime() {
		l := p.Loads[s.Load]
		day, end := p.Shop.Day.Clock(s.End)
		_, begin := p.Shop.Day.Clock(s.Begin)
		if s.Begin <= float64(day)*p.Shop.Day.Minutes+tiny {
			begin = p.Shop.Day.opens()
		}
		date := ""
		if !p.Start.None() {
			date = p.Start.After(day).String()
		}
		records = append(records, []string{
			strconv.Itoa(day + 1), date, begin, end, string(s.Step), strconv.Itoa(s.Machine + 1),
			p.Orders[l.Order].ID, fmt.Sprintf("%d of %d", l.Number, p.Orders[l.Order].Quantity), l.Article.String(), l.Colour,
		})
	}
	return writeTable(to, records)
}

// WriteCuts writes the cut list as CSV: for every sheet its cuts in their order, the blanks with whose they are and
// the rests that are kept; places and sizes in mm from the sheet's lower left corner, its extrusion upright.
func WriteCuts(to io.Writer, p *Plan) error {
	records := [][]string{{"colour", "gauge", "sheet", "stock", "what", "number", "x", "y", "width", "height", "order"}}
	for _, c := range p.Cutting {
		for n, s := range c.Sheets {
			row := func(what string, number int, r nest.Rect, order string) {
				records = append(records, []string{
					c.Colour, figure(c.Gauge), strconv.Itoa(n + 1), s.Stock.Name, what, strconv.Itoa(number),
					figure(r.X), figure(r.Y), figure(r.Width), figure(r.Height), order,
				})
			}
			for i, cut := range s.Cuts {
				row("cut", i+1, cut.Rect, "")
			}
			for i, b := range s.Placed {
				row("blank", i+1, b.Rect, p.Orders[p.Loads[c.Loads[b.Blank]].Order].ID)
			}
			for i, r := range s.Kept() {
				row("keep", i+1, r, "")
			}
		}
	}
	return writeTable(to, records)
}

// figure is a length to a thousandth of a mm, without noughts at its end.
func figure(mm float64) string { return strconv.FormatFloat(math.Round(mm*1000)/1000, 'f', -1, 64) }
