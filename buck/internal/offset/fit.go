package offset

import (
	"math"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	usual     = 0.002 // mm: tolerance of a fit where none is given
	mostLean  = 0.8   // radians that an arc of a fit may lean from its chord; our own, no source
	leastLean = 1e-4  // radians: an arc that leans less is a line
	flat      = 0.02  // share of the tolerance below which an arc's height over its chord does not count; our own, no source
)

// Fit lays arcs and lines along a ring, so that no point of it is missed by more than o.Tolerance. They
// meet without a kink, but at the ring's corners and where the ring itself has kinks.
//
// Which way the ring runs at a point is taken square to the direction in which its surface rises. Where
// that jitters because the surface was built of short straight pieces, a Window over 0 takes it from the
// circle through the point and those that lie that far, in mm along the ring, to either side.
func Fit(r Ring, o Options) profile.Loop {
	if o.Tolerance == 0 {
		o.Tolerance = usual
	}
	f := &fit{tol: o.Tolerance}
	f.open(r, o.Window)
	for i := 0; i < len(f.points)-1; {
		i = f.longest(i)
	}
	return f.loop
}

// fit is one ring on its way: opened at its first corner, its first point again at the end.
type fit struct {
	tol         float64
	points      []r2.Vec
	came, leave []r2.Vec // unit directions of the ring before and after each point
	corner      []bool
	loop        profile.Loop
}

// kink is the turn at a point, in radians, that makes it a corner. Our own, no source.
const kink = 0.15

// open turns the ring to its first corner and works out its directions.
func (f *fit) open(r Ring, window float64) {
	n := len(r.Points)
	along := func(i int) r2.Vec { return r2.Vec{X: -r.Up[i%n].Y, Y: r.Up[i%n].X} }
	corner := make([]bool, n)
	first := 0
	for i := n - 1; i >= 0; i-- {
		// Between two points far apart in direction there is a corner that was not on the level's way: both
		// sides of it count as corners.
		turn := angle(along(i), along(i+1))
		if r.Up[i] == (r2.Vec{}) {
			corner[i] = true
		} else if r.Up[(i+1)%n] != (r2.Vec{}) && math.Abs(turn) > kink {
			corner[i], corner[(i+1)%n] = true, true
		}
	}
	for i := n - 1; i >= 0; i-- {
		if corner[i] {
			first = i
		}
	}
	for k := range n + 1 {
		i := (first + k) % n
		f.points = append(f.points, r.Points[i])
		f.corner = append(f.corner, corner[i])
		f.leave = append(f.leave, along(i))
	}
	f.came = append(f.came, f.leave...)
	for i := range f.points {
		smooth := window > 0 || f.leave[i] == (r2.Vec{})
		if smooth || f.corner[i] {
			f.leave[i] = f.direction(i, 1, window)
			f.came[i] = f.direction(i, -1, window)
			if !f.corner[i] {
				f.leave[i] = f.direction(i, 0, window)
				f.came[i] = f.leave[i]
			}
		}
	}
}

// direction is that of the ring at a point: from the circle through it and its neighbours on both sides
// (side 0), or from those on one side. The neighbours are the window away, but not beyond a corner.
func (f *fit) direction(i, side int, window float64) r2.Vec {
	before, after := f.away(i, -1, window), f.away(i, 1, window)
	switch {
	case side > 0 || side == 0 && before == i:
		mid := (i + after) / 2
		return tangent(f.points[i], f.points[mid], f.points[after], 0)
	case side < 0 || after == i:
		mid := (before + i + 1) / 2
		return tangent(f.points[before], f.points[mid], f.points[i], 2)
	}
	return tangent(f.points[before], f.points[i], f.points[after], 1)
}

// away is the point that lies the window away, at least the next one, no further than the next corner. At the
// ring's beginning, where it is smooth, it goes round.
func (f *fit) away(i, way int, window float64) int {
	far := 0.0
	j := i
	for {
		k := j + way
		if k < 0 || k >= len(f.points) {
			return j
		}
		far += r2.Norm(r2.Sub(f.points[k], f.points[j]))
		j = k
		if f.corner[j] || far >= window {
			return j
		}
	}
}

// tangent is the direction at one of three points of the circle through them, in their order; of the straight
// line where two of them are one.
func tangent(a, b, c r2.Vec, at int) r2.Vec {
	ab, bc, ac := toward(a, b), toward(b, c), toward(a, c)
	none := r2.Vec{}
	if ab == none || bc == none || ac == none {
		return ac
	}
	// The angle between tangent and chord is that over the chord on the circle.
	switch at {
	case 0:
		return turned(ab, -angle(ac, bc))
	case 1:
		return turned(ab, angle(ac, bc))
	default:
		return turned(bc, angle(ab, ac))
	}
}

func turned(v r2.Vec, by float64) r2.Vec { return r2.Rotate(v, by, r2.Vec{}) }

// angle is the angle from u to v in radians, positive counter-clockwise.
func angle(u, v r2.Vec) float64 { return math.Atan2(r2.Cross(u, v), r2.Dot(u, v)) }

// longest adds the longest pair of arcs from point i that fits, at least to the next point, and gives where
// it ends.
func (f *fit) longest(i int) int {
	last := i + 1
	for last < len(f.points)-1 && !f.corner[last] {
		last++
	}
	best, pair := i+1, profile.Path{{A: f.points[i], B: f.points[i+1]}}
	if p, ok := f.pair(i, i+1); ok {
		pair = p
	}
	low, step := i+1, 1
	for low < last { // first in growing strides, then in halves of the last
		j := min(low+step, last)
		p, ok := f.pair(i, j)
		if !ok {
			break
		}
		best, pair, low, step = j, p, j, 2*step
	}
	for step /= 2; step > 0; step /= 2 {
		if j := best + step; j <= last {
			if p, ok := f.pair(i, j); ok {
				best, pair = j, p
			}
		}
	}
	f.loop = append(f.loop, pair...)
	return best
}

// pair are one or two arcs from point i to point j, tangent to the ring at both, that miss no point between
// them. Where the ring is straight, or one arc, they are one.
func (f *fit) pair(i, j int) (profile.Path, bool) {
	a, b := f.points[i], f.points[j]
	if s := (profile.Segment{A: a, B: b}); f.holds(profile.Path{s}, i, j, flat) && math.Abs(angle(f.leave[i], toward(a, b))) < 1e-3 {
		return profile.Path{s}, true
	}
	p, ok := biarc(a, b, f.leave[i], f.came[j])
	if !ok || !f.holds(p, i, j, 1) {
		return nil, false
	}
	lean := angle(f.leave[i], toward(a, b))
	one := profile.Path{arc(a, b, lean)}
	if math.Abs(lean-angle(toward(a, b), f.came[j])) < leastLean && f.holds(one, i, j, 1) {
		return one, true
	}
	return p, true
}

// holds tells whether no point between i and j is further from the path than a share of the tolerance.
func (f *fit) holds(p profile.Path, i, j int, share float64) bool {
	for k := i + 1; k < j; k++ {
		if p.Distance(f.points[k]) > share*f.tol {
			return false
		}
	}
	return true
}

// biarc joins a to b by two arcs with the given unit directions at the ends that meet tangentially, with
// equal tangent lengths (Bolton, Biarc curves, Computer-Aided Design 7(2), 1975).
func biarc(a, b, da, db r2.Vec) (profile.Path, bool) {
	v := r2.Sub(b, a)
	vt := r2.Dot(v, r2.Add(da, db))
	k := 2 * (1 - r2.Dot(da, db))
	// the tangent length d solves k d^2 + 2 (v.t) d - v.v = 0 with t = da + db
	d := r2.Norm2(v) / (vt + math.Sqrt(vt*vt+k*r2.Norm2(v)))
	if !(d > 0) || math.IsInf(d, 0) {
		return nil, false
	}
	m := r2.Scale(0.5, r2.Add(r2.Add(a, b), r2.Scale(d, r2.Sub(da, db))))
	lean, rise := angle(da, r2.Sub(m, a)), angle(r2.Sub(b, m), db)
	if math.Abs(lean) > mostLean || math.Abs(rise) > mostLean {
		return nil, false
	}
	return profile.Path{arc(a, m, lean), arc(m, b, rise)}, true
}

// arc is the arc from a to b that leaves a at an angle from its chord, in radians; a line where it hardly does.
func arc(a, b r2.Vec, lean float64) profile.Segment {
	s := profile.Segment{A: a, B: b}
	if math.Abs(lean) >= leastLean {
		s.Bulge = math.Tan(lean / 2)
	}
	return s
}
