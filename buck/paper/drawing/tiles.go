package drawing

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Tiles puts a drawing that may be larger than the paper on as few pages as it takes, at 1:1. A page lies, or stands where
// that takes fewer. What may be set apart goes beside the rest or on a page of its own where all together is too
// large. Nothing is cut along that could be on a page in one piece, if that can be avoided. Pages overlap by 12 mm at
// least, with crosses to lay them on each other by, and every page has bars of 100 mm and 4 in both ways.
func (d *Drawing) Tiles(p Paper) []*Drawing {
	if s := d.onOne(p); s != nil {
		return paged(d.Title, []*sheet{s})
	}
	return paged(d.Title, d.cut(p, false).sheets)
}

// Split is Tiles, but that what may be set apart and found no room beside the rest is not put on a page of its own; it is given
// back, as drawings that can be put together with others.
func (d *Drawing) Split(p Paper) (pages, rest []*Drawing) {
	if s := d.onOne(p); s != nil {
		return paged(d.Title, []*sheet{s}), nil
	}
	t := d.cut(p, true)
	return paged(d.Title, t.sheets), t.rest
}

// cut is the best way to put the drawing on several pages.
func (d *Drawing) cut(p Paper, split bool) *tiling {
	var best *tiling
	for _, upright := range []bool{false, true} {
		for _, apart := range []bool{false, true} {
			t := &tiling{paper: p, upright: upright, split: split}
			t.all(d, apart && len(d.apart) > 0)
			if best == nil || t.better(best) {
				best = t
			}
		}
	}
	return best
}

// onOne is the drawing on one page, lying or upright, or nil.
func (d *Drawing) onOne(p Paper) *sheet {
	box, ok := inked(d.items)
	for _, upright := range []bool{false, true} {
		s := newSheet(p, upright)
		if !ok {
			return s
		}
		if at, ok := s.room(box.Size()); ok {
			s.put(d.items, box, at)
			return s
		}
	}
	return nil
}

// tiling is one way to put a drawing on several pages.
type tiling struct {
	paper   Paper
	upright bool
	split   bool // what finds no room beside the rest is kept for elsewhere
	sheets  []*sheet
	rest    []*Drawing
	along   float64 // how much is cut lengthwise that could be in one piece
}

func (t *tiling) better(than *tiling) bool {
	if t.along != than.along {
		return t.along < than.along
	}
	return t.pages() < than.pages()
}

// pages is how many there are, where what is kept for elsewhere counts for a part of one.
func (t *tiling) pages() float64 { return float64(len(t.sheets)) + 0.5*float64(len(t.rest)) }

// all cuts a drawing up, what may be set apart with the rest or by itself.
func (t *tiling) all(d *Drawing, apart bool) {
	groups := make([][]item, len(d.apart)+1)
	for _, it := range d.items {
		switch {
		case it.heading:
		case apart:
			groups[it.apart] = append(groups[it.apart], it)
		default:
			groups[0] = append(groups[0], it)
		}
	}
	for i, g := range groups {
		box, ok := inked(g)
		switch {
		case !ok || t.beside(g, box):
		case i > 0 && t.split:
			t.rest = append(t.rest, headed(d.Title+", "+d.apart[i-1], g, box))
		case t.alone(g, box):
		default:
			t.grid(g, box)
		}
	}
}

// headed are items that were set apart, as a drawing.
func headed(title string, items []item, box r2.Box) *Drawing {
	d := New(title, r2.Vec{})
	d.items = append(d.items, items...)
	for i := range d.items {
		d.items[i].apart = 0
	}
	d.Heading(r2.Vec{X: box.Min.X, Y: box.Max.Y + apartBy/2}, title)
	return d
}

// beside puts items into free room, if there is any.
func (t *tiling) beside(items []item, box r2.Box) bool {
	for _, s := range t.sheets {
		if at, ok := s.room(box.Size()); ok {
			s.put(items, box, at)
			return true
		}
	}
	return false
}

// alone puts items on a page of their own, if they fit.
func (t *tiling) alone(items []item, box r2.Box) bool {
	t.sheets = append(t.sheets, newSheet(t.paper, t.upright))
	if t.beside(items, box) {
		return true
	}
	t.sheets = t.sheets[:len(t.sheets)-1]
	return false
}

// grid cuts items up over pages in rows and columns. Pages on which nothing would be are left out.
func (t *tiling) grid(items []item, box r2.Box) {
	field := newSheet(t.paper, t.upright).field
	var across, up []span
	for _, it := range items {
		weight, b := 1.0, it.box()
		if it.filled {
			weight += r2.Norm(b.Size())
		} else if it.text == "" {
			continue
		}
		across = append(across, span{b.Min.X, b.Max.X, weight})
		up = append(up, span{b.Min.Y, b.Max.Y, weight})
	}
	xs, _ := windows(box.Min.X-air, box.Max.X+air, field.X, across)
	ys, lost := windows(box.Min.Y-air, box.Max.Y+air, field.Y, up)
	t.along += lost
	var fields []r2.Box
	for _, y := range slices.Backward(ys) { // from the top left
		for _, x := range xs {
			fields = append(fields, r2.Box{Min: r2.Vec{X: x, Y: y}, Max: r2.Vec{X: x + field.X, Y: y + field.Y}})
		}
	}
	for _, f := range fields {
		if s := t.tile(items, f, fields); s != nil {
			s.crossed(marks(xs, ys, field, f.Min))
			t.sheets = append(t.sheets, s)
		}
	}
}

// tile is what of items lies within one of the fields that a drawing is cut up to; nil where nothing does. A text is
// where it is whole, and if it is so nowhere, where its middle is.
func (t *tiling) tile(items []item, f r2.Box, fields []r2.Box) *sheet {
	s := newSheet(t.paper, t.upright)
	by := r2.Sub(s.corner, f.Min)
	box := nothing()
	for _, it := range items {
		if it.text != "" {
			b := it.box()
			within := func(f r2.Box) bool { return holds(f, b.Min) && holds(f, b.Max) }
			if within(f) || !slices.ContainsFunc(fields, within) && holds(f, r2.Scale(0.5, r2.Add(b.Min, b.Max))) {
				s.items = append(s.items, it.moved(by))
				box = around(box, b)
			}
			continue
		}
		cut := clipped(it, f, by)
		s.items = append(s.items, cut...)
		for _, c := range cut {
			b := c.box()
			box = around(box, r2.Box{Min: r2.Sub(b.Min, by), Max: r2.Sub(b.Max, by)})
		}
	}
	if len(s.items) == 0 {
		return nil
	}
	s.taken = []r2.Box{{Min: r2.Sub(box.Min, f.Min), Max: r2.Sub(box.Max, f.Min)}}
	return s
}

// span is from where to where something reaches one way, and how much it matters that it is in one piece.
type span struct{ from, to, weight float64 }

// windows are from where on fields, overlapping, cover all from low to high, as few as do it, and the weight of what lies
// whole in none of them though it could. Of places that cut through as little the furthest are taken, so that
// what is left over is in one piece.
func windows(low, high, field float64, spans []span) (at []float64, lost float64) {
	const step = 1.0 // mm
	n := 1 + int(math.Ceil(max(0, high-low-field-1e-6)/(field-overlap)))
	at = []float64{low}
	for i := 1; i < n; i++ {
		last := at[i-1]
		most := last + field - overlap
		least := max(last+step, high-field-float64(n-1-i)*(field-overlap))
		best, cost := most, math.Inf(1)
		for x := most; x >= least; x -= step {
			if c := severed(spans, last, x, field); c < cost {
				best, cost = x, c
			}
		}
		at, lost = append(at, best), lost+cost
	}
	return at, lost
}

// severed is the weight of what is whole in neither of two neighbouring fields, though it is no longer than one.
func severed(spans []span, a, b, field float64) float64 {
	sum := 0.0
	within := func(s span, from float64) bool { return s.from >= from-1e-9 && s.to <= from+field+1e-9 }
	for _, s := range spans {
		if s.to > b && s.from < a+field && s.to-s.from <= field && !within(s, a) && !within(s, b) && s.from >= a && s.to <= b+field {
			sum += s.weight
		}
	}
	return sum
}

// marks are where crosses lie on the field that begins at a place: in the middle of what it shares with its neighbours.
func marks(xs, ys []float64, field, from r2.Vec) []r2.Vec {
	var all []r2.Vec
	for _, x := range shared(xs, field.X, from.X) {
		all = append(all, r2.Vec{X: x, Y: overlap}, r2.Vec{X: x, Y: field.Y - overlap})
	}
	for _, y := range shared(ys, field.Y, from.Y) {
		all = append(all, r2.Vec{X: overlap, Y: y}, r2.Vec{X: field.X - overlap, Y: y})
	}
	return all
}

// shared are the middles of what a window shares with the one before and the one after it, from where it begins.
func shared(windows []float64, field, from float64) []float64 {
	var all []float64
	for i := 1; i < len(windows); i++ {
		if windows[i] == from || windows[i-1] == from {
			all = append(all, (windows[i]+windows[i-1]+field)/2-from)
		}
	}
	return all
}
