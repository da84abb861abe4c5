package profile

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile/dxf"
)

// tipWithin is how far, in mm, a mark of the tip may lie off the outline; common practice, no source.
const tipWithin = 15

// How an outline's tip is told; common practice, no source. A traced outline is rough, so that a bend is one of chords too.
const (
	tipTurn  = 60 * radPerDeg // least turn of a corner that is the tip though another point lies further
	tipBend  = 45 * radPerDeg // least bend there
	beakBend = 80 * radPerDeg // least bend of a corner that is the tip though it lies far behind the furthest point
	bendRun  = 1.5            // mm, length of the chords that a bend is taken over
	tipShift = 0.03           // how far behind the furthest point a corner is looked for, as a share of the length
	beakPart = 0.3            // and a beak's
	sameTip  = 3.0            // mm within which two corners are one
)

// tipPoint is the outline's furthest point; or the place nearest to a mark of the tip; or a corner
// near the furthest point, where that is none; or the corner of a blade that bends down before it.
func (p *planner) tipPoint() r2.Vec {
	path := Path(p.plan.Outline)
	far := path.extreme(r2.Vec{X: 1}).at
	if m := p.own(Tip); m != nil {
		return p.tipAtMark(m, far)
	}
	b := path.Bounds()
	best, sharpest := far, tipTurn
	for i, s := range path {
		turned := angle(s.Tangent(1), path[(i+1)%len(path)].Tangent(0))
		if s.B.X > b.Max.X-tipShift*(b.Max.X-b.Min.X) && turned > sharpest && path.bend(i) > tipBend {
			best, sharpest = s.B, turned
		}
	}
	if best != far {
		return best
	}
	corners := path.beaks(b.Max.X - beakPart*(b.Max.X-b.Min.X))
	for _, c := range corners {
		if r2.Norm(r2.Sub(c, far)) <= sameTip {
			return far
		}
	}
	switch len(corners) {
	case 0:
		return far // a rounded end
	case 1:
		p.plan.Frame.Tip += fmt.Sprintf("; it is the corner %.1f mm behind the furthest point", far.X-corners[0].X)
		return corners[0]
	}
	p.unsettled("which point is the tip: the furthest is round, and the outline has %d corners behind it: mark it on layer TIP", len(corners))
	return far
}

// tipAtMark is the place on the outline nearest to the mark of the tip.
func (p *planner) tipAtMark(m *Mark, far r2.Vec) r2.Vec {
	near := NewNear(Path(p.plan.Outline))
	best, bestD := far, math.Inf(1)
	for _, t := range []float64{0, 0.5, 1} {
		if q, d := near.Nearest(m.Path.At(t)); d < bestD {
			best, bestD = q, d
		}
	}
	if bestD > tipWithin {
		p.fault(dxf.BadMark, "the mark on layer %s lies %.0f mm off the outline, at most %d mm are taken for the tip: is the outline the knife's?", m.Layer, bestD, tipWithin)
	}
	return best
}

// beaks are the convex corners of a closed path beyond an x, the sharpest of those that are one.
func (p Path) beaks(x float64) (corners []r2.Vec) {
	var bends []float64
	for i, s := range p {
		if s.B.X < x {
			continue
		}
		bend := p.bend(i)
		if bend < beakBend {
			continue
		}
		one := false
		for k, c := range corners {
			if r2.Norm(r2.Sub(c, s.B)) <= sameTip {
				one = true
				if bend > bends[k] {
					corners[k], bends[k] = s.B, bend
				}
			}
		}
		if !one {
			corners, bends = append(corners, s.B), append(bends, bend)
		}
	}
	return corners
}

// bend is by how much a closed path turns to the left at the end of segment i, as the chords before and behind it do.
func (p Path) bend(i int) float64 {
	at := p[i].B
	return angle(r2.Sub(at, p.chordEnd(i, -1)), r2.Sub(p.chordEnd(i, 1), at))
}

// chordEnd is the point of a closed path so far behind or before the end of segment i as a chord of a bend is long.
func (p Path) chordEnd(i, step int) r2.Vec {
	n, left := len(p), bendRun
	if step > 0 {
		i++
	}
	for range p {
		s := p[(i+n)%n]
		long := s.Length()
		switch {
		case long < left:
			left -= long
			i += step
		case step > 0:
			return s.At(left / long)
		default:
			return s.At(1 - left/long)
		}
	}
	return p[(i+n)%n].A
}
