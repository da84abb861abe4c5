package nest

import (
	"cmp"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
)

// shuffles is how many orders of a list are tried beside the sorted ones: fewer of a long one.
func shuffles(blanks int) int { return min(100, max(6, 3000/(blanks+1))) }

// Plan lays all blanks out on sheets of the kinds in stock, of which there is at least one. It opens
// as little sheet area as it finds a way to, and of two plans with the same area takes that which uses
// less of it, the rests that are kept not counted. The same list gives the same plan. The error is a [*Short].
func Plan(blanks []Blank, stock []Stock, saw Saw) ([]*Sheet, error) {
	for n, b := range blanks {
		if !slices.ContainsFunc(stock, func(s Stock) bool { return holds(s, b) }) {
			return nil, &Short{Blank: n, Size: b.Size, Large: true}
		}
	}
	var short error
	for _, first := range []way{anyWay, straight, turned} { // a way that is found blank by blank may leave no place for the next
		best, err := planned(blanks, stock, saw, first)
		if err == nil {
			return best, nil
		}
		if short == nil {
			short = err
		}
	}
	return nil, short
}

// planned is the best plan in which blanks that lie alike lie one way.
func planned(blanks []Blank, stock []Stock, saw Saw, w way) (best []*Sheet, short error) {
	kinds := kinds(blanks)
	for _, order := range orders(blanks) {
		for _, r := range rules() {
			p := plan{blanks: blanks, kinds: kinds, rule: r, saw: saw, left: slices.Clone(stock), ways: ways(blanks, w)}
			if err := p.lay(order); err != nil {
				short = err
				continue
			}
			if best == nil || better(p.sheets, best) {
				best = p.sheets
			}
		}
	}
	if best != nil || len(blanks) == 0 {
		return best, nil
	}
	return nil, short
}

// ways are how the blanks that lie alike lie to begin with, by the number that they share. Those that may not be turned
// are not.
func ways(blanks []Blank, w way) map[int]way {
	all := make(map[int]way)
	for _, b := range blanks {
		if all[b.Like] = w; b.Turned.Area() == 0 && w == turned {
			all[b.Like] = straight
		}
	}
	all[0] = anyWay
	return all
}

// holds tells whether a sheet is large enough for the blank.
func holds(s Stock, b Blank) bool {
	_, fits := newFilling(s, rules()[0], Saw{}).best(b, anyWay)
	return fits
}

// better compares plans by area opened, then by area used.
func better(a, b []*Sheet) bool {
	areas := func(sheets []*Sheet) (opened, used float64) {
		for _, s := range sheets {
			opened += s.Stock.Area()
			used += s.Used()
		}
		return opened, used
	}
	openedA, usedA := areas(a)
	openedB, usedB := areas(b)
	if math.Abs(openedA-openedB) > slack {
		return openedA < openedB
	}
	return usedA < usedB-slack
}

// orders are the orders in which the list is tried: the large first by several measures, and then
// each a little shuffled, or all of it. The generator's seed is fixed.
func orders(blanks []Blank) [][]int {
	var all [][]int
	for _, measure := range []func(Blank) float64{
		func(b Blank) float64 { return max(b.Width, b.Height) },
		func(b Blank) float64 { return b.Area() },
		func(b Blank) float64 { return b.Width },
		func(b Blank) float64 { return b.Height },
	} {
		order := make([]int, len(blanks))
		for n := range order {
			order[n] = n
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(measure(blanks[b]), measure(blanks[a])) })
		all = append(all, order)
	}
	rng := rand.New(rand.NewPCG(2010, 1))
	for n := range shuffles(len(blanks)) {
		order := slices.Clone(all[n%4])
		if n%8 > 3 {
			rng.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		}
		for i := range order {
			if j := i + rng.IntN(4); j < len(order) {
				order[i], order[j] = order[j], order[i]
			}
		}
		all = append(all, order)
	}
	return all
}

// plan is a plan in the making.
type plan struct {
	blanks []Blank
	rule   rule
	saw    Saw
	left   []Stock
	kinds  []int       // of each blank: blanks of one size are one kind
	ways   map[int]way // of the blanks that lie alike and lie on a sheet
	sheets []*Sheet
}

// kinds numbers the blanks' sizes.
func kinds(blanks []Blank) []int {
	number := make(map[Blank]int)
	out := make([]int, len(blanks))
	for n, b := range blanks {
		b.Like = 0
		if _, known := number[b]; !known {
			number[b] = len(number)
		}
		out[n] = number[b]
	}
	return out
}

// lay opens sheets until all blanks of the order are on one.
func (p *plan) lay(order []int) error {
	for len(order) > 0 {
		best, kind, rest := (*Sheet)(nil), 0, []int(nil)
		for i, s := range p.left {
			if s.Count < 0 {
				continue // used up
			}
			sheet, after := p.fill(s, order)
			if len(sheet.Placed) == 0 || best != nil && !(sheet.Yield() > best.Yield()+slack) {
				continue
			}
			best, kind, rest = sheet, i, after
		}
		if best == nil {
			return &Short{Blank: order[0], Size: p.blanks[order[0]].Size}
		}
		if s := &p.left[kind]; s.Count > 0 {
			if s.Count--; s.Count == 0 {
				s.Count = -1
			}
		}
		for _, placed := range best.Placed {
			p.turn(p.ways, placed.Blank, placed.Turned)
		}
		p.sheets = append(p.sheets, best)
		order = rest
	}
	return nil
}

// turn keeps in mind how a blank lies, for those that are to lie like it.
func (p *plan) turn(ways map[int]way, blank int, over bool) {
	like := p.blanks[blank].Like
	switch {
	case like == 0:
	case over:
		ways[like] = turned
	default:
		ways[like] = straight
	}
}

// fill puts as many blanks of the order on one sheet as find a place, and gives the others.
func (p *plan) fill(s Stock, order []int) (*Sheet, []int) {
	f := newFilling(s, p.rule, p.saw)
	refused := make([][3]bool, len(p.blanks)) // by kind and way: a sheet only gets fuller
	ways := maps.Clone(p.ways)
	var rest []int
	for _, n := range order {
		b := p.blanks[n]
		at, fits := spot{}, false
		no := &refused[p.kinds[n]][ways[b.Like]]
		if !*no {
			at, fits = f.best(b, ways[b.Like])
		}
		if !fits {
			*no = true
			rest = append(rest, n)
			continue
		}
		f.put(n, at)
		p.turn(ways, n, at.turned)
	}
	return f.done(), rest
}
