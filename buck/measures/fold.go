package measures

import "math"

// Fold is where two sheets, pressed over an edge of half thickness h and bent back to lie flat on
// each other, come into flat contact: the distance from the outline, in mm. Sheet thickness t; the
// sheet bends over the buck's edge of radius r1 and back at the foot over the press foam's radius
// r2; where the bend would pass 90 degrees less the draft, a straight wall takes over.
//
// With S = r1 + r2 + t two tangent arcs turn the same angle: h = S (1 - cos phi), and their run is
// sqrt(h (2 S - h)), which begins r1 inside the outline. Derived here; checked against a worked
// table in the tests.
type Fold struct {
	Half     float64 // h, with tape
	Sheet    float64 // t
	Edge     float64 // r1
	Foot     float64 // r2; 0: the sheet's thickness
	DraftDeg float64
}

// Contact is the distance x_f of flat contact from the outline.
func (f Fold) Contact() float64 {
	foot := f.Foot
	if foot == 0 {
		foot = f.Sheet
	}
	s := f.Edge + foot + f.Sheet
	steepest := Radians(90 - f.DraftDeg)
	turn := s * (1 - math.Cos(steepest))
	if f.Half <= turn {
		return math.Sqrt(f.Half*(2*s-f.Half)) - f.Edge
	}
	return s*math.Sin(steepest) + (f.Half-turn)/math.Tan(steepest) - f.Edge
}

// Extra is the sheet, in mm, that the edge takes beyond the plan: the length along both bends and the wall
// between them, less the distance that they cover.
func (f Fold) Extra() float64 {
	foot := f.Foot
	if foot == 0 {
		foot = f.Sheet
	}
	s := f.Edge + foot + f.Sheet
	steepest := Radians(90 - f.DraftDeg)
	if turn := s * (1 - math.Cos(steepest)); f.Half > turn {
		wall := (f.Half - turn) / math.Sin(steepest)
		return s*steepest + wall - (f.Contact() + f.Edge)
	}
	return s*math.Acos(1-f.Half/s) - (f.Contact() + f.Edge)
}
