package layout

import (
	"math"

	"formbuck/buck/internal/offset"
	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// cut are sweeps along where a ramp ends within its head: where another piece has its room, or where a part of it is left out
// that would do nothing. It ends there in a wall as high as it is, which the rows across it pass by. The wall is looked for
// across the draw, every step of it.
func (g *ground) cut(r *pieces.RampPiece) []offset.Sweep {
	var all []offset.Sweep
	var last []wall
	h := r.Head
	n := math.Ceil((h.Max.X - h.Min.X) / step)
	for i := range int(n) + 1 {
		walls := g.walls(r, h.Min.X+(h.Max.X-h.Min.X)*float64(i)/n)
		for j, w := range walls {
			from := wall{at: r2.Sub(w.at, r2.Vec{X: insideLine}), fold: w.fold}
			if len(last) == len(walls) && r2.Norm(r2.Sub(last[j].at, w.at)) < 2*step {
				from = last[j]
			}
			all = append(all, offset.Sweep{A: from.at, B: w.at, RA: from.fold, RB: w.fold, Tag: tag(Ramp)})
		}
		last = walls
	}
	return all
}

// wall is a place where a ramp ends upright, in the blade's axes, and how far from it the sheets lie flat.
type wall struct {
	at   r2.Vec
	fold float64
}

// walls are those across a ramp's head, at a place along the draw.
func (g *ground) walls(r *pieces.RampPiece, x float64) []wall {
	const near = 0.01 // mm to which a wall is found; our own, no source
	on := func(y float64) bool { return r.BaseAt(r.Blade(r2.Vec{X: x, Y: y})) != pieces.NoBase }
	var all []wall
	n := math.Ceil((r.Head.Max.Y - r.Head.Min.Y) / step)
	last, was := r.Head.Min.Y, on(r.Head.Min.Y)
	for j := range int(n) {
		y := r.Head.Min.Y + (r.Head.Max.Y-r.Head.Min.Y)*float64(j+1)/n
		is := on(y)
		if is != was {
			in, out := y, last
			if was {
				in, out = last, y
			}
			for math.Abs(in-out) > near {
				if middle := (in + out) / 2; on(middle) {
					in = middle
				} else {
					out = middle
				}
			}
			at := r.Blade(r2.Vec{X: x, Y: in})
			all = append(all, wall{at, g.fold(r.Height(at), 0, max(r.DraftDeg, draftDeg))})
		}
		last, was = y, is
	}
	return all
}
