package drawing

import (
	"cmp"
	"slices"
)

// Together puts several drawings on as few pages as it finds, at 1:1, each in one piece where it can be: in their order, or
// the highest first where that takes fewer pages. Pages are those of the title; a drawing that is larger than the paper has
// pages of its own, as Tiles makes them.
func Together(p Paper, title string, all []*Drawing) []*Drawing {
	best, large := together(p, all)
	falling := slices.Clone(all)
	slices.SortStableFunc(falling, func(a, b *Drawing) int { return cmp.Compare(b.Ink().Size().Y, a.Ink().Size().Y) })
	if other, _ := together(p, falling); len(other) < len(best) {
		best = other
	}
	pages := paged(title, best)
	for _, d := range large {
		pages = append(pages, d.Tiles(p)...)
	}
	return pages
}

// together puts drawings on sheets one after the other, and gives back those that fit on none.
func together(p Paper, all []*Drawing) (sheets []*sheet, large []*Drawing) {
	var t tiling
	for _, d := range all {
		box, ok := inked(d.items)
		if !ok || t.beside(d.items, box) {
			continue
		}
		if s := d.onOne(p); s != nil {
			t.sheets = append(t.sheets, s)
		} else {
			large = append(large, d)
		}
	}
	return t.sheets, large
}
