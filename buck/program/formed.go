package program

import (
	"fmt"
	"math"

	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

// Tall is how high the work stands where the cutter goes.
func (s *Setup) Tall() float64 {
	high := s.Stock.Sheet
	for _, r := range s.Raised {
		high = max(high, r.Top)
	}
	return high
}

// reach refuses a cutter whose flutes end below the top of the work. The error is a *Fault.
func (s *Setup) reach(through float64) error {
	if need := s.Tall() + through; need > s.Tool.length()+1e-6 {
		return fault("the cutter's flutes are %.4g mm long, and where the waste is formed the work is %.4g mm high: at least %.4g mm are needed", s.Tool.length(), s.Tall(), need)
	}
	return nil
}

// look is how far apart places along a path are at which the work's height is looked at, in mm. Our own, no source.
const look = 0.5

// beside tells whether the work is formed at a place, or a tenth of a mm from there.
func (s *Setup) beside(at r2.Vec) bool {
	const room = 0.1 // our own, no source
	for _, r := range s.Raised {
		if r.Top > s.Stock.Sheet && inBox(grownBox(r.Box, s.Tool.Radius()+room), at) {
			return true
		}
	}
	return false
}

// formed are the parts of a path over waste that is higher than the rim, each from flat waste to flat waste. The
// error is a *Fault where the path begins or ends in formed waste.
func (s *Setup) formed(path profile.Path) ([]profile.Path, error) {
	var parts []profile.Path
	var part profile.Path
	last := r2.Vec{}
	for _, g := range path {
		n := math.Ceil(g.Length() / look)
		for i := range int(n) {
			piece := g.Part(float64(i)/n, float64(i+1)/n)
			if !s.beside(piece.A) && !s.beside(piece.B) && !s.beside(piece.At(0.5)) {
				if part != nil {
					parts, part = append(parts, part), nil
				}
				continue
			}
			if part == nil && s.beside(piece.A) {
				return nil, faultAt(piece.A, "there is no flat waste beside the formed waste for the cutter to come in")
			}
			part, last = append(part, piece), piece.B
		}
	}
	if part != nil {
		return nil, faultAt(last, "there is no flat waste beside the formed waste for the cutter to go out")
	}
	for i := range parts {
		parts[i] = joined(parts[i])
	}
	return parts, nil
}

// joined is a path with pieces of one line or arc put together again.
func joined(path profile.Path) profile.Path {
	out := path[:1:1]
	for _, next := range path[1:] {
		last := &out[len(out)-1]
		if one, ok := together(*last, next); ok {
			*last = one
		} else {
			out = append(out, next)
		}
	}
	return out
}

// together is one segment for two that go on from each other on one line, or on one circle for up to half a turn.
func together(a, b profile.Segment) (profile.Segment, bool) {
	const same = 1e-7
	one := profile.Segment{A: a.A, B: b.B}
	if a.Straight() != b.Straight() {
		return one, false
	}
	if !a.Straight() {
		p, r, _, u := a.Arc()
		q, _, _, v := b.Arc()
		if r2.Norm(r2.Sub(p, q)) > same*(1+r) || u*v < 0 || math.Abs(u+v) > math.Pi {
			return one, false
		}
		one.Bulge = math.Tan((u + v) / 4)
		return one, true
	}
	return one, math.Abs(r2.Cross(a.Tangent(1), b.Tangent(0))) < same
}

// formed cuts through formed waste from its top down to the first pass of the whole round, at the height z.
func (w *writer) formed(s *Setup, parts []profile.Path, z float64, r Rates) {
	for _, part := range parts {
		high := s.Stock.Sheet
		for _, g := range part {
			high = max(high, s.rim(g.A), s.rim(g.At(0.5)), s.rim(g.B))
		}
		steps := math.Ceil((high-z)/s.Pass.Depth - 1e-9)
		for k := 1.0; k < steps; k++ {
			w.comment(fmt.Sprintf("formed waste, pass %g of %g", k, steps-1))
			w.pass(s, turn{round: part}, high-(high-z)*k/steps, r)
		}
	}
}
