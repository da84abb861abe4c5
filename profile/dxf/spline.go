package dxf

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"
)

// maxDegree is the highest degree of a spline that is accepted; CAD programs write up to 11.
const maxDegree = 25

// spline reads control points with knots and weights, or the points that a curve goes through.
func (d *decoder) spline() {
	s := &Spline{Degree: 3}
	controls, fits := points{what: "control point"}, points{what: "fit point"}
	for d.pair() {
		switch c := d.scan.code; c {
		case 70:
			flags := d.integer()
			s.Closed, s.Periodic = flags&1 != 0, flags&2 != 0
		case 71:
			s.Degree = d.integer()
		case 40:
			if v, ok := d.number(maxPlain); ok && d.spendPoint() {
				s.Knots = append(s.Knots, v)
			}
		case 41:
			if v, ok := d.number(maxPlain); ok && d.spendPoint() {
				s.Weights = append(s.Weights, v)
			}
		case 10, 20, 30:
			s.Controls = d.listPoint(s.Controls, c/10, &controls)
		case 11, 21, 31:
			s.Fits = d.listPoint(s.Fits, c/10, &fits)
		case 12, 22, 32:
			d.axis(&s.StartTangent, c/10)
		case 13, 23, 33:
			d.axis(&s.EndTangent, c/10)
		}
	}
	if !d.scan.end && d.pointsWhole(&controls) && d.pointsWhole(&fits) && d.splineHolds(s) {
		d.cur.Shape = s
	}
}

// listPoint takes one coordinate of a list of points; x starts a new point.
func (d *decoder) listPoint(list []r3.Vec, axis int, whole *points) []r3.Vec {
	switch axis {
	case 1:
		d.pointX(whole)
		list = append(list, r3.Vec{})
	case 2:
		d.pointY(whole)
	}
	if len(list) == 0 {
		return list
	}
	p := &list[len(list)-1]
	switch axis {
	case 1:
		d.coord(&p.X)
	case 2:
		d.coord(&p.Y)
	case 3:
		d.coord(&p.Z)
	}
	return list
}

// axis takes one coordinate of a direction.
func (d *decoder) axis(p *r3.Vec, axis int) {
	switch axis {
	case 1:
		d.direction(&p.X)
	case 2:
		d.direction(&p.Y)
	case 3:
		d.direction(&p.Z)
	}
}

// splineHolds checks what a spline must satisfy to be one; where it does not, it records a fault.
func (d *decoder) splineHolds(s *Spline) bool {
	n, deg := len(s.Controls), s.Degree
	bad := func(c Class, format string, args ...any) bool {
		d.faultAt(d.cur.Line, c, fmt.Sprintf(format, args...))
		return false
	}
	if n == 0 {
		if len(s.Fits) < 2 {
			return bad(MissingValue, "has neither control points nor two points to go through")
		}
		return true
	}
	if len(s.Knots) == n+deg-1 && deg >= 1 && n > deg {
		// Some programs leave out the first and the last knot, which no point of the curve reads.
		s.Knots = append([]float64{s.Knots[0]}, s.Knots...)
		s.Knots = append(s.Knots, s.Knots[len(s.Knots)-1])
	}
	switch {
	case deg < 1 || deg > maxDegree:
		return bad(OutOfRange, "degree %d is not between 1 and %d", deg, maxDegree)
	case n <= deg:
		return bad(MissingValue, "degree %d needs %d control points, has %d", deg, deg+1, n)
	case len(s.Weights) > 0 && len(s.Weights) != n:
		return bad(MissingValue, "has %d control points and %d weights", n, len(s.Weights))
	case len(s.Knots) != n+deg+1:
		return bad(MissingValue, "%d control points of degree %d need %d knots, has %d", n, deg, n+deg+1, len(s.Knots))
	}
	for _, w := range s.Weights {
		if w <= 0 {
			return bad(OutOfRange, "weight %g is not above 0", w)
		}
	}
	for i := 1; i < len(s.Knots); i++ {
		if s.Knots[i] < s.Knots[i-1] {
			return bad(OutOfRange, "knot %d (%g) is below the one before (%g)", i+1, s.Knots[i], s.Knots[i-1])
		}
	}
	if s.Knots[n] <= s.Knots[deg] {
		return bad(OutOfRange, "its knots span nothing")
	}
	return true
}
