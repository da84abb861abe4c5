package pieces

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

const (
	bankBend   = 0.002 // mm: how far the node of a row lies off the middle of those on either side, where the surface bends
	bankLength = 0.6   // mm: the shortest line along a bend; our own, no source
	bankEven   = 2e-4  // mm: heights that differ by less go on level
)

// Banks are the lines along the draw, in the blade's axes, along which the surface bends and goes on level: what passes
// a node passes all those in front of it too, and so the bank beside a cliff runs out to the mouth as it is.
func (r *RampPiece) Banks() [][2]r2.Vec {
	f := r.passes
	var lines [][2]r2.Vec
	for j := 1; j < f.ny; j++ {
		y := f.box.Min.Y + float64(j)*f.dy
		if y <= r.Head.Min.Y || y >= r.Head.Max.Y {
			continue
		}
		from := -1
		for i := range f.nx + 1 {
			runs := i < f.nx && f.bank(i, j)
			if runs && from < 0 {
				from = i
			}
			if runs || from < 0 {
				continue
			}
			a := max(f.box.Min.X+float64(from)*f.dx, r.Head.Min.X)
			b := min(f.box.Min.X+float64(i)*f.dx, r.Head.Max.X)
			if b-a >= bankLength {
				lines = append(lines, [2]r2.Vec{r.Blade(r2.Vec{X: a, Y: y}), r.Blade(r2.Vec{X: b, Y: y})})
			}
			from = -1
		}
	}
	return lines
}

// bank tells whether the field bends at node i of row j, and goes on as it is to the next node of the row.
func (f *Field) bank(i, j int) bool {
	n := j*(f.nx+1) + i
	low, high := n-f.nx-1, n+f.nx+1
	for _, m := range [3]int{low, n, high} {
		if math.Abs(f.z[m+1]-f.z[m]) > bankEven {
			return false
		}
	}
	return math.Abs(f.z[n]-(f.z[low]+f.z[high])/2) > bankBend
}
