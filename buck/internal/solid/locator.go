package solid

import (
	"math"

	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Locator meshes a locator of the right face within tol mm; 0 means Tolerance. All its faces are level or
// upright, so that the mesh is off by no more than what flattens the drawing's arcs.
func Locator(l *pieces.LocatorPiece, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	chord := roundShare * tol
	k := l.Knife
	lines := []relief.Line{box(l.Plate)}
	if b := l.Bridge(); b.Max.X > b.Min.X {
		lines = append(lines, box(b))
	}
	for _, w := range l.Windows {
		lines = append(lines, clipped(around(straightened(w.Foot, chord/2), l.Clearance, chord), true, l.Plate)...)
	}
	lines = append(lines, clipped(grown(k.Plan.Handle.Flatten(chord), l.Fit, chord), true, l.Plate)...)
	spine := grown(k.Plan.Outline.Flatten(chord), l.Fit, chord)
	for _, h := range l.Hooks {
		lines = append(lines, box(h))
		lines = append(lines, clipped(spine, true, h)...)
	}
	for _, c := range l.Letters {
		lines = append(lines, relief.Line{Points: c, Closed: true})
	}
	spans := func(p r2.Vec) []relief.Span {
		s := relief.Span{Low: level(l.UnderZ), High: level(l.TopZ)}
		switch l.At(p) {
		case pieces.NoLayer:
			return nil
		case pieces.HookLayer:
			s.Low = level(l.HookZ)
		case pieces.BridgeLayer:
			s.Low = level(l.BridgeZ)
		case pieces.EngravedLayer:
			s.High = level(l.TopZ - l.TextDepth)
		}
		return []relief.Span{s}
	}
	m, err := build(relief.Body{Lines: lines, Spans: spans}, tol)
	if err != nil {
		return nil, err
	}
	m, _ = m.Largest() // islands between windows are left out
	return m, nil
}

// box is a box of the plan as a closed line.
func box(b r2.Box) relief.Line {
	return relief.Line{Closed: true, Points: b.Vertices()}
}

// straightened is a closed polygon without the points that it passes within tol of anyway. Points that are hardly off a
// straight line, or hardly apart, leave slivers beside it.
func straightened(points []r2.Vec, tol float64) []r2.Vec {
	var out []r2.Vec
	n := len(points)
	for from := 0; from < n; {
		out = append(out, points[from])
		to := from + 1
		for to < n && passes(points, from, (to+1)%n, tol) {
			to++
		}
		from = to
	}
	return out
}

// passes tells whether the straight line from one point of a closed polygon to another passes all in between within tol, and
// not beyond its ends.
func passes(points []r2.Vec, from, to int, tol float64) bool {
	a, along := points[from], r2.Sub(points[to], points[from])
	length := r2.Norm(along)
	for i := (from + 1) % len(points); i != to; i = (i + 1) % len(points) {
		d := r2.Sub(points[i], a)
		if u := r2.Dot(d, along); u < 0 || u > length*length || math.Abs(r2.Cross(along, d)) > tol*length {
			return false
		}
	}
	return true
}

// around is the line at the distance d outside a counter-clockwise polygon, and more: at a hollow corner it
// goes back to the corner itself, so that the offset sides cross wherever they do, within what the line
// encloses.
func around(points []r2.Vec, d, chord float64) []r2.Vec {
	var out []r2.Vec
	n := len(points)
	for i, p := range points {
		in, to := r2.Unit(r2.Sub(p, points[(i+n-1)%n])), r2.Unit(r2.Sub(points[(i+1)%n], p))
		a := r2.Vec{X: in.Y, Y: -in.X}
		turn := math.Atan2(r2.Cross(in, to), r2.Dot(in, to))
		if turn < 0 {
			out = append(out, r2.Add(p, r2.Scale(d, a)), p, r2.Add(p, r2.Scale(d, r2.Vec{X: to.Y, Y: -to.X})))
			continue
		}
		steps := chords(d, turn, chord)
		for s := range steps + 1 {
			out = append(out, r2.Add(p, r2.Scale(d, r2.Rotate(a, turn*float64(s)/float64(steps), r2.Vec{}))))
		}
	}
	return out
}
