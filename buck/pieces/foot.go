package pieces

import (
	"math"
	"slices"

	"formbuck/buck/measures"

	"gonum.org/v1/gonum/spatial/r2"
)

// footStep is how far apart, in mm, the points of a foot line are along straight sides. Our own, no source.
const footStep = 0.4

// rim is a point of a piece's upper edge, and the way straight out from it in the plan; none where it stands
// square.
type rim struct{ at, out r2.Vec }

// footOf is where walls that fall outwards from a closed rim meet what is below them: of each of its points
// the first place, out to reach, at which the gap is closed. Where what is below them has a step, points
// are put on either side of it.
func footOf(rims []rim, reach float64, gap func(p r2.Vec) float64) []r2.Vec {
	out := func(r rim) float64 {
		low, high := 0.0, reach
		if gap(r.at) <= 0 {
			return 0
		}
		for range 40 {
			if mid := (low + high) / 2; gap(r.to(mid)) > 0 {
				low = mid
			} else {
				high = mid
			}
		}
		return (low + high) / 2
	}
	var foot []r2.Vec
	const jump, close = 0.005, 1e-3 // mm
	var between func(a, b rim, da, db float64)
	between = func(a, b rim, da, db float64) {
		square := a.out == r2.Vec{} || b.out == r2.Vec{}
		if !square && math.Abs(da-db) > jump && r2.Norm(r2.Sub(a.to(reach), b.to(reach))) > close {
			m := a.middle(b)
			dm := out(m)
			between(a, m, da, dm)
			foot = append(foot, m.to(dm))
			between(m, b, dm, db)
		}
	}
	first := out(rims[0])
	d := first
	for i, r := range rims {
		foot = append(foot, r.to(d))
		next, dn := rims[(i+1)%len(rims)], first
		if i+1 < len(rims) {
			dn = out(next)
		}
		between(r, next, d, dn)
		d = dn
	}
	return foot
}

// to is the point d out from the rim.
func (r rim) to(d float64) r2.Vec { return r2.Add(r.at, r2.Scale(d, r.out)) }

// middle is the rim between two.
func (r rim) middle(s rim) rim {
	return rim{r2.Scale(0.5, r2.Add(r.at, s.at)), r2.Unit(r2.Add(r.out, s.out))}
}

// FootLine is the standoff's outline in the plan, counter-clockwise: where its walls meet its underside.
func (s *StandoffPiece) FootLine() []r2.Vec {
	if s.DraftDeg == 0 {
		return footOf(s.Top.rims(), 0, func(r2.Vec) float64 { return 0 })
	}
	reach := (s.TopZ + 1) * measures.TanDeg(s.DraftDeg)
	return footOf(s.Top.rims(), reach, func(p r2.Vec) float64 {
		on, far := s.Knife.Blade(p), s.Top.Distance(p)
		return s.TopZ - far/measures.TanDeg(s.DraftDeg) - s.Underside(on, p) - s.Drawn(on, p, far)
	})
}

// ChamferLine is where the chamfer round the underside begins, in the plan, counter-clockwise; nil without one.
func (s *StandoffPiece) ChamferLine() []r2.Vec {
	if s.Chamfer == 0 {
		return nil
	}
	in := s.Top.Grown(-s.Chamfer)
	if s.DraftDeg == 0 {
		return footOf(in.rims(), 0, func(r2.Vec) float64 { return 0 })
	}
	return footOf(in.rims(), (s.TopZ+1)*measures.TanDeg(s.DraftDeg), func(p r2.Vec) float64 {
		return s.TopZ - in.Distance(p)/measures.TanDeg(s.DraftDeg) - s.Underside(s.Knife.Blade(p), p)
	})
}

// rims are points all round the pill, counter-clockwise.
func (s Pill) rims() []rim {
	const round = 96 // chords on a half circle: 0.0013 mm off at a radius of 10; derived: r (1 - cos(pi / 192))
	var rims []rim
	reach, r := (s.Length-s.Width)/2, s.Width/2
	sides := int(math.Ceil(2 * reach / footStep))
	add := func(at, out r2.Vec) {
		rims = append(rims, rim{s.At(at), r2.Rotate(out, measures.Radians(s.AngleDeg), r2.Vec{})})
	}
	for _, end := range []float64{1, -1} {
		for i := range round + 1 {
			sin, cos := math.Sincos(math.Pi * (float64(i)/round - 0.5))
			out := r2.Vec{X: end * cos, Y: end * sin}
			add(r2.Vec{X: end*reach + r*out.X, Y: r * out.Y}, out)
		}
		for i := 1; i < sides; i++ {
			add(r2.Vec{X: end * reach * (1 - 2*float64(i)/float64(sides)), Y: end * r}, r2.Vec{Y: end})
		}
	}
	return rims
}

// FootLine is the plug's outline in the plan, counter-clockwise. Where the slit takes its sides, below the
// slit's height, it is narrower than the plug.
func (d *DrainPiece) FootLine() []r2.Vec {
	n := int(math.Ceil((d.To - d.From) / footStep))
	foot := d.footSide(-1, n)
	far := d.footSide(1, n)
	slices.Reverse(far)
	return append(foot, far...)
}

// footSide is one long side of the plug's outline, from its inner end to its outer.
func (d *DrainPiece) footSide(side float64, n int) []r2.Vec {
	full := func(x float64) bool { return !d.InSlit(d.At(r2.Vec{X: x, Y: side * d.RadiusAt(x)})) }
	point := func(x float64, full bool) r2.Vec {
		r := d.RadiusAt(x)
		if !full {
			r = math.Sqrt(r*r - d.Slit*d.Slit)
		}
		return d.At(r2.Vec{X: x, Y: side * r})
	}
	last, was := d.From, full(d.From)
	line := []r2.Vec{point(last, was)}
	for i := 1; i <= n; i++ {
		x := d.From + (d.To-d.From)*float64(i)/float64(n)
		is := full(x)
		if is != was {
			low, high := last, x
			for range 40 {
				if mid := (low + high) / 2; full(mid) == was {
					low = mid
				} else {
					high = mid
				}
			}
			line = append(line, point(low, was), point(low, is))
		}
		line = append(line, point(x, is))
		last, was = x, is
	}
	return line
}

// FootLine is the ramp's outline in the plan, counter-clockwise, as if neither handle nor boss took
// anything from it: where its sides meet the blade's face or, beside it, the middle plane.
func (r *RampPiece) FootLine() []r2.Vec {
	return footOf(r.rims(), r.Skirt(), func(p r2.Vec) float64 {
		in := r.Across(p)
		if !r.OnSteel(in) {
			return r.Surface(p)
		}
		return r.Surface(p) - r.Underside(r.On(p), p)
	})
}

// rims are points all round the head. Its end at the mouth stands square.
func (r *RampPiece) rims() []rim {
	const round = 12 // chords on a quarter circle, no wider than the skirt
	h := r.Head
	corner := []r2.Vec{{X: h.Max.X, Y: h.Min.Y}, h.Max}
	rims := []rim{{at: h.Min}}
	side := func(a, b, out r2.Vec) {
		n := int(math.Ceil(r2.Norm(r2.Sub(b, a)) / footStep))
		for i := range n + 1 {
			rims = append(rims, rim{r2.Add(a, r2.Scale(float64(i)/float64(n), r2.Sub(b, a))), out})
		}
	}
	turn := func(at r2.Vec, from float64) {
		for i := 1; i < round; i++ {
			sin, cos := math.Sincos(math.Pi / 2 * (from + float64(i)/round))
			rims = append(rims, rim{at, r2.Vec{X: cos, Y: sin}})
		}
	}
	side(h.Min, corner[0], r2.Vec{Y: -1})
	turn(corner[0], -1)
	side(corner[0], corner[1], r2.Vec{X: 1})
	turn(corner[1], 0)
	side(corner[1], r2.Vec{X: h.Min.X, Y: h.Max.Y}, r2.Vec{Y: 1})
	rims = append(rims, rim{at: r2.Vec{X: h.Min.X, Y: h.Max.Y}})
	for i, m := range rims {
		rims[i] = rim{r.Blade(m.at), r.Blade(m.out)}
	}
	return rims
}
