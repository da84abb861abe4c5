package relief

import "gonum.org/v1/gonum/spatial/r2"

// root is the point between p and q where span k of a zone has no thickness; the thicknesses at p
// and q, tp and tq, differ in sign. By the Illinois variant of regula falsi, to a twentieth of the plan's grid.
func (w *work) root(z *zone, k int, p, q r2.Vec, tp, tq float64) r2.Vec {
	if q.X < p.X || q.X == p.X && q.Y < p.Y {
		p, q, tp, tq = q, p, tq, tp // the same root from either side
	}
	at := func(t float64) r2.Vec { return r2.Add(r2.Scale(1-t, p), r2.Scale(t, q)) }
	f := func(t float64) float64 { return w.thicknessAt(z, k, at(t)) }
	lo, hi := 0.0, 1.0
	fl, fh := tp, tq
	side := 0
	width := r2.Norm(r2.Sub(q, p))
	for range 60 {
		if (hi-lo)*width < 5e-6 || fl == fh {
			break
		}
		t := (lo*fh - hi*fl) / (fh - fl)
		if t <= lo || t >= hi {
			t = (lo + hi) / 2
		}
		ft := f(t)
		switch {
		case ft == 0:
			return at(t)
		case (ft > 0) == (fh > 0):
			hi, fh = t, ft
			if side == 1 {
				fl /= 2
			}
			side = 1
		default:
			lo, fl = t, ft
			if side == -1 {
				fh /= 2
			}
			side = -1
		}
	}
	return at((lo*fh - hi*fl) / (fh - fl))
}
