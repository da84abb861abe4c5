package picture

import (
	"fmt"
	"slices"
	"strings"

	"formbuck/buck/batch"
	"formbuck/buck/bench"
	"formbuck/buck/paper/drawing"
)

// Travellers are sheets that go along with the orders, numbered for each: what it is, what it takes, and a box for
// each step of each sheath, with the run of the mill that it is part of; the steps are those of the set-up sheet, word for word.
func Travellers(p *batch.Plan, title string, paper drawing.Paper) []*drawing.Drawing {
	var pages []*drawing.Drawing
	t := tracks(p)
	for n, loads := range byOrder(p) {
		l := drawing.NewList("Order "+p.Orders[n].ID, paper)
		l.Row("from", title)
		traveller(l, p, loads, t)
		pages = append(pages, l.Pages()...)
	}
	return pages
}

// track is where a load is to be found: the sheets that its blanks are cut from, its works in the mill's runs, and its
// times.
type track struct {
	sheets []string
	turned bool // how its blanks lie on the sheets
	works  map[batch.Step][]string
	times  []string
}

// tracks are those of all loads.
func tracks(p *batch.Plan) map[*batch.Load]*track {
	all := make(map[*batch.Load]*track)
	for _, l := range p.Loads {
		all[l] = &track{works: make(map[batch.Step][]string)}
	}
	for _, c := range p.Cutting {
		for i, s := range c.Sheets {
			for _, b := range s.Placed {
				t, name := all[p.Loads[c.Loads[b.Blank]]], fmt.Sprintf("sheet %d of %s %.4g mm", i+1, c.Colour, c.Gauge)
				t.turned = b.Turned
				if !slices.Contains(t.sheets, name) {
					t.sheets = append(t.sheets, name)
				}
			}
		}
	}
	for _, r := range p.Runs {
		for i, w := range r.Works {
			t, step := all[w.Load], w.Program.Step()
			t.works[step] = append(t.works[step], fmt.Sprintf("work %d of %s", i+1, r.Name))
		}
	}
	for _, s := range p.Schedule.Slots {
		switch t := all[p.Loads[s.Load]]; s.Step {
		case batch.Heating:
			t.times = append(t.times, "heat from "+moment(p, s.Begin))
		case batch.Riveting:
			t.times = append(t.times, "done "+moment(p, s.End))
		}
	}
	return all
}

func traveller(l *drawing.List, p *batch.Plan, loads []*batch.Load, tracks map[*batch.Load]*track) {
	n := loads[0].Order
	o, a := p.Orders[n], p.ArticleOf(n)
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
	for _, f := range o.More {
		l.Row(f.Column, f.Text)
	}
	var warnings []string
	for _, w := range a.Warnings {
		warnings = append(warnings, w.What)
	}
	warned(l, "Warnings", warnings)
	if !loads[0].Did(batch.Riveting) {
		l.Heading("What it takes")
		for _, what := range picked(loads[0], o) {
			l.Tick(what)
		}
	}
	l.Row("with care", bench.Pointer+"; "+bench.First)
	l.Heading("Each sheath on its way, by the numbers of the steps")
	for _, load := range loads {
		steps(l, p, load, tracks[load])
	}
	l.Heading("The steps, as on the set-up sheet")
	for _, s := range a.Steps {
		l.Row(fmt.Sprintf("step %d", s.Number), s.Name+": "+s.Do)
	}
	l.Heading("Checked")
	for _, c := range a.Checks {
		l.Tick(c)
	}
}

// steps are a sheath's, those that are done without a box.
func steps(l *drawing.List, p *batch.Plan, load *batch.Load, t *track) {
	name, times := "in the plan", strings.Join(t.times, "; ")
	if o := p.Orders[load.Order]; o.Quantity > 1 {
		name = fmt.Sprintf("sheath %d of %d", load.Number, o.Quantity)
	}
	if times == "" {
		times = done
	}
	l.Keep(3)
	l.Row(name, times)
	all := slices.Clone(load.Article.Steps)
	for i, s := range all {
		if s.Name == bench.PostHoles && p.Shop.Mill.ByHand {
			all[i].Stage = bench.End
		}
	}
	if load.Done != "" {
		l.Row("done", upTo(load.Done))
	} else {
		l.Tick(fmt.Sprintf("%s: 2, from %s; mark their extrusion, which lies %s the blade", numbered(bench.At(all, bench.Cut)), strings.Join(t.sheets, " and "), grain(load.Article, t.turned)))
	}
	for _, s := range batch.Steps() {
		if load.Did(s) {
			continue
		}
		text := numbered(bench.At(all, bench.Stage(s)))
		if works := t.works[s]; len(works) > 0 {
			text += ": " + strings.Join(works, ", ")
		} else if s.Place() == batch.AtMill {
			text += ": without a run, no program could be written"
		}
		l.Tick(text)
	}
}

// numbered are the names of steps with their numbers.
func numbered(steps []bench.Step) string {
	var all []string
	for _, s := range steps {
		all = append(all, fmt.Sprintf("%d %s", s.Number, s.Name))
	}
	return strings.Join(all, ", ")
}

// upTo are the steps that are done.
func upTo(last batch.Step) string {
	var all []string
	for _, s := range batch.Marks() {
		if all = append(all, string(s)); s == last {
			break
		}
	}
	return strings.Join(all, ", ")
}
