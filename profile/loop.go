package profile

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Loop is a closed path that does not cross itself. Outlines and handles run counter-clockwise and
// so have a positive area; holes do too. The nil loop is empty.
type Loop Path

// Path is the loop as a closed path.
func (l Loop) Path() Path { return Path(l) }

// Perimeter is the length round the loop, in mm.
func (l Loop) Perimeter() float64 { return Path(l).Length() }

// Bounds is the smallest box, with sides along the axes, that holds the loop.
func (l Loop) Bounds() r2.Box { return Path(l).Bounds() }

// Flatten is the loop as points that lie on it; see Path.Flatten.
func (l Loop) Flatten(tol float64) []r2.Vec { return Path(l).Flatten(tol) }

// Reversed is the loop travelled the other way round.
func (l Loop) Reversed() Loop { return Loop(Path(l).Reversed()) }

// Distance is the exact distance from q to the loop's line, in mm, inside and outside alike.
func (l Loop) Distance(q r2.Vec) float64 { return Path(l).Distance(q) }

// Area is the area within the loop, in mm2, arcs exact, positive when the loop runs
// counter-clockwise.
func (l Loop) Area() float64 {
	area, _ := l.moments()
	return area
}

// Centroid is the centre of the area within the loop, arcs exact; the start point where the area
// is 0.
func (l Loop) Centroid() r2.Vec {
	area, first := l.moments()
	if area == 0 {
		return Path(l).Start()
	}
	return r2.Add(Path(l).Start(), r2.Scale(1/area, first))
}

// moments is the signed area and its first moment about the loop's start.
//
// The polygon of the chords gives the shoelace sums; each arc adds the circular segment between it
// and its chord, with area r^2 (t - sin t) / 2 and, about the circle's centre, first moment c^3/12
// (c the chord; from the segment's centroid 4 r sin^3(t/2) / (3 (t - sin t)), a standard table of
// plane figures).
func (l Loop) moments() (area float64, first r2.Vec) {
	o := Path(l).Start()
	for _, s := range l {
		a, b := r2.Sub(s.A, o), r2.Sub(s.B, o)
		x := r2.Cross(a, b) / 2
		area += x
		first = r2.Add(first, r2.Scale(x/3, r2.Add(a, b)))
		if s.Straight() {
			continue
		}
		c, r, _, sweep := s.Arc()
		bow := r * r / 2 * lessSin(sweep)
		area += bow
		first = r2.Add(first, r2.Scale(bow, r2.Sub(c, o)))
		chord := r2.Sub(b, a)
		n2 := r2.Norm2(chord)
		first = r2.Sub(first, r2.Scale(n2/12, r2.Vec{X: -chord.Y, Y: chord.X}))
	}
	return area, first
}

// lessSin is t - sin t without loss of figures at small t.
func lessSin(t float64) float64 {
	if math.Abs(t) > 0.3 {
		return t - math.Sin(t)
	}
	t2 := t * t
	return t * t2 / 6 * (1 - t2/20*(1-t2/42*(1-t2/72*(1-t2/110))))
}

// Contains reports whether q lies within the loop. Points on the line itself may go either way.
func (l Loop) Contains(q r2.Vec) bool {
	in := false
	for _, s := range l {
		left := r2.Cross(r2.Sub(s.B, s.A), r2.Sub(q, s.A)) > 0
		up := s.B.Y > q.Y
		if (s.A.Y > q.Y) != up && left == up {
			in = !in
		}
		// Between chord and arc the answer is the other one.
		if s.Bulge != 0 && left == (s.Bulge < 0) && !s.Straight() {
			c, r := s.circle()
			if r2.Norm2(r2.Sub(q, c)) < r*r {
				in = !in
			}
		}
	}
	return in
}
