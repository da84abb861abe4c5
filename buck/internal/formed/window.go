package formed

import "math"

// Window are the cells with i from i0 up to i1 and j from j0 up to j1.
type Window struct{ i0, i1, j0, j1 int }

// none is the window of no cells, to be widened.
var none = Window{math.MaxInt, math.MinInt, math.MaxInt, math.MinInt}

// grown is the window and the cells within n of it, along each axis, as far as there are any.
func (w Window) grown(n int, g Grid) Window {
	return Window{max(w.i0-n, 0), min(w.i1+n, g.NX), max(w.j0-n, 0), min(w.j1+n, g.NY)}
}

// apart2 is the square of how far two windows lie from each other, in cells.
func (w Window) apart2(v Window) int {
	dx, dy := max(0, v.i0-w.i1+1, w.i0-v.i1+1), max(0, v.j0-w.j1+1, w.j0-v.j1+1)
	return dx*dx + dy*dy
}

// apart is the square of how far the nearest of some windows lies.
func (w Window) apart(some []Window) int {
	least := math.MaxInt
	for _, v := range some {
		least = min(least, w.apart2(v))
	}
	return least
}

// meets tells whether two windows have a cell in common.
func (w Window) meets(v Window) bool {
	return w.i0 < v.i1 && v.i0 < w.i1 && w.j0 < v.j1 && v.j0 < w.j1
}

// with is the window widened to hold another one.
func (w Window) with(v Window) Window {
	return Window{min(w.i0, v.i0), max(w.i1, v.i1), min(w.j0, v.j0), max(w.j1, v.j1)}
}

// take widens the window to a cell.
func (w *Window) take(i, j int) {
	*w = w.with(Window{i, i + 1, j, j + 1})
}

func (w Window) wide() int { return w.i1 - w.i0 }
func (w Window) high() int { return w.j1 - w.j0 }

// field are heights over a window, row by row.
type field struct {
	Window
	z []float64
}

// at is the place of cell (i, j) in the heights.
func (f *field) at(i, j int) int { return (j-f.j0)*f.wide() + i - f.i0 }

// row are the cells of row j with i from i0 up to i1.
func (f *field) row(j, i0, i1 int) []float64 { return f.z[f.at(i0, j):f.at(i1, j)] }

// Window are its cells with i from i0 up to i1 and j from j0 up to j1, as far as there are any.
func (g Grid) Window(i0, i1, j0, j1 int) Window {
	return Window{max(i0, 0), min(i1, g.NX), max(j0, 0), min(j1, g.NY)}
}

// common are the cells of both windows.
func (w Window) common(v Window) Window {
	i0, j0 := max(w.i0, v.i0), max(w.j0, v.j0)
	return Window{i0, max(min(w.i1, v.i1), i0), j0, max(min(w.j1, v.j1), j0)}
}
