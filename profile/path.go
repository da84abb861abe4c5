package profile

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Path is a row of segments, each beginning where the one before ends, open or closed. The nil path
// is empty.
type Path []Segment

// closedGap is how near the ends of a path lie, in mm, for it to count as closed. Paths made by this
// package close exactly; the slack is for paths that went through a rotation.
const closedGap = 1e-9

// Start is the first point; the origin for an empty path.
func (p Path) Start() r2.Vec {
	if len(p) == 0 {
		return r2.Vec{}
	}
	return p[0].A
}

// End is the last point; the origin for an empty path.
func (p Path) End() r2.Vec {
	if len(p) == 0 {
		return r2.Vec{}
	}
	return p[len(p)-1].B
}

// Closed reports whether the path ends where it starts.
func (p Path) Closed() bool {
	return len(p) > 0 && r2.Norm(r2.Sub(p.End(), p.Start())) <= closedGap && p.Length() > closedGap
}

// Length is the length along the path, in mm.
func (p Path) Length() float64 {
	sum := 0.0
	for _, s := range p {
		sum += s.Length()
	}
	return sum
}

// Bounds is the smallest box, with sides along the axes, that holds the path; the zero box for an
// empty one.
func (p Path) Bounds() r2.Box {
	if len(p) == 0 {
		return r2.Box{}
	}
	box := p[0].Bounds()
	for _, s := range p[1:] {
		b := s.Bounds()
		box = grow(grow(box, b.Min), b.Max)
	}
	return box
}

// Reversed is the same path travelled from its end to its start.
func (p Path) Reversed() Path {
	if p == nil {
		return nil
	}
	out := make(Path, len(p))
	for i, s := range p {
		out[len(p)-1-i] = s.Reversed()
	}
	return out
}

// At is the point at the share t of the path's length, clamped to its ends.
func (p Path) At(t float64) r2.Vec {
	if t <= 0 || len(p) == 0 {
		return p.Start()
	}
	left := t * p.Length()
	for _, s := range p {
		n := s.Length()
		if left <= n && n > 0 {
			return s.At(left / n)
		}
		left -= n
	}
	return p.End()
}

// Flatten is the path as points that all lie on it, so close that no chord is further than tol mm
// from its arc. A closed path does not repeat its first point at the end. A tol of 0 or less means
// CurveTolerance.
func (p Path) Flatten(tol float64) []r2.Vec {
	if len(p) == 0 {
		return nil
	}
	if !(tol > 0) {
		tol = CurveTolerance
	}
	out := make([]r2.Vec, 0, len(p)+1)
	out = append(out, p[0].A)
	for _, s := range p {
		n := s.chords(tol)
		for i := 1; i < n; i++ {
			out = append(out, s.At(float64(i)/float64(n)))
		}
		out = append(out, s.B)
	}
	if p.Closed() {
		out = out[:len(out)-1]
	}
	return out
}

// chords is how many equal chords keep within tol of the segment.
func (s Segment) chords(tol float64) int {
	if s.Straight() {
		return 1
	}
	_, r, _, sweep := s.Arc()
	if tol >= r {
		return 1 + int(math.Abs(sweep)/math.Pi)
	}
	// sagitta of a chord that spans the angle a: r (1 - cos(a/2)) = 2 r sin^2(a/4)
	a := 4 * math.Asin(math.Sqrt(tol/(2*r)))
	return max(1, int(math.Ceil(math.Abs(sweep)/a)))
}

// Distance is the exact distance from q to the path, in mm; infinite for an empty path. For many
// queries use NewNear.
func (p Path) Distance(q r2.Vec) float64 {
	best := math.Inf(1)
	for _, s := range p {
		best = min(best, s.Distance(q))
	}
	return best
}
