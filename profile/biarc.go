package profile

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// curve is a smooth plane curve with a parameter.
type curve interface {
	At(t float64) r2.Vec
	Derivative(t float64) r2.Vec
}

const (
	fitDepth   = 18   // halvings of one smooth piece at most
	fitSamples = 6    // points between the ends at which a fit is measured
	fitTurn    = 1.2  // radians an arc of a fit may lean from its chord
	fitLength  = 1e-7 // mm; what is shorter is not divided further
	fitShare   = 0.75 // of the tolerance that is allowed at those points, so that it holds between them
)

// fitter replaces curves by arcs within tol mm of them. Budget is how many halvings it may still
// make; below 0 the rest comes out as chords.
type fitter struct {
	tol    float64
	budget int
}

// arcs adds the curve from t0 to t1 as tangent-continuous pairs of arcs, measured at fitSamples
// points of each pair; chords where it has no direction.
func (f *fitter) arcs(out Path, c curve, t0, t1 float64) Path {
	return f.part(out, c, [2]float64{t0, t1}, [2]r2.Vec{c.At(t0), c.At(t1)}, 0)
}

// part is arcs between two known points; depth counts the halvings.
func (f *fitter) part(out Path, c curve, t [2]float64, p [2]r2.Vec, depth int) Path {
	if depth > 0 {
		pair, ok := biarc(p[0], p[1], c.Derivative(t[0]), c.Derivative(t[1]))
		if ok && fits(pair, c, t[0], t[1], fitShare*f.tol) {
			return append(append(out, pair[0]), pair[1])
		}
	}
	f.budget--
	if f.budget < 0 || depth == fitDepth || depth > 2 && r2.Norm(r2.Sub(p[1], p[0])) < fitLength {
		return append(out, Segment{A: p[0], B: p[1]})
	}
	mid := (t[0] + t[1]) / 2
	m := c.At(mid)
	out = f.part(out, c, [2]float64{t[0], mid}, [2]r2.Vec{p[0], m}, depth+1)
	return f.part(out, c, [2]float64{mid, t[1]}, [2]r2.Vec{m, p[1]}, depth+1)
}

// fits reports whether the curve between two parameters stays within tol of the pair of arcs.
func fits(pair [2]Segment, c curve, t0, t1, tol float64) bool {
	for i := 1; i <= fitSamples; i++ {
		q := c.At(t0 + (t1-t0)*float64(i)/(fitSamples+1))
		if min(pair[0].Distance(q), pair[1].Distance(q)) > tol {
			return false
		}
	}
	return true
}

// biarc joins a to b by two arcs with the given end directions that meet tangentially, with equal
// tangent lengths (Bolton, Biarc curves, Computer-Aided Design 7(2), 1975). It is false where a
// direction is missing or an arc would lean from its chord by more than fitTurn.
func biarc(a, b, da, db r2.Vec) ([2]Segment, bool) {
	na, nb := r2.Norm(da), r2.Norm(db)
	v := r2.Sub(b, a)
	vv := r2.Norm2(v)
	if !(na > 0) || !(nb > 0) || vv == 0 {
		return [2]Segment{}, false
	}
	ta, tb := r2.Scale(1/na, da), r2.Scale(1/nb, db)
	vt := r2.Dot(v, r2.Add(ta, tb))
	k := 2 * (1 - r2.Dot(ta, tb))
	// the tangent length d solves k d^2 + 2 (v.t) d - v.v = 0 with k = 2 (1 - ta.tb), t = ta + tb
	d := vv / (vt + math.Sqrt(vt*vt+k*vv))
	if !(d > 0) || math.IsInf(d, 0) {
		return [2]Segment{}, false
	}
	m := r2.Scale(0.5, r2.Add(r2.Add(a, b), r2.Scale(d, r2.Sub(ta, tb))))
	lean1, lean2 := angle(ta, r2.Sub(m, a)), angle(r2.Sub(b, m), tb)
	if math.Abs(lean1) > fitTurn || math.Abs(lean2) > fitTurn {
		return [2]Segment{}, false
	}
	return [2]Segment{{A: a, B: m, Bulge: math.Tan(lean1 / 2)}, {A: m, B: b, Bulge: math.Tan(lean2 / 2)}}, true
}

// angle is the angle from u to v in radians, positive counter-clockwise.
func angle(u, v r2.Vec) float64 { return math.Atan2(r2.Cross(u, v), r2.Dot(u, v)) }
