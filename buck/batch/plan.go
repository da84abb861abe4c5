package batch

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"

	"formbuck/buck/internal/lettering"

	"formbuck/buck/internal/nest"
)

// Plan is all that the shop has to do for a list of orders.
type Plan struct {
	Shop     *Shop
	Orders   []Order
	Start    Day // zero: not given, and nobody can be called late
	Loads    []*Load
	Schedule *Schedule
	Late     []Late
	Bucks    []BuckNeed
	Print    []Print
	Cutting  []Cutting
	Counts   []Count
	Savings  []Saving
	Runs     []Run // of the mill

	articles []*Article
}

// ArticleOf is what an order is of, by its index.
func (p *Plan) ArticleOf(order int) *Article { return p.articles[order] }

// Warnings are those of all articles, each once, in the order of the list; only the grave ones, or only the others.
func (p *Plan) Warnings(grave bool) []string {
	var all []string
	for _, a := range p.articles {
		for _, w := range a.Warnings {
			if w.Grave == grave && !slices.Contains(all, w.What) {
				all = append(all, w.What)
			}
		}
	}
	return all
}

// Letters says of letters in the orders that the papers cannot show what stands for them; empty where there are none.
func (p *Plan) Letters() string {
	var texts []string
	for _, o := range p.Orders {
		texts = append(texts, o.ID, o.Variant, o.Colour, o.Note)
		for _, f := range o.More {
			texts = append(texts, f.Column, f.Text)
		}
	}
	return lettering.Missing(lettering.Lacking(texts...))
}

// Late is an order that is done after its date.
type Late struct {
	Order int
	Ready Day
}

// BuckNeed is how many copies of a buck the plan uses.
type BuckNeed struct {
	Key
	Loads  int
	Owned  int
	AtOnce int // as many as there are presses for, if there are so many loads
}

// Make is how many have to be made before the batch can begin: a buck that is owned is not made.
func (b BuckNeed) Make() int { return max(0, 1-b.Owned) }

// Print is a piece to print: one file, for as many bucks as take it, less the one in the drawer.
type Print struct {
	Variant string
	Gauge   float64 // mm
	File    string
	Count   int

	drawer bool // one is there already
}

// Cutting is what is cut from the sheets of one colour and gauge.
type Cutting struct {
	Colour string
	Gauge  float64
	Loads  []int // whose blank each index of a sheet's blanks is: two in a row for each load
	Sheets []*nest.Sheet
}

// Yield is the blanks' share of the sheets, the rests that are kept not counted.
func (c Cutting) Yield() float64 {
	blanks, used := 0.0, 0.0
	for _, s := range c.Sheets {
		blanks += s.Yield() * s.Stock.Area()
		used += s.Used()
	}
	return blanks / used
}

// Count is how much of a supply is needed, and how much is on the shelf.
type Count struct {
	Name          string
	Need, OnShelf int
}

// Missing is how many have to be bought.
func (c Count) Missing() int { return max(0, c.Need-c.OnShelf) }

// Saving is by how much sooner all is done, in minutes, with one more of something.
type Saving struct {
	More    string
	Minutes float64
}

// Request is what a plan is made from. Articles has one for every order; orders with the same variant, hand
// and gauge share one.
type Request struct {
	Shop     *Shop
	Orders   []Order
	Articles []*Article // of each order
	Done     []Status   // of each order; nil: nothing is done
	Start    Day        // the day on which the plan begins; zero: not given
}

// New makes a plan. The same request gives the same plan. The error tells of every order that cannot
// be made: no sheet for a blank, a day too short for heat and press.
func New(r Request) (*Plan, error) {
	p := &Plan{Shop: r.Shop, Orders: r.Orders, Start: r.Start, articles: r.Articles}
	for n, o := range r.Orders {
		done := Step("")
		if r.Done != nil {
			done = r.Done[n].Done
		}
		for k := range o.Quantity {
			p.Loads = append(p.Loads, &Load{
				Order: n, Number: k + 1, Article: r.Articles[n], Colour: o.Colour, Due: o.Due, Done: done,
			})
		}
	}
	var faults []error
	for n, a := range r.Articles {
		if need := r.Shop.Heat.PerMM*a.Gauge + r.Shop.Press.Minutes; need > r.Shop.Day.Minutes {
			faults = append(faults, fmt.Errorf("order %s: heat and press take %.0f minutes, a working day has %.0f", r.Orders[n].ID, need, r.Shop.Day.Minutes))
		}
	}
	if err := p.cut(); err != nil {
		faults = append(faults, err)
	}
	if len(faults) > 0 {
		return nil, errors.Join(faults...)
	}
	p.gather()
	p.time()
	p.Runs = p.runs()
	return p, nil
}

// copies is how many of a buck there are to press over: those that are owned, and at least one.
func (p *Plan) copies(k Key) int { return max(1, p.Shop.owned(k.Variant, k.Hand)) }

func (p *Plan) scheduler(s *Shop, copies func(Key) int) *scheduler {
	found := &scheduler{shop: s, loads: p.Loads, orders: len(p.Orders), start: p.Start, copies: copies, due: ranks(p.Loads)}
	for _, l := range p.Loads {
		found.todo = append(found.todo, s.later(l))
	}
	return found
}

// time finds the schedule, who is late in it, and what one more of something would save.
func (p *Plan) time() {
	var order []int
	p.Schedule, order = p.scheduler(p.Shop, p.copies).best()
	if !p.Start.None() {
		for n, o := range p.Orders {
			if ready := p.Start.After(p.Shop.Day.dayOf(p.Schedule.Ready[n])); !o.Due.None() && o.Due.Before(ready) {
				p.Late = append(p.Late, Late{Order: n, Ready: ready})
			}
		}
	}
	p.save(order)
}

// more is a shop with one more of something.
type more struct {
	name   string
	shop   Shop
	copies func(Key) int
}

// mores are the shops that are looked at.
func (p *Plan) mores() []more {
	var all []more
	for _, at := range Places() {
		m := more{name: at.One(), shop: *p.Shop, copies: p.copies}
		*m.shop.count(at)++
		all = append(all, m)
	}
	bucks := all[AtPress]
	bucks.name, bucks.copies = "press, and one more of each buck", func(k Key) int { return p.copies(k) + 1 }
	all = append(all, bucks)
	if p.Shop.Press.Count == 1 {
		return all // a second buck would lie idle
	}
	for _, b := range p.Bucks {
		all = append(all, more{name: "buck " + b.String(), shop: *p.Shop, copies: func(k Key) int {
			if k == b.Key {
				return p.copies(k) + 1
			}
			return p.copies(k)
		}})
	}
	return all
}

// save finds by how much sooner all would be done with one more of something. The plan's own order
// is one that each looks at, so that none is called slower for want of looking.
func (p *Plan) save(order []int) {
	all := p.mores()
	minutes := make([]float64, len(all))
	var wait sync.WaitGroup
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	for i := range all {
		wait.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			s := p.scheduler(&all[i].shop, all[i].copies)
			s.begin, s.share = [][]int{order}, 8
			out, _ := s.best()
			minutes[i] = p.Schedule.Minutes - out.Minutes
		})
	}
	wait.Wait()
	const least, share = 0.5, 0.01 // in minutes, and of all the time: less is not worth a word; our own, no source
	for i, m := range all {
		if i == int(places_) && minutes[i] < minutes[AtPress]+0.5 {
			continue // the bucks would add nothing to the press
		}
		if minutes[i] > max(least, share*p.Schedule.Minutes) {
			p.Savings = append(p.Savings, Saving{More: m.name, Minutes: minutes[i]})
		}
	}
	slices.SortStableFunc(p.Savings, func(a, b Saving) int { return cmp.Compare(b.Minutes, a.Minutes) })
}

// String is the buck in words.
func (k Key) String() string { return fmt.Sprintf("%s, %s, %.4g mm", k.Variant, k.Hand, k.Gauge) }

// gather counts bucks, pieces and supplies.
func (p *Plan) gather() {
	loads := make(map[Key]int)
	articles := make(map[Key]*Article)
	counts := [4]int{}
	for _, l := range p.Loads {
		if !l.Did(Pressing) {
			loads[l.Article.Key]++
			articles[l.Article.Key] = l.Article
		}
		if l.Done != Riveting {
			for i, n := range l.Article.takes() {
				counts[i] += n
			}
		}
	}
	for i, name := range Supplies() {
		p.Counts = append(p.Counts, Count{Name: name, Need: counts[i], OnShelf: p.Shop.Supplies[name]})
	}
	for k, n := range loads {
		p.Bucks = append(p.Bucks, BuckNeed{Key: k, Loads: n, Owned: p.Shop.owned(k.Variant, k.Hand), AtOnce: min(n, p.Shop.Press.Count)})
	}
	slices.SortFunc(p.Bucks, func(a, b BuckNeed) int { return compareKeys(a.Key, b.Key) })
	for _, b := range p.Bucks {
		a := articles[b.Key]
		if b.Make() == 0 {
			continue
		}
		for _, file := range slices.Concat(a.Pieces, a.Tools) {
			one := p.printed(b.Key, file)
			if slices.Contains(a.Pieces, file) {
				one.Count += b.Make()
			} else {
				one.Count = 1
			}
			one.drawer = slices.Contains(a.Printed, file)
		}
	}
	for i := range p.Print {
		if p.Print[i].drawer {
			p.Print[i].Count--
		}
	}
	p.Print = slices.DeleteFunc(p.Print, func(one Print) bool { return one.Count == 0 })
}

// printed is what is printed of a file: bucks for several hands share pieces.
func (p *Plan) printed(k Key, file string) *Print {
	i := slices.IndexFunc(p.Print, func(one Print) bool { return one.Variant == k.Variant && one.Gauge == k.Gauge && one.File == file })
	if i < 0 {
		i = len(p.Print)
		p.Print = append(p.Print, Print{Variant: k.Variant, Gauge: k.Gauge, File: file})
	}
	return &p.Print[i]
}

func compareKeys(a, b Key) int {
	return cmp.Or(cmp.Compare(a.Variant, b.Variant), cmp.Compare(a.Hand, b.Hand), cmp.Compare(a.Gauge, b.Gauge))
}

// cut lays the blanks out, colour by colour and gauge by gauge.
func (p *Plan) cut() error {
	var faults []error
	for _, c := range p.kinds() {
		var blanks []nest.Blank
		for n, l := range p.Loads {
			if l.uncut() && l.Colour == c.Colour && l.Article.Gauge == c.Gauge {
				one := l.Article.Blank
				one.Like = n + 1
				c.Loads = append(c.Loads, n, n)
				blanks = append(blanks, one, one)
			}
		}
		sheets, err := nest.Plan(blanks, p.Shop.stock(c.Colour, c.Gauge), p.Shop.Saw)
		var short *nest.Short
		if errors.As(err, &short) {
			o := p.Orders[p.Loads[c.Loads[short.Blank]].Order]
			faults = append(faults, fmt.Errorf("order %s: %s sheet of %.4g mm: %w", o.ID, c.Colour, c.Gauge, err))
			continue
		}
		c.Sheets = sheets
		p.Cutting = append(p.Cutting, c)
	}
	return errors.Join(faults...)
}

// kinds are the colours and gauges that are cut, each once, in order.
func (p *Plan) kinds() []Cutting {
	var all []Cutting
	for _, l := range p.Loads {
		same := func(c Cutting) bool { return c.Colour == l.Colour && c.Gauge == l.Article.Gauge }
		if l.uncut() && !slices.ContainsFunc(all, same) {
			all = append(all, Cutting{Colour: l.Colour, Gauge: l.Article.Gauge})
		}
	}
	slices.SortFunc(all, func(a, b Cutting) int {
		return cmp.Or(cmp.Compare(a.Colour, b.Colour), cmp.Compare(a.Gauge, b.Gauge))
	})
	return all
}

// Days is how many working days the batch takes, the last one begun counted whole.
func (p *Plan) Days() int { return int(math.Ceil(p.Schedule.Minutes/p.Shop.Day.Minutes - tiny)) }

// Limits is the kind of place that is busiest: more of it would help first.
func (p *Plan) Limits() Use {
	return slices.MaxFunc(p.Schedule.Use, func(a, b Use) int { return cmp.Compare(a.Share, b.Share) })
}
