package batch

import (
	"cmp"
	"fmt"
	"slices"

	"formbuck/buck/program/runs"
)

// Program is a program for the mill that a sheath goes through: a work that is put on the mill.
type Program struct {
	File string // in the variant's job folder; "": none could be written
	Does string // in words
	Kind runs.Kind
	Work string // what is put on the mill: the pair, or which half
	Tool string // in words: runs are of one tool

	Plate bool // the work lies on the plate of its knife: two screws, and both halves are put on at once
}

// Step is the one that the program is part of.
func (p Program) Step() Step {
	if p.Kind == runs.Drill {
		return Drilling
	}
	return Trimming
}

// mills tells whether a program is part of a step in this shop, which may drill the posts' holes by hand.
func (s *Shop) mills(p Program, step Step) bool {
	return p.Step() == step && !(s.Mill.ByHand && p.Kind == runs.Posts)
}

// Milled are the programs of a step of an article.
func (s *Shop) Milled(a *Article, step Step) []Program {
	return slices.DeleteFunc(slices.Clone(a.Programs), func(p Program) bool { return !s.mills(p, step) })
}

// Run is what the mill does on one day with one tool in one kind of set-up, one work after the other.
type Run struct {
	Name  string // of its file, without .ngc: day-1-drill
	Day   int    // from 0
	Kind  runs.Kind
	Tool  string
	Works []Work
}

// Work is one program for one load.
type Work struct {
	Load    *Load
	Program Program
	Line    int // of the run's file, where it begins; 0: not told

	Stays bool // it was put on the plate with the work before it: there is nothing to change
}

// stays tells whether a work was put on its plate together with the one before it.
func stays(before, w Work) bool {
	return before.Load == w.Load && before.Program.Plate && w.Program.Plate && before.Program.Work != w.Program.Work
}

// puttings is how often a work is put on the mill for programs: both halves at once where they lie on a plate.
func puttings(programs []Program) int {
	n := 0
	for i, p := range programs {
		both := i > 0 && p.Plate && slices.ContainsFunc(programs[:i], func(q Program) bool { return q.Plate && q.Kind == p.Kind && q.Work != p.Work })
		if !both {
			n++
		}
	}
	return n
}

// NameOf says what is put on the mill for a work.
func (p *Plan) NameOf(w Work) string {
	o := p.Orders[w.Load.Order]
	name := "order " + o.ID
	if o.Quantity > 1 {
		name += fmt.Sprintf(", sheath %d of %d", w.Load.Number, o.Quantity)
	}
	name = fmt.Sprintf("%s: %s, %s %s, %s", name, w.Program.Work, w.Load.Article.Variant, w.Load.Article.Hand, w.Load.Colour)
	switch {
	case w.Stays:
		name += "; lies on the plate already"
	case w.Program.Plate:
		name += "; on its plate"
	}
	return name
}

// runs are the runs of the mill, day by day, those of a day in the order of the work; the works in that of the plan.
// Programs that could not be written are not among them: Unwritten tells of these.
func (p *Plan) runs() []Run {
	var all []Run
	for _, slot := range p.Schedule.InTime() {
		l := p.Loads[slot.Load]
		day, _ := p.Shop.Day.Clock(slot.End)
		for _, m := range p.Shop.Milled(l.Article, slot.Step) {
			if m.File == "" {
				continue
			}
			i := slices.IndexFunc(all, func(r Run) bool { return r.Day == day && r.Kind == m.Kind && r.Tool == m.Tool })
			if i < 0 {
				i = len(all)
				all = append(all, Run{Day: day, Kind: m.Kind, Tool: m.Tool})
			}
			w := Work{Load: l, Program: m}
			if n := len(all[i].Works); n > 0 {
				w.Stays = stays(all[i].Works[n-1], w)
			}
			all[i].Works = append(all[i].Works, w)
		}
	}
	rank := func(r Run) int { return slices.Index(runs.Kinds(), r.Kind) }
	slices.SortStableFunc(all, func(a, b Run) int { return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(rank(a), rank(b))) })
	same := 0
	for i := range all {
		r := &all[i]
		if r.Name = fmt.Sprintf("day-%d-%s", r.Day+1, r.Kind); i > 0 && all[i-1].Day == r.Day && all[i-1].Kind == r.Kind {
			same++
			r.Name += fmt.Sprintf("-%d", same+1)
		} else {
			same = 0
		}
	}
	return all
}

// Unwritten are the programs that the runs have to do without, since none could be written, each once.
func (p *Plan) Unwritten() []string {
	var all []string
	for _, slot := range p.Schedule.InTime() {
		a := p.Loads[slot.Load].Article
		for _, m := range p.Shop.Milled(a, slot.Step) {
			if line := fmt.Sprintf("%s: no program to %s", a.Variant, m.Does); m.File == "" && !slices.Contains(all, line) {
				all = append(all, line)
			}
		}
	}
	return all
}
