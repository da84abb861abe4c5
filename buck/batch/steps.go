package batch

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"io"
	"slices"
	"strconv"
)

// WriteSteps writes the plan's steps as CSV, in the order of time: on which working day, from 1, from when to
// when by the clock, which step of which sheath, and at which of the step's machines.
func WriteSteps(to io.Writer, p *Plan) error {
	slots := slices.Clone(p.Schedule.Slots)
	slices.SortStableFunc(slots, func(a, b Slot) int { return cmp.Or(cmp.Compare(a.Begin, b.Begin), cmp.Compare(a.Load, b.Load)) })
	w := csv.NewWriter(to)
	records := [][]string{{"day", "date", "begin", "end", "step", "machine", "order", "sheath", "buck", "colour"}}
	for _, s := range slots {
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
	return w.WriteAll(records)
}
