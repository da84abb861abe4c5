package relief

import "gonum.org/v1/gonum/spatial/r2"

// edgeOfSpan is a span by the keys of its ends, and an edge by its points.
type edgeOfSpan struct{ low, high, u, v int32 }

// rootOn is the root on the edge between two points of the plan, remembered where both ends of the span have a key.
func (w *work) rootOn(z *zone, k, u, v int) r2.Vec {
	u, v = min(u, v), max(u, v)
	low, high := z.ends[2*k].key, z.ends[2*k+1].key
	key := edgeOfSpan{int32(low), int32(high), int32(u), int32(v)}
	if at, ok := w.roots[key]; ok {
		return at
	}
	at := w.root(z, k, w.points[u], w.points[v], w.thickness(z, k, u), w.thickness(z, k, v))
	if low != 0 && high != 0 {
		w.roots[key] = at
	}
	return at
}

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
