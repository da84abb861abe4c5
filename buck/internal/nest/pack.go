package nest

import (
	"cmp"
	"math"
	"slices"
)

// rule says which free rectangle a blank goes to and how that is cut.
type rule struct {
	fit   func(free Rect, s Size) float64 // the less, the better
	along func(free Rect, s Size) bool    // whether the first cut goes along x
}

// The fits: by area left, by the shorter and by the longer side left.
func areaFit(f Rect, s Size) float64 { return f.Area() - s.Area() }

func shortFit(f Rect, s Size) float64 {
	return min(f.Width-s.Width, f.Height-s.Height)
}

func longFit(f Rect, s Size) float64 {
	return max(f.Width-s.Width, f.Height-s.Height)
}

// The cuts: along the shorter rest, along the longer, always along x, always along y.
func shortRest(f Rect, s Size) bool { return f.Width-s.Width < f.Height-s.Height }
func longRest(f Rect, s Size) bool  { return !shortRest(f, s) }
func alongX(Rect, Size) bool        { return true }
func alongY(Rect, Size) bool        { return false }

func rules() []rule {
	var all []rule
	for _, fit := range []func(Rect, Size) float64{areaFit, shortFit, longFit} {
		for _, along := range []func(Rect, Size) bool{shortRest, longRest, alongX, alongY} {
			all = append(all, rule{fit, along})
		}
	}
	return all
}

// filling is a sheet being filled by a rule.
type filling struct {
	rule  rule
	saw   Saw
	free  []Rect
	sheet *Sheet
}

func newFilling(s Stock, r rule, saw Saw) *filling {
	return &filling{rule: r, saw: saw, free: []Rect{{Size: s.Size}}, sheet: &Sheet{Stock: s, Saw: saw}}
}

// spot is a place for a blank.
type spot struct {
	free   int
	size   Size
	turned bool
	score  float64
}

// best is the best place for the blank on the sheet, where it lies the way that is given; false where there is none.
func (f *filling) best(b Blank, w way) (spot, bool) {
	found, at := false, spot{score: math.Inf(1)}
	for i, free := range f.free {
		for turned, s := range b.sizes(w) {
			if s.Area() == 0 || s.Width > free.Width+slack || s.Height > free.Height+slack {
				continue
			}
			if score := f.rule.fit(free, s); score < at.score {
				found, at = true, spot{free: i, size: s, turned: turned == 1, score: score}
			}
		}
	}
	return at, found
}

// put cuts the blank out of the free rectangle of the spot.
func (f *filling) put(n int, at spot) {
	free := f.free[at.free]
	f.free = slices.Delete(f.free, at.free, at.free+1)
	f.sheet.Placed = append(f.sheet.Placed, Placed{Blank: n, Rect: Rect{X: free.X, Y: free.Y, Size: at.size}, Turned: at.turned})
	if f.rule.along(free, at.size) {
		f.cutBeside(f.cutAbove(free, at.size.Height), at.size.Width)
	} else {
		f.cutAbove(f.cutBeside(free, at.size.Width), at.size.Height)
	}
}

// cutAbove cuts a piece along x at a height over its lower edge, keeps the upper part free and
// gives the lower one. A piece of that height is not cut.
func (f *filling) cutAbove(r Rect, height float64) Rect {
	rest := r.Height - height
	if rest <= slack {
		return r
	}
	kerf := min(f.saw.Kerf, rest)
	f.sheet.Cuts = append(f.sheet.Cuts, Cut{Rect: Rect{X: r.X, Y: r.Y + height, Size: Size{Width: r.Width, Height: kerf}}})
	if rest-kerf > slack {
		f.free = append(f.free, Rect{X: r.X, Y: r.Y + height + kerf, Size: Size{Width: r.Width, Height: rest - kerf}})
	}
	r.Height = height
	return r
}

// cutBeside cuts a piece along y at a width from its left edge.
func (f *filling) cutBeside(r Rect, width float64) Rect {
	rest := r.Width - width
	if rest <= slack {
		return r
	}
	kerf := min(f.saw.Kerf, rest)
	f.sheet.Cuts = append(f.sheet.Cuts, Cut{Upright: true, Rect: Rect{X: r.X + width, Y: r.Y, Size: Size{Width: kerf, Height: r.Height}}})
	if rest-kerf > slack {
		f.free = append(f.free, Rect{X: r.X + width + kerf, Y: r.Y, Size: Size{Width: rest - kerf, Height: r.Height}})
	}
	r.Width = width
	return r
}

// done is the sheet with its rests in order.
func (f *filling) done() *Sheet {
	f.sheet.Rest = slices.Clone(f.free)
	slices.SortStableFunc(f.sheet.Rest, func(a, b Rect) int { return cmp.Compare(b.Area(), a.Area()) })
	return f.sheet
}
