package program

import (
	"math"
	"slices"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	soft = 0.06  // radians: a corner that turns inwards by no more is cut as the corner that it is; 0.0015 mm are left in it; our own, no source
	fits = 0.002 // mm by which the tool's path may come closer than asked before it counts as not fitting
)

// Centre is the path of the middle of a round tool that passes outside a counter-clockwise loop at the given
// distance, counter-clockwise too: every line and arc moved by that distance, an arc about every corner that
// turns outwards. Where the loop turns inwards more tightly than the tool is round, or two of its sides are
// too close for it, the error is a *Fault with the place.
func Centre(loop profile.Loop, distance float64) (profile.Loop, error) {
	loop = slices.DeleteFunc(slices.Clone(loop), func(s profile.Segment) bool { return s.Length() < 1e-6 })
	n := len(loop)
	begin, end := make([]r2.Vec, n), make([]r2.Vec, n)
	corner := make([]float64, n) // bulge of the arc after each segment, 0: none
	for i, s := range loop {
		next := loop[(i+1)%n]
		t1, t2 := s.Tangent(1), next.Tangent(0)
		n1, n2 := r2.Vec{X: t1.Y, Y: -t1.X}, r2.Vec{X: t2.Y, Y: -t2.X}
		turn := math.Atan2(r2.Cross(t1, t2), r2.Dot(t1, t2))
		switch {
		case turn < -soft:
			return nil, faultAt(s.B, "the line turns inwards by %.1f deg in a corner, where a round cutter of %.4g mm cannot go", -turn*180/math.Pi, 2*distance)
		case turn > 1e-4:
			end[i], begin[(i+1)%n] = r2.Add(s.B, r2.Scale(distance, n1)), r2.Add(s.B, r2.Scale(distance, n2))
			corner[i] = math.Tan(turn / 4)
		default:
			p := r2.Add(s.B, r2.Scale(distance/math.Cos(turn/2), r2.Unit(r2.Add(n1, n2))))
			end[i], begin[(i+1)%n] = p, p
		}
	}
	var out profile.Loop
	for i, s := range loop {
		moved, err := beside(s, begin[i], end[i], distance)
		if err != nil {
			return nil, err
		}
		out = append(out, moved)
		if corner[i] > 0 {
			out = append(out, profile.Segment{A: end[i], B: begin[(i+1)%n], Bulge: corner[i]})
		}
	}
	for _, s := range out {
		if gapTo(profile.Path{s}, loop.Path()) < distance-fits || loop.Contains(s.A) {
			return nil, faultAt(s.At(0.5), "the line leaves no room for a cutter of %.4g mm", 2*distance)
		}
	}
	return out, nil
}

// beside is a segment moved outwards, from a to b.
func beside(s profile.Segment, a, b r2.Vec, distance float64) (profile.Segment, error) {
	if s.Straight() {
		return profile.Segment{A: a, B: b}, nil
	}
	c, r, _, sweep := s.Arc()
	if s.Bulge < 0 && r < distance {
		return profile.Segment{}, faultAt(s.At(0.5), "the line turns inwards with a radius of %.3f mm, and the cutter needs %.3f mm", r, distance)
	}
	turn := func(from, to r2.Vec) float64 {
		u, v := r2.Sub(from, c), r2.Sub(to, c)
		return math.Atan2(r2.Cross(u, v), r2.Dot(u, v))
	}
	if r2.Norm(r2.Sub(a, b)) > 1e-6 {
		sweep += turn(s.B, b) - turn(s.A, a)
	}
	if sweep*s.Bulge <= 0 { // what is left of it is shorter than its ends are exact
		sweep = 0
	}
	return profile.Segment{A: a, B: b, Bulge: math.Tan(sweep / 4)}, nil
}
