package solid

import (
	"cmp"
	"math"
	"slices"

	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Ramp meshes a draw ramp within tol mm; 0 means Tolerance. Of a split ramp it is the right half.
func Ramp(r *pieces.RampPiece, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	chord := chordShare * tol
	k := r.Knife
	if r.Grip {
		f := filler{RampPiece: r, handle: handleOf(k, tol), chord: chord}
		return trimmed(r, f.body(), tol)
	}
	outline, leaves := leaving(r, grown(k.Plan.Outline.Flatten(chord), r.Fit, chord), true)
	parts, more := partings(r, chord)
	lines := rampLines(r, append(leaves, more...))
	box := near(lines)
	for _, l := range r.Banks() {
		lines = append(lines, bending(upper, relief.Line{Points: l[:]})...)
	}
	lines = append(lines, bending(lower, clipped(outline, true, box)...)...)
	if r.Fit > 0 { // the bevel comes back beyond the edge
		lines = append(lines, bending(lower, clipped(k.Plan.Outline.Flatten(chord), true, box)...)...)
	}
	for _, l := range parts {
		lines = append(lines, bending(lower, clipped(l, false, box)...)...)
	}
	lines = append(lines, clipped(grown(k.Plan.Handle.Flatten(chord), r.Fit, chord), true, box)...)
	for _, room := range rooms(r, chord) {
		lines = append(lines, clipped(room.Points, room.Closed, box)...)
	}
	if l := r.Lock; l != nil {
		lines = append(lines, clipped(ring(l.Centre, l.Radius, chords(l.Radius, 2*math.Pi, chord)), true, box)...)
	}
	for _, c := range r.Mark {
		lines = append(lines, bending(lower, relief.Line{Points: c, Closed: true})...)
	}
	spans := func(p r2.Vec) []relief.Span {
		if r.Lock.Holds(p) {
			return pocket(r, p)
		}
		switch r.BaseAt(p) {
		case pieces.Steel:
			on, deep := k.Blade(r.Across(p)), r.Engraved(p)
			cheek := relief.Span{
				Low: func(p r2.Vec) float64 { return r.Underside(on, p) }, LowMarks: lower, LowKey: keyOf(on, 0),
				High: r.Surface, HighMarks: upper, HighKey: topKey,
			}
			right := cheek
			if deep > 0 {
				right.Low, right.LowKey = func(p r2.Vec) float64 { return r.Underside(on, p) + deep }, keyOf(on, deep)
			}
			if r.Split {
				return []relief.Span{right}
			}
			return []relief.Span{mirrored(cheek), right}
		case pieces.Gap:
			return []relief.Span{besideBlade(r, r.Surface, topKey)}
		default:
			return nil
		}
	}
	first, dx, dy := r.Nodes()
	nodes := relief.Lattice{Origin: first, AngleDeg: r.CantDeg, DX: dx, DY: dy, Bends: upper}
	return trimmed(r, relief.Body{Lines: lines, Spans: spans, Lattice: &nodes}, tol)
}

// rooms are the lines of what the ramp leaves to the boss and to the drain insert, and of what is trimmed.
func rooms(r *pieces.RampPiece, chord float64) []relief.Line {
	var lines []relief.Line
	if r.Boss.Length > 0 {
		lines = append(lines, pill(r.Boss, chords(r.Boss.Width/2, math.Pi, chord)))
	}
	if r.Drain != nil {
		lines = append(lines, relief.Line{Points: r.Drain.Room(), Closed: true})
	}
	for _, l := range r.TrimLines() {
		lines = append(lines, relief.Line{Points: l[:]})
	}
	return lines
}

// trimmed meshes a ramp without what of it is apart from the rest and, in section, less than the square of the least
// wall: a strip that the room of the boss leaves along a side of the head.
func trimmed(r *pieces.RampPiece, b relief.Body, tol float64) (*mesh.Mesh, error) {
	m, err := build(b, tol)
	if err != nil {
		return nil, err
	}
	shells := m.Shells()
	least := 0.0
	for _, s := range shells {
		size := s.Bounds.Size()
		if wall := r.Knife.Spec.Ramp.Wall; len(shells) > 1 && s.Volume < wall*wall*max(size.X, size.Y) {
			least = max(least, s.Volume)
		}
	}
	if least > 0 {
		m = m.Swept(math.Nextafter(least, math.Inf(1)))
	}
	return m, nil
}

// ring is a circle of n points.
func ring(centre r2.Vec, radius float64, n int) []r2.Vec {
	points := make([]r2.Vec, n)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		points[i] = r2.Add(centre, r2.Vec{X: radius * cos, Y: radius * sin})
	}
	return points
}

// pocket are the spans of the ramp at p in its lock's pocket.
func pocket(r *pieces.RampPiece, p r2.Vec) []relief.Span {
	if r.BaseAt(p) != pieces.Gap {
		return nil
	}
	floor := func(p r2.Vec) float64 { return min(r.Lock.Floor, r.Surface(p)) }
	return []relief.Span{besideBlade(r, floor, floorKey)}
}

// besideBlade is the span beside the blade below a height: of a split ramp its right half.
func besideBlade(r *pieces.RampPiece, h relief.Height, key int) relief.Span {
	s := relief.Span{Low: level(0), LowMarks: lower, High: h, HighMarks: upper, HighKey: key}
	if !r.Split {
		s.Low, s.LowMarks, s.LowKey = negative(h), upper, -key
	}
	return s
}

// rampLines are the head and the line around it that the drafted sides cannot pass. From each point
// where the outline leaves the head at a long side a line goes on square across the side: on one
// side of it the side stands on steel, on the other beside it.
func rampLines(r *pieces.RampPiece, leaves []r2.Vec) []relief.Line {
	skirt := r.Skirt()
	lines := []relief.Line{rectangle(r, r.Head, leaves)}
	if skirt == 0 {
		return lines
	}
	wide := r.Head
	wide.Max.X += skirt
	wide.Min.Y -= skirt
	wide.Max.Y += skirt
	lines = append(lines, rectangle(r, wide, nil))
	for _, p := range leaves {
		q := r.Turned(p)
		to := wide.Max.Y
		if onLow(r.Head, q) {
			to = wide.Min.Y
		}
		across := relief.Line{Points: []r2.Vec{p, r.Blade(r2.Vec{X: q.X, Y: to})}}
		lines = append(lines, bending(lower, across)...)
	}
	return lines
}

// onLow tells on which long side of the box a point on one of them is.
func onLow(b r2.Box, q r2.Vec) bool { return q.Y < (b.Min.Y+b.Max.Y)/2 }

// rectangle is a box of the draw's axes as a closed line by way of the points given, which are on
// its long sides; those beyond its ends are left out.
func rectangle(r *pieces.RampPiece, b r2.Box, through []r2.Vec) relief.Line {
	var low, high []r2.Vec
	for _, p := range through {
		switch q := r.Turned(p); {
		case q.X > b.Max.X:
		case onLow(b, q):
			low = append(low, p)
		default:
			high = append(high, p)
		}
	}
	along := func(a, b r2.Vec) int { return cmp.Compare(r.Turned(a).X, r.Turned(b).X) }
	slices.SortFunc(low, along)
	slices.SortFunc(high, func(a, b r2.Vec) int { return along(b, a) })
	points := append([]r2.Vec{r.Blade(b.Min)}, low...)
	points = append(points, r.Blade(r2.Vec{X: b.Max.X, Y: b.Min.Y}), r.Blade(b.Max))
	points = append(points, high...)
	return relief.Line{Closed: true, Points: append(points, r.Blade(r2.Vec{X: b.Min.X, Y: b.Max.Y}))}
}

// partings are the lines that part what lies over the bevel from what lies over the flat, beside the blade as
// far as the fit reaches, and where they leave the head.
func partings(r *pieces.RampPiece, chord float64) (lines [][]r2.Vec, leaves []r2.Vec) {
	lines = partingLines(r.Knife, r.Fit, chord)
	for i, l := range lines {
		with, at := leaving(r, l, false)
		lines[i], leaves = with, append(leaves, at...)
	}
	return lines, leaves
}

// leavesAt is where the long side at y, on the draw's axes, comes to stand beside the steel or on it, near x: chords that run
// along the side say that less closely than they lie to the outline. It is x where nothing changes near it.
func leavesAt(r *pieces.RampPiece, x, y float64) float64 {
	on := func(x float64) bool { return r.OnSteel(r.Blade(r2.Vec{X: x, Y: y})) }
	for _, far := range []float64{0.01, 0.1, 0.5} {
		low, high := x-far, x+far
		if on(low) == on(high) {
			continue
		}
		for range 30 {
			if mid := (low + high) / 2; on(mid) == on(low) {
				low = mid
			} else {
				high = mid
			}
		}
		return (low + high) / 2
	}
	return x
}

// leaving is a line with a vertex wherever it crosses a long side of the head, gone on as far as
// the drafted end reaches, and those vertices.
func leaving(r *pieces.RampPiece, line []r2.Vec, closed bool) (with, leaves []r2.Vec) {
	for i, p := range line {
		with = append(with, p)
		if !closed && i+1 == len(line) {
			break
		}
		a, b := r.Turned(p), r.Turned(line[(i+1)%len(line)])
		for _, y := range []float64{r.Head.Min.Y, r.Head.Max.Y} {
			if (a.Y > y) == (b.Y > y) {
				continue
			}
			x := a.X + (y-a.Y)/(b.Y-a.Y)*(b.X-a.X)
			if x <= r.Head.Min.X || x >= r.Head.Max.X+r.Skirt() {
				continue
			}
			q := r.Blade(r2.Vec{X: leavesAt(r, x, y), Y: y})
			with, leaves = append(with, q), append(leaves, q)
		}
	}
	return with, leaves
}
