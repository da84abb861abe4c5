package pieces

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// roomStep is how far apart the points of a box are, in mm, that are asked whether they are free. Our own, no source.
const roomStep = 0.5

// room is where in a box there is room for rectangles along its axes.
type room struct {
	box    r2.Box
	nx, ny int
	taken  [][]int // how many points that are not free lie below and to the left of each
}

// newRoom asks every point of the box.
func newRoom(box r2.Box, free func(p r2.Vec) bool) *room {
	size := r2.Sub(box.Max, box.Min)
	r := &room{box: box, nx: max(0, int(size.X/roomStep)), ny: max(0, int(size.Y/roomStep))} // an empty box holds none
	r.taken = make([][]int, r.ny+1)
	r.taken[0] = make([]int, r.nx+1)
	for j := range r.ny {
		r.taken[j+1] = make([]int, r.nx+1)
		for i := range r.nx {
			n := r.taken[j][i+1] + r.taken[j+1][i] - r.taken[j][i]
			if !free(r2.Add(box.Min, r2.Vec{X: (float64(i) + 0.5) * roomStep, Y: (float64(j) + 0.5) * roomStep})) {
				n++
			}
			r.taken[j+1][i+1] = n
		}
	}
	return r
}

// find is the middle of a free rectangle of the size with a margin round it: the one with the least x and then y or,
// with far, the greatest. There may be none.
func (r *room) find(size r2.Vec, margin float64, far bool) (r2.Vec, bool) {
	w, h := int(math.Ceil((size.X+2*margin)/roomStep)), int(math.Ceil((size.Y+2*margin)/roomStep))
	for u := range max(0, r.nx-w+1) {
		for v := range max(0, r.ny-h+1) {
			i, j := u, v
			if far {
				i, j = r.nx-w-u, r.ny-h-v
			}
			if r.taken[j+h][i+w]-r.taken[j][i+w]-r.taken[j+h][i]+r.taken[j][i] == 0 {
				return r2.Add(r.box.Min, r2.Vec{X: (float64(i) + float64(w)/2) * roomStep, Y: (float64(j) + float64(h)/2) * roomStep}), true
			}
		}
	}
	return r2.Vec{}, false
}
