package solid

import (
	"math"

	"formbuck/buck/knives"
	"formbuck/buck/measures"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Whole meshes a part, 0 behind the cut and 1 before it, of a buck in one body within tol mm; 0 means
// Tolerance. Of a body that is not cut part 0 is all of it.
func Whole(w *pieces.WholePiece, part int, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	b := wholeOf(w, tol)
	lines := b.lines()
	if w.Parts > 1 {
		all := near(lines)
		lines = append(lines, relief.Line{Points: []r2.Vec{{X: w.Cut, Y: all.Min.Y - 1}, {X: w.Cut, Y: all.Max.Y + 1}}})
		b.drill(part)
		for _, h := range b.holes {
			lines = append(lines, box(h.box))
		}
	}
	spans := func(p r2.Vec) []relief.Span {
		if w.Parts > 1 && (p.X < w.Cut) != (part == 0) {
			return nil
		}
		return b.spans(p)
	}
	return build(relief.Body{Lines: lines, Spans: spans}, tol)
}

// whole is a buck in one body as heights over regions of the plan.
type whole struct {
	*pieces.WholePiece
	tol    float64
	handle handle
	bosses map[measures.Face][]boss
	plug   plug
	holes  []hole
}

// boss is a standoff's upper surface in facets.
type boss struct {
	on    *pieces.StandoffPiece
	pill  facets
	edge  edge
	reach float64
	nubs  []cone
}

func wholeOf(w *pieces.WholePiece, tol float64) *whole {
	b := &whole{
		WholePiece: w, tol: tol, handle: handleOf(w.Knife, tol), plug: plugOf(w.Drain, chordShare*tol),
		bosses: make(map[measures.Face][]boss),
	}
	for f, bosses := range w.Bosses {
		for _, s := range bosses {
			b.bosses[f] = append(b.bosses[f], bossOf(s, tol))
		}
	}
	return b
}

func bossOf(s *pieces.StandoffPiece, tol float64) boss {
	draft := s.DraftDeg * math.Pi / 180
	on := boss{on: s, reach: (s.TopZ + 1) * math.Tan(draft)}
	on.pill, on.edge = facetted(s.Top, on.reach, roundShare*tol), edgeOf(s.TopZ, s.EdgeRadius, draft, edgeShare*tol)
	for _, n := range s.Nubs {
		on.nubs = append(on.nubs, coneOf(n, edgeShare*tol))
	}
	return on
}

// height is the boss's surface at p.
func (s boss) height(p r2.Vec) float64 {
	z := s.edge.height(s.pill.distance(p))
	for _, c := range s.nubs {
		if c.near(p) {
			z = max(z, c.height(p))
		}
	}
	return z
}

// lines are the knife's, and those of the pieces with the lines along which they stand on it.
func (b *whole) lines() []relief.Line {
	k, chord := b.Knife, chordShare*b.tol
	lines := []relief.Line{{Points: k.Plan.Outline.Flatten(chord), Closed: true}}
	if len(b.handle.outline) > 0 {
		lines = append(lines, relief.Line{Points: b.handle.outline, Closed: true})
		lines = append(lines, b.handle.rings()...)
	}
	lines = append(lines, zoneLines(k, near(lines), chord)...)
	for _, f := range measures.BothFaces() {
		side := upper
		if f == measures.LeftFace {
			side = lower
		}
		for _, s := range b.bosses[f] {
			lines = append(lines, s.lines(side)...)
		}
	}
	var ramps []*pieces.RampPiece
	for _, f := range measures.BothFaces() {
		for _, r := range b.Ramps[f] {
			if r.For != pieces.AllFaces || f == measures.RightFace {
				ramps = append(ramps, r)
			}
		}
	}
	for _, r := range ramps {
		_, leaves := leaving(r, k.Plan.Outline.Flatten(chord), true)
		lines = append(lines, bending(0, rampLines(r, leaves)...)...)
		lines = append(lines, rooms(r, chord)...)
	}
	lines = append(lines, bending(0, b.plug.lines()...)...) // of both faces
	return append(lines, b.seams()...)
}

// lines are those of the boss on a side.
func (s boss) lines(side relief.Marks) (lines []relief.Line) {
	for _, d := range s.edge.rings {
		lines = append(lines, bending(side, s.pill.ring(d))...)
	}
	for _, c := range s.nubs {
		lines = append(lines, bending(side, c.lines(c.nub.Base/2)...)...)
	}
	lines = append(lines, s.pill.ring(s.reach))
	return append(lines, bending(side, relief.Line{Points: s.on.FootLine(), Closed: true})...)
}

// seams are the lines along which the plug comes out of the blade's faces.
func (b *whole) seams() []relief.Line {
	const step = 0.25 // mm along the plug; our own, no source
	var lines []relief.Line
	for _, side := range []float64{-1, 1} {
		var l relief.Line
		n := int(math.Ceil((b.Drain.To - b.Drain.From) / step))
		for i := range n + 1 {
			x := b.Drain.From + (b.Drain.To-b.Drain.From)*float64(i)/float64(n)
			at := func(y float64) r2.Vec { return b.Drain.At(r2.Vec{X: x, Y: side * y}) }
			over := func(y float64) bool { return b.plug.half(at(y)) > b.Knife.Half(at(y)) }
			low, high := 0.0, b.Drain.RadiusAt(x)
			if !b.Knife.Holds(at(high)) || !over(low) || over(high) {
				continue
			}
			for range 40 {
				if mid := (low + high) / 2; over(mid) {
					low = mid
				} else {
					high = mid
				}
			}
			l.Points = append(l.Points, at(low))
		}
		if len(l.Points) > 1 {
			lines = append(lines, l)
		}
	}
	return lines
}

// drill lays the holes of the pins into a part.
func (b *whole) drill(part int) {
	for _, p := range b.Pins {
		h := hole{half: p.Radius, box: r2.Box{
			Min: r2.Vec{X: b.Cut - p.Depth, Y: p.Y - p.Radius}, Max: r2.Vec{X: b.Cut, Y: p.Y + p.Radius},
		}}
		if part > 0 {
			h.box.Min.X, h.box.Max.X = b.Cut, b.Cut+p.Depth
		}
		b.holes = append(b.holes, h)
	}
}

// hole is a square hole along x, of the half width, on the middle plane.
type hole struct {
	box  r2.Box
	half float64
}

func (h hole) holds(p r2.Vec) bool {
	return p.X > h.box.Min.X && p.X < h.box.Max.X && p.Y > h.box.Min.Y && p.Y < h.box.Max.Y
}

// spans are the spans over the region that holds p.
func (b *whole) spans(p r2.Vec) []relief.Span {
	right, left := b.side(measures.RightFace, p), b.side(measures.LeftFace, p)
	if right == nil && left == nil {
		return nil
	}
	if right == nil {
		right = level(0)
	}
	if left == nil {
		left = level(0)
	}
	s := relief.Span{Low: negative(left), LowMarks: lower, High: right, HighMarks: upper}
	for _, h := range b.holes {
		if h.holds(p) {
			return []relief.Span{{Low: s.Low, LowMarks: lower, High: level(-h.half)}, {Low: level(h.half), High: s.High, HighMarks: upper}}
		}
	}
	return []relief.Span{s}
}

// side is the height of a face over the region that holds p; nil where there is nothing.
func (b *whole) side(f measures.Face, p r2.Vec) relief.Height {
	var over []relief.Height
	k := b.Knife
	switch on := k.ZoneAt(p); on {
	case knives.Beside:
	case knives.OnHandle:
		over = append(over, b.handle.half)
	default:
		over = append(over, func(p r2.Vec) float64 { return k.HalfOn(on, p) })
	}
	for _, s := range b.bosses[f] {
		if s.pill.distance(p) <= s.reach {
			over = append(over, s.height)
		}
	}
	for _, r := range b.Ramps[f] {
		if r.BaseAt(p) != pieces.NoBase {
			over = append(over, r.Surface)
		}
	}
	if b.Drain.Holds(p) {
		over = append(over, b.plug.half)
	}
	if len(over) == 0 {
		return nil
	}
	return func(p r2.Vec) float64 {
		z := over[0](p)
		for _, h := range over[1:] {
			z = max(z, h(p))
		}
		return z
	}
}
