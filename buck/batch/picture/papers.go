package picture

import (
	"fmt"
	"math"
	"strings"

	"formbuck/buck/batch"
	"formbuck/buck/bench"
	"formbuck/buck/internal/nest"
	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"

	"gonum.org/v1/gonum/spatial/r2"
)

// Plan is the plan that is pinned up: what limits it, its days, what to print, to cut and to have at hand.
func Plan(p *batch.Plan, title string, paper drawing.Paper) []*drawing.Drawing {
	l := drawing.NewList(title, paper)
	warned(l, "Mend these before anything is made", p.Warnings(true))
	overview(l, p)
	l.Heading("The days")
	if p.Days() == 0 {
		l.Row("none", "every order is done")
	}
	for _, d := range Days(p, l.Width()) {
		l.Place(d)
	}
	l.Heading("Orders")
	for n, o := range p.Orders {
		l.Row(o.ID, ordered(p, n, o))
	}
	bucks(l, p)
	l.Heading("To have at hand")
	for _, c := range p.Counts {
		text := fmt.Sprintf("%d, and there are %d", c.Need, c.OnShelf)
		if n := c.Missing(); n > 0 {
			text += fmt.Sprintf(": %d are missing", n)
		}
		l.Row(c.Name+"s", text)
	}
	warned(l, "Warnings of the variants", p.Warnings(false))
	if said := p.Letters(); said != "" {
		warned(l, "Letters of the orders", []string{said})
	}
	l.Row("with care", bench.Pointer+"; "+bench.First)
	sheets(l, p)
	return l.Pages()
}

// warned lists warnings under a heading, where there are any.
func warned(l *drawing.List, heading string, warnings []string) {
	if len(warnings) == 0 {
		return
	}
	l.Heading(heading)
	for _, w := range warnings {
		l.Tick(w)
	}
}

// overview says how long it takes, what limits it and who is late.
func overview(l *drawing.List, p *batch.Plan) {
	l.Heading("All in all")
	l.Row("orders", fmt.Sprintf("%d, with %d sheaths", len(p.Orders), len(p.Loads)))
	l.Row("time", fmt.Sprintf("%s of work, within %s of %.4g hours; pressed after %s", Hours(p.Schedule.Minutes), plural(p.Days(), "working day"), p.Shop.Day.Minutes/60, Hours(p.Schedule.Pressed)))
	if use := p.Limits(); use.Busy > 0 {
		l.Row("what limits it", fmt.Sprintf("the %s, busy for %.0f %% of the time", use.Place, 100*use.Share))
	}
	for _, s := range p.Savings {
		l.Row("one more", fmt.Sprintf("%s: all is done %s sooner", s.More, Hours(s.Minutes)))
	}
	for _, late := range p.Late {
		o := p.Orders[late.Order]
		l.Row("late", fmt.Sprintf("order %s: due %s, ready %s", o.ID, o.Due.Written(), late.Ready.Written()))
	}
}

// ordered is an order on one line.
func ordered(p *batch.Plan, n int, o batch.Order) string {
	a := p.ArticleOf(n)
	all := []string{fmt.Sprintf("%s, %s", a.Variant, o.Hand), fmt.Sprintf("%s %.4g mm", o.Colour, a.Gauge), plural(o.Quantity, "sheath")}
	if !o.Due.None() {
		all = append(all, "due "+o.Due.Written())
	}
	if t := p.Schedule.Ready[n]; t > 0 {
		day, clock := p.Shop.Day.Clock(t)
		all = append(all, fmt.Sprintf("ready day %d, %s", day+1, clock))
	} else {
		all = append(all, done)
	}
	if o.Note != "" {
		all = append(all, o.Note)
	}
	return strings.Join(all, "; ")
}

// Hours are minutes as hours and minutes.
func Hours(minutes float64) string {
	m := int(math.Round(minutes))
	return fmt.Sprintf("%d h %02d min", m/60, m%60)
}

// bucks says which bucks are used, and what is printed for those that are not there.
func bucks(l *drawing.List, p *batch.Plan) {
	l.Heading("Bucks")
	if len(p.Bucks) == 0 {
		l.Row("none", "every sheath is pressed")
	}
	for _, b := range p.Bucks {
		have := fmt.Sprintf("%d owned", b.Owned)
		if b.Make() > 0 {
			have = "to be made"
		}
		if b.AtOnce > 1 {
			have += fmt.Sprintf("; %d could be used at once", b.AtOnce)
		}
		l.Tick(fmt.Sprintf("%s, for %s: %s", b.Key, plural(b.Loads, "sheath"), have))
	}
	l.Heading("Pieces to print, from the variants' folders below bucks")
	if len(p.Print) == 0 {
		l.Row("none", "every piece that is needed is there already")
	}
	for _, one := range p.Print {
		l.Tick(fmt.Sprintf("%d x %s", one.Count, one.File))
	}
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// cutTall is how high a sheet to be cut is shown at the most, mm: its numbers are read beside the saw, and one fits a page with
// its heading.
const cutTall = 172.0

// sheets shows what is cut from which sheet.
func sheets(l *drawing.List, p *batch.Plan) {
	cuts := Cuts(p)
	if len(cuts) == 0 {
		return
	}
	l.Heading("Sheets: cut along the lines, in the order of the numbers; the extrusion is upright")
	for _, c := range p.Cutting {
		l.Row(fmt.Sprintf("%s, %.4g mm", c.Colour, c.Gauge), fmt.Sprintf("%s from %s, filling %.0f %% of what is cut up", plural(len(c.Loads), "blank"), plural(len(c.Sheets), "sheet"), 100*c.Yield()))
	}
	for _, c := range cuts {
		l.Place(c.Drawing(r2.Vec{X: l.Width(), Y: cutTall}))
	}
}

// PickList says for every order what is still to be fetched for it.
func PickList(p *batch.Plan, title string, paper drawing.Paper) []*drawing.Drawing {
	l := drawing.NewList(title, paper)
	l.Heading("For each order, from shelf and drawer")
	left := 0
	for n, loads := range byOrder(p) {
		if loads[0].Did(batch.Riveting) {
			continue
		}
		left++
		l.Keep(5)
		l.Row("order "+p.Orders[n].ID, fmt.Sprintf("%s, %s", loads[0].Article.Variant, p.Orders[n].Hand))
		for _, what := range picked(loads[0], p.Orders[n]) {
			l.Tick(what)
		}
	}
	if left == 0 {
		l.Row("nothing", "every order is done")
	}
	l.Row("with care", bench.Pointer+"; "+bench.First)
	return l.Pages()
}

// byOrder are the loads of each order.
func byOrder(p *batch.Plan) [][]*batch.Load {
	all := make([][]*batch.Load, len(p.Orders))
	for _, l := range p.Loads {
		all[l.Order] = append(all[l.Order], l)
	}
	return all
}

// picked is what an order still takes, one of whose loads is given.
func picked(l *batch.Load, o batch.Order) []string {
	a := l.Article
	var all []string
	if !l.Did(batch.Pressing) {
		all = append(all,
			"buck "+a.String(),
			fmt.Sprintf("%d blanks %s %.4g mm, %s with the extrusion along the second", 2*o.Quantity, o.Colour, a.Gauge, blankSizes(a)))
	}
	for _, item := range a.Hardware {
		all = append(all, item.Times(o.Quantity))
	}
	return all
}

// blankSizes are the sizes that an article's blanks may be cut to.
func blankSizes(a *batch.Article) string {
	size := func(s nest.Size) string { return fmt.Sprintf("%.4g x %.4g", s.Width, s.Height) }
	if a.Blank.Turned.Area() == 0 {
		return size(a.Blank.Size) + " mm"
	}
	return size(a.Blank.Size) + " or " + size(a.Blank.Turned) + " mm"
}

// grain is how the extrusion of an article's blanks lies on the knife.
func grain(a *batch.Article, turned bool) string {
	if turned == (a.Grain == measures.Along) {
		return measures.Across
	}
	return measures.Along
}

// done is said of what there is nothing left to do for.
const done = "is done"

// Ready is when the plan has an order done, in words.
func Ready(p *batch.Plan, n int) string {
	t := p.Schedule.Ready[n]
	if t == 0 {
		return done
	}
	return moment(p, t)
}

// moment is a moment of the plan, with its day.
func moment(p *batch.Plan, t float64) string {
	day, clock := p.Shop.Day.Clock(t)
	return dayName(p, day) + ", " + clock
}
