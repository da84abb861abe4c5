package profile

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
)

// What a sheet has beside the knife is drawn with lines along its axes: its border, and tables such as a
// title block. A knife is never made of such lines alone, so that these can be told from it: a *work* here
// is what hangs together of lines along the axes and rounded corners between them, and at no end of
// which anything else goes on. The sheet's axes are the drawing's, or lie askew to them; see directions.

const (
	frameReach  = openReach // mm, how near the ends of a work come to its other lines
	frameSide   = 0.8       // share of a frame's side that is drawn; the rest are rounded corners
	frameLeast  = 0.12      // length of the least knife that a frame holds, as a share of the frame's diagonal
	frameOpen   = 0.25      // the same for a knife whose outline is not closed
	frameSnug   = 0.6       // the same for a frame that is itself as slender as a knife
	snugWide    = 80.0      // mm, width of the widest such frame
	tableMore   = 1.1       // length of a table's lines, in lengths of its border: it has cells
	frameAside  = 0.25      // longest loop within a sheet's frame that is no knife, in lengths of the outline
	maxUpright  = 20_000    // lines of works that are looked at
	maxContacts = 4_000_000 // places that are tried
	maxWorks    = 2_000     // works that are looked at each with each
)

// What is said of what a sheet has beside the knife.
const (
	whyFrame = "the sheet's frame"
	whyTable = "a title block or table beside the knife"
	whyAside = "beside the knife, within the sheet's frame"
)

// frameWords are what the layers of frames are named for; common practice, no source.
var frameWords = []string{"frame", "border", "title", "sheet", "margin", "rahmen", "schriftfeld", "cadre", "cartouche"}

// namedForFrames reports whether a layer's name says that it holds the sheet's frame.
func namedForFrames(layer string) bool {
	low := strings.ToLower(layer)
	return slices.ContainsFunc(frameWords, func(w string) bool { return strings.Contains(low, w) })
}

// work is lines along the axes that hang together.
type work struct {
	layer   *bucket
	strands []int // of the layer
	box     r2.Box
	frame   r2.Box // its border, where it has one
	framed  bool
	length  float64
}

// furniture takes frames and tables out of the layers that the outline may be on, in whatever direction they lie: one
// that lies askew within another is found once that is gone.
func (r *reader) furniture(shape []*bucket) {
	list := directions(shape)
	for range maxNested {
		found := false
		for _, deg := range list {
			s := sheet{deg: deg}
			if r.furnish(&s, shape) {
				r.sheets = append(r.sheets, s)
				found = true
			}
		}
		if !found || len(list) == 1 {
			return
		}
	}
}

// furnish takes out the frames and tables that lie in one direction; it reports whether there are any.
func (r *reader) furnish(s *sheet, shape []*bucket) bool {
	var works []work
	pools := map[*bucket][]strand{}
	for _, b := range shape {
		own, pool := worksOf(b, s.strandsOf(b))
		works, pools[b] = append(works, own...), pool
	}
	if !slices.ContainsFunc(works, func(w work) bool { return w.framed }) {
		return false
	}
	knife := r.likeliest(shape, pools)
	if knife == nil {
		return false
	}
	box := knife.path.Bounds()
	for i := range works {
		if w := &works[i]; w.framed && w.around(knife, box) {
			s.frames = append(s.frames, w.frame)
			r.takeOut(w, whyFrame)
		}
	}
	for i := range works {
		if w := &works[i]; len(w.strands) > 0 && apart(w.box, box) && s.aside(w, works) {
			s.tables = append(s.tables, w.box)
			r.takeOut(w, whyTable)
		}
	}
	for _, b := range shape {
		b.clear()
	}
	return len(s.frames)+len(s.tables) > 0
}

// likeliest is the longest path among what is not of works: the knife, for telling what is not. A circle or a slot
// is none; nil where there is nothing.
func (r *reader) likeliest(shape []*bucket, pools map[*bucket][]strand) *chain {
	var best *chain
	most := 0.0
	for _, b := range shape {
		j := join(pools[b], r.options.Gap)
		for _, list := range [2][]chain{j.loops, j.open} {
			for i := range list {
				c := &list[i]
				if n := c.path.Length(); n > most && !(c.closed && (round(c.path) || obround(c.path))) {
					best, most = c, n
				}
			}
		}
	}
	return best
}

// round reports whether a closed path is one circle.
func round(p Path) bool {
	if p[0].Straight() {
		return false
	}
	c, r := p[0].circle()
	for _, s := range p {
		if math.Abs(r2.Norm(r2.Sub(s.A, c))-r) > sameWithin || math.Abs(r2.Norm(r2.Sub(s.At(0.5), c))-r) > sameWithin {
			return false
		}
	}
	return true
}

// obround reports whether a closed path is a slot: two half circles and the straight lines between them, which alone have
// both the length and the area that follow from the size of their box.
func obround(p Path) bool {
	const slack = 1e-3
	long, wide := Loop(p).size()
	length := 2*(long-wide) + math.Pi*wide
	area := (long-wide)*wide + math.Pi*wide*wide/4
	return math.Abs(p.Length()-length) <= slack*length && math.Abs(math.Abs(Loop(p).Area())-area) <= slack*area
}

// around reports whether the work is a frame about the knife.
func (w *work) around(knife *chain, box r2.Box) bool {
	f := w.frame
	if box.Min.X < f.Min.X || box.Min.Y < f.Min.Y || box.Max.X > f.Max.X || box.Max.Y > f.Max.Y {
		return false
	}
	wide, high := f.Max.X-f.Min.X, f.Max.Y-f.Min.Y
	least := frameLeast
	switch {
	case min(wide, high) <= min(snugWide, max(wide, high)/2):
		if !knife.closed {
			return false
		}
		least = frameSnug
	case !knife.closed:
		least = frameOpen
	}
	return diagonal(knife.path) >= least*math.Hypot(wide, high)
}

// aside reports whether a work beside the knife is of the sheet: in its frame, on a layer named for frames,
// or a table.
func (s *sheet) aside(w *work, works []work) bool {
	if namedForFrames(w.layer.name) {
		return true
	}
	for _, f := range s.frames {
		if !apart(w.box, f) {
			return true
		}
	}
	if !w.framed {
		return false
	}
	border := 2 * (w.frame.Max.X - w.frame.Min.X + w.frame.Max.Y - w.frame.Min.Y)
	if w.length > tableMore*border || len(works) > maxWorks {
		return w.length > tableMore*border
	}
	return slices.ContainsFunc(works, func(o work) bool { return o.framed && holds(w.frame, o.frame) })
}

// apart reports whether two boxes have nothing in common.
func apart(a, b r2.Box) bool {
	return a.Max.X < b.Min.X || b.Max.X < a.Min.X || a.Max.Y < b.Min.Y || b.Max.Y < a.Min.Y
}

// holds reports whether box b lies within box a and is smaller.
func holds(a, b r2.Box) bool {
	return a != b && a.Min.X <= b.Min.X && a.Min.Y <= b.Min.Y && b.Max.X <= a.Max.X && b.Max.Y <= a.Max.Y
}

// takeOut leaves a work's lines out, for a reason. They stay in their layer's list, without a path, until
// it is cleared.
func (r *reader) takeOut(w *work, why string) {
	for _, i := range w.strands {
		s := &w.layer.strands[i]
		r.profile.Left = append(r.profile.Left, s.path)
		r.skip(Skipped{Kind: s.from.Kind, Layer: w.layer.name, Why: why, Count: 1})
		w.layer.uncount(s.from.Kind)
		s.path = nil
	}
	w.strands = nil
}

// clear drops strands without a path.
func (b *bucket) clear() {
	b.strands = slices.DeleteFunc(b.strands, func(s strand) bool { return len(s.path) == 0 })
}

// uncount takes one off the bucket's list of what it holds.
func (b *bucket) uncount(kind string) {
	for i := range b.kinds {
		if b.kinds[i].kind == kind {
			b.kinds[i].count--
		}
	}
	b.kinds = slices.DeleteFunc(b.kinds, func(k kindCount) bool { return k.count <= 0 })
}

// besideKnife reports whether a loop outside the outline is of a sheet that was found to have a frame or a
// table: in a table, or too small for a knife.
func (r *reader) besideKnife(loop, outline Path) bool {
	framed := false
	for i := range r.sheets {
		s := &r.sheets[i]
		framed = framed || len(s.frames) > 0
		box := s.turned(loop).Bounds()
		if slices.ContainsFunc(s.tables, func(t r2.Box) bool { return !apart(box, t) }) {
			return true
		}
	}
	return framed && diagonal(loop) < frameAside*diagonal(outline)
}
