package picture

import (
	"fmt"
	"math"
	"strings"

	"formbuck/buck"
	"formbuck/buck/batch"
	"formbuck/buck/paper/drawing"

	"gonum.org/v1/gonum/spatial/r2"
)

// Plan is the plan that is pinned up: what limits it, its days, what to print, to cut and to have at hand.
func Plan(p *batch.Plan, title string, paper drawing.Paper) []*drawing.Drawing {
	l := drawing.NewList(title, paper)
	overview(l, p)
	l.Heading("The days")
	for _, d := range Days(p, l.Width()) {
		l.Place(d)
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
	sheets(l, p)
	return l.Pages()
}

// overview says how long it takes, what limits it and who is late.
func overview(l *drawing.List, p *batch.Plan) {
	l.Heading("All in all")
	l.Row("orders", fmt.Sprintf("%d, with %d sheaths", len(p.Orders), len(p.Loads)))
	l.Row("time", fmt.Sprintf("%s of work, within %s of %.4g hours; pressed after %s", Hours(p.Schedule.Minutes), plural(p.Days(), "working day"), p.Shop.Day.Minutes/60, Hours(p.Schedule.Pressed)))
	if use := p.Limits(); use.Busy > 0 {
		l.Row("what limits it", fmt.Sprintf("the %s, busy for %.0f %% of its time", use.Place, 100*use.Share))
	}
	for _, s := range p.Savings {
		l.Row("one more", fmt.Sprintf("%s: all is done %s sooner", s.More, Hours(s.Minutes)))
	}
	for _, late := range p.Late {
		o := p.Orders[late.Order]
		l.Row("late", fmt.Sprintf("order %s: due %s, ready %s", o.ID, o.Due.Written(), late.Ready.Written()))
	}
}

// Hours are minutes as hours and minutes.
func Hours(minutes float64) string {
	m := int(math.Round(minutes))
	return fmt.Sprintf("%d h %02d min", m/60, m%60)
}

// bucks says which bucks are used, and what is printed for those that are not there.
func bucks(l *drawing.List, p *batch.Plan) {
	l.Heading("Bucks")
	for _, b := range p.Bucks {
		have := fmt.Sprintf("%d owned", b.Owned)
		if b.Make() > 0 {
			have = "to be made"
		}
		l.Tick(fmt.Sprintf("%s: %s, for %s; %d could be used at once", b.Key, have, plural(b.Loads, "sheath"), b.AtOnce))
	}
	l.Heading("Pieces to print")
	if len(p.Print) == 0 {
		l.Row("none", "every piece is in the drawer already")
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

// sheets shows what is cut from which sheet.
func sheets(l *drawing.List, p *batch.Plan) {
	cuts := Cuts(p)
	if len(cuts) == 0 {
		return
	}
	l.Heading("Sheets: cut along the lines, in the order of the numbers; the extrusion is upright")
	for _, c := range p.Cutting {
		l.Row(fmt.Sprintf("%s, %.4g mm", c.Colour, c.Gauge), fmt.Sprintf("%s from %s: %.0f %% of what is not kept", plural(len(c.Loads), "blank"), plural(len(c.Sheets), "sheet"), 100*c.Yield()))
	}
	for _, c := range cuts {
		l.Place(c.Drawing(r2.Vec{X: l.Width(), Y: 105}))
	}
}

// PickList says for every order what is fetched for it.
func PickList(p *batch.Plan, title string, paper drawing.Paper) []*drawing.Drawing {
	l := drawing.NewList(title, paper)
	l.Heading("For each order, from shelf and drawer")
	for n, o := range p.Orders {
		a := p.ArticleOf(n)
		l.Tick(fmt.Sprintf("%s: %s", o.ID, strings.Join(picked(a, o), ", ")))
	}
	return l.Pages()
}

// picked is what an order takes.
func picked(a *batch.Article, o batch.Order) []string {
	all := []string{
		"buck " + a.String(),
		fmt.Sprintf("%d blanks %s %.4g mm, %.1f x %.1f mm", 2*o.Quantity, o.Colour, a.Gauge, a.Blank.Width, a.Blank.Height),
	}
	for _, s := range a.Takes() {
		if s.Need > 0 {
			all = append(all, plural(s.Need*o.Quantity, s.Name))
		}
	}
	return all
}

// Travellers are sheets that go along with the orders, one for each: what it is, what it takes, and a box for
// each step of each sheath.
func Travellers(p *batch.Plan, title string, paper drawing.Paper) []*drawing.Drawing {
	l := drawing.NewList(title, paper)
	for n, o := range p.Orders {
		if n > 0 {
			l.Page()
		}
		traveller(l, p, n, o)
	}
	return l.Pages()
}

func traveller(l *drawing.List, p *batch.Plan, n int, o batch.Order) {
	a := p.ArticleOf(n)
	l.Heading("Order " + o.ID)
	l.Row("knife", fmt.Sprintf("%s, hand: %s", a.Variant, o.Hand))
	l.Row("sheet", fmt.Sprintf("%s, %.4g mm", o.Colour, a.Gauge))
	l.Row("how many", plural(o.Quantity, "sheath"))
	if !o.Due.None() {
		l.Row("due", o.Due.Written())
	}
	l.Row("ready", Ready(p, n))
	if o.Note != "" {
		l.Row("note", o.Note)
	}
	l.Heading("What it takes")
	for _, what := range picked(a, o) {
		l.Tick(what)
	}
	l.Heading("Steps")
	for k := range o.Quantity {
		if o.Quantity > 1 {
			l.Row(fmt.Sprintf("sheath %d of %d", k+1, o.Quantity), times(p, n, k+1))
		} else {
			l.Row("in the plan", times(p, n, 1))
		}
		for _, s := range batch.Steps() {
			l.Tick(stepWords(s, a))
		}
	}
	l.Heading("Checked")
	l.Tick("knife in and out without hooking; tip drains; nothing rattles")
	l.Tick("held upside down and shaken over something soft, the knife stays in")
}

// Ready is when the plan has an order done, in words.
func Ready(p *batch.Plan, n int) string {
	t := p.Schedule.Ready[n]
	if t == 0 {
		return "is done"
	}
	return moment(p, t)
}

// moment is a moment of the plan, with its day.
func moment(p *batch.Plan, t float64) string {
	day, clock := p.Shop.Day.Clock(t)
	return dayName(p, day) + ", " + clock
}

// times are when a sheath is pressed and when it is done.
func times(p *batch.Plan, order, number int) string {
	var all []string
	for _, s := range p.Schedule.Slots {
		l := p.Loads[s.Load]
		if l.Order != order || l.Number != number {
			continue
		}
		switch s.Step {
		case batch.Heating:
			all = append(all, "heat from "+moment(p, s.Begin))
		case batch.Riveting:
			all = append(all, "done "+moment(p, s.End))
		}
	}
	if len(all) == 0 {
		return "is done"
	}
	return strings.Join(all, "; ")
}

// stepWords is what there is to do in a step.
func stepWords(s batch.Step, a *batch.Article) string {
	switch s {
	case batch.Drilling:
		return fmt.Sprintf("drill the pair: %s", plural(a.Holes, "hole"))
	case batch.Trimming:
		if a.Posts > 0 {
			return fmt.Sprintf("trim both halves, and drill %s for posts", plural(a.Posts, "hole"))
		}
		return "trim both halves"
	case batch.Riveting:
		return fmt.Sprintf("set %s", plural(a.Eyelets, "eyelet"))
	case batch.Finish:
		if a.Hand == buck.Plain {
			return "finish edges and mouth"
		}
		return "finish edges and mouth, fit the plate"
	default:
		return string(s)
	}
}
