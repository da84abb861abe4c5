package relief

import (
	"fmt"
	"math"
	"slices"

	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// work is the plan of a body while it is being cut.
type work struct {
	body  Body
	opt   Options
	plan  *plan.Triangulation
	draft *drafter
	grid  *grid

	points   []r2.Vec
	zone     []*zone // of each triangle
	zones    []*zone
	foot     []bool                  // of each point, whether it is on the foot of a span
	meld     map[int]map[int32]int32 // over a point, the level that stands for another
	layers   stacks                  // when the plan is cut
	edges    edges                   // of those
	allThin  bool                    // feet are not sharp
	doubt    bool                    // the mesh may touch itself where they are: lid and floor are not both as they were planned, or flat
	bare     []bool                  // of each point, whether a wall stands over it, when the plan is trimmed
	whole    bool                    // nothing touches the rest in an upright line only
	known    map[int]*[]float64      // over the points, heights that have a key, see end
	roots    map[edgeOfSpan]r2.Vec   // on edges, of spans of which both ends have a key
	levelled map[[2]int]*[]interval  // the same of spans of which both ends have one

	// Room that calls use again.
	found []footing
	about []carried
	rungs []int32
	even  []float64
	bad   error
}

// zone is a region of the plan over which the spans are what they are at one point of it.
type zone struct {
	inside r2.Vec
	spans  []Span
	ends   []end         // of the spans, from the lowest one's Low upwards
	levels []*[]interval // of each span, over the points of the plan; both ends 0 if not asked yet
}

func newWork(b Body, o Options) (*work, error) {
	box, ok := bounds(b.Lines)
	if !ok {
		return nil, ErrEmpty
	}
	t, err := plan.New(box)
	if err != nil {
		return nil, fmt.Errorf("plan: %w", err)
	}
	count := 0
	for _, l := range b.Lines {
		count += len(l.Points)
	}
	count += count / 8 // some for what is added where lines cross or miss a height
	t.Reserve(count)
	d := newDrafter(t, count)
	for _, l := range b.Lines {
		if err := d.draw(l); err != nil {
			return nil, err
		}
	}
	w := &work{
		body: b, opt: o, plan: t, draft: d, grid: gridOf(b.Lattice), points: make([]r2.Vec, 0, count),
		meld: make(map[int]map[int32]int32), known: make(map[int]*[]float64), levelled: make(map[[2]int]*[]interval), roots: make(map[edgeOfSpan]r2.Vec),
	}
	w.survey()
	return w, nil
}

func bounds(lines []Line) (r2.Box, bool) {
	box := r2.Box{
		Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)},
		Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)},
	}
	for _, l := range lines {
		for _, p := range l.Points {
			box.Min.X, box.Max.X = min(box.Min.X, p.X), max(box.Max.X, p.X)
			box.Min.Y, box.Max.Y = min(box.Min.Y, p.Y), max(box.Max.Y, p.Y)
		}
	}
	return box, box.Min.X < box.Max.X && box.Min.Y < box.Max.Y
}

// survey reads the plan anew after it has been cut. A region that holds the point at which a zone
// was asked for is that zone still; for any other the spans are asked for at the middle of its
// largest triangle.
func (w *work) survey() {
	for v := len(w.points); v < w.plan.Len(); v++ {
		w.points = append(w.points, w.plan.Point(v))
	}
	w.foot = append(w.foot, make([]bool, len(w.points)-len(w.foot))...)
	regions := w.plan.Regions()
	known := make([]*zone, slices.Max(regions)+1)
	known[0] = &zone{} // the outside
	for _, z := range w.zones {
		if r := regions[w.plan.Locate(z.inside)]; known[r] == nil {
			known[r] = z
		}
	}
	for r, i := range largest(w.plan, regions, known) {
		if i >= 0 {
			known[r] = w.newZone(middle(w.plan, i))
			w.zones = append(w.zones, known[r])
		}
	}
	w.zone = slices.Grow(w.zone[:0], max(len(regions), 2*cap(w.points)))
	for _, r := range regions {
		w.zone = append(w.zone, known[r])
	}
}

// largest is the largest triangle of each region for which nothing is known, -1 for the others.
func largest[T any](t *plan.Triangulation, regions []int32, known []*T) []int {
	best := make([]int, len(known))
	most := make([]float64, len(known))
	for r := range best {
		best[r] = -1
	}
	for i, r := range regions {
		if known[r] != nil {
			continue
		}
		if a := area(t, i); a > most[r] {
			best[r], most[r] = i, a
		}
	}
	return best
}

// area is the area of triangle i of a plan.
func area(t *plan.Triangulation, i int) float64 {
	c := t.Triangle(i)
	a := t.Point(c[0])
	return r2.Cross(r2.Sub(t.Point(c[1]), a), r2.Sub(t.Point(c[2]), a)) / 2
}

// middle is the middle of triangle i of a plan.
func middle(t *plan.Triangulation, i int) r2.Vec {
	c := t.Triangle(i)
	return r2.Scale(1./3, r2.Add(t.Point(c[0]), r2.Add(t.Point(c[1]), t.Point(c[2]))))
}

func (w *work) newZone(inside r2.Vec) *zone {
	z := &zone{inside: inside, spans: w.body.Spans(inside)}
	for _, s := range z.spans {
		z.ends = append(z.ends, w.newEnd(s.Low, s.LowMarks, s.LowKey), w.newEnd(s.High, s.HighMarks, s.HighKey))
	}
	for _, s := range z.spans {
		z.levels = append(z.levels, w.levelsOf(s))
	}
	return z
}

func (w *work) corners(i int) [3]r2.Vec {
	t := w.plan.Triangle(i)
	return [3]r2.Vec{w.points[t[0]], w.points[t[1]], w.points[t[2]]}
}

func (w *work) middle(i int) r2.Vec { return middle(w.plan, i) }

// thickness of span k over point v of the plan.
func (w *work) thickness(z *zone, k, v int) float64 { return w.over(z, 2*k+1, v) - w.over(z, 2*k, v) }

// openOver tells whether span k is open over two points of the plan.
func (w *work) openOver(z *zone, k, a, b int) bool {
	return w.thickness(z, k, a) > 0 && w.thickness(z, k, b) > 0
}

// thicknesses are those of span k over the corners of triangle i, at once where both heights are known.
func (w *work) thicknesses(z *zone, k, i int) (h [3]float64) {
	low, high := &z.ends[2*k], &z.ends[2*k+1]
	lows, highs := *low.known, *high.known
	for j, v := range w.plan.Triangle(i) {
		if v < len(lows) && v < len(highs) {
			h[j] = high.sign*highs[v] - low.sign*lows[v]
		}
		if v >= len(lows) || v >= len(highs) || math.IsNaN(h[j]) {
			h[j] = w.thickness(z, k, v)
		}
	}
	return h
}

// thicknessAt is the thickness of span k at p.
func (w *work) thicknessAt(z *zone, k int, p r2.Vec) float64 {
	if z.ends[2*k].mirrors(&z.ends[2*k+1]) {
		return 2 * w.at(z, 2*k+1, p)
	}
	return w.at(z, 2*k+1, p) - w.at(z, 2*k, p)
}

// flattest is the steepness of an end of a span at p, along either axis on the flatter side of p: on a ridge a height is
// missed by as much as on the flatter of its sides.
func (w *work) flattest(z *zone, end int, p r2.Vec) float64 {
	const d = 1e-3
	h := w.at(z, end, p)
	slope := func(by r2.Vec) float64 {
		return min(math.Abs(w.at(z, end, r2.Add(p, by))-h), math.Abs(w.at(z, end, r2.Sub(p, by))-h)) / d
	}
	return math.Hypot(1, math.Hypot(slope(r2.Vec{X: d}), slope(r2.Vec{Y: d})))
}

// steepness of an end of a span at p: the length of the normal (-slope, 1), by differences.
func (w *work) steepness(z *zone, end int, p r2.Vec) float64 {
	const d = 1e-3
	gx := w.at(z, end, r2.Vec{X: p.X + d, Y: p.Y}) - w.at(z, end, r2.Vec{X: p.X - d, Y: p.Y})
	gy := w.at(z, end, r2.Vec{X: p.X, Y: p.Y + d}) - w.at(z, end, r2.Vec{X: p.X, Y: p.Y - d})
	return math.Hypot(1, math.Hypot(gx, gy)/(2*d))
}
