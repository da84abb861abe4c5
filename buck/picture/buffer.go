package picture

import "math"

// grain is how many samples a pixel has along x and along y.
const grain = 2

// buffer is a depth buffer: for every sample how near the nearest facet is (mm towards the eye)
// and which one it is.
type buffer struct {
	w, h int // samples
	near []float32
	id   []int32 // -1: none
}

// spot is a point in samples, y down; z is mm towards the eye.
type spot struct{ x, y, z float64 }

func newBuffer(w, h int) *buffer { return new(buffer).cleared(w, h) }

// cleared is an empty buffer of the size, in the memory of one that is not needed any more where that is enough.
func (b *buffer) cleared(w, h int) *buffer {
	if cap(b.near) < w*h {
		b.near, b.id = make([]float32, w*h), make([]int32, w*h)
	}
	b.w, b.h, b.near, b.id = w, h, b.near[:w*h], b.id[:w*h]
	flood(b.near, float32(math.Inf(-1)))
	flood(b.id, -1)
	return b
}

// flood sets all to one value, by ever longer copies, which is several times faster than one after the other.
func flood[T any](all []T, value T) {
	if len(all) == 0 {
		return
	}
	all[0] = value
	for n := 1; n < len(all); n *= 2 {
		copy(all[n:], all[:n])
	}
}

// fill draws one triangle. Of equally near facets the one drawn first stays. A side shared by two
// triangles is computed alike for both, from its upper end, so that no sample falls between them.
func (b *buffer) fill(p, q, r spot, id int32, bias float64) {
	area := (q.x-p.x)*(r.y-p.y) - (r.x-p.x)*(q.y-p.y)
	if math.Abs(area) < 1e-6 {
		return
	}
	dx := ((q.z-p.z)*(r.y-p.y) - (r.z-p.z)*(q.y-p.y)) / area
	dy := ((q.x-p.x)*(r.z-p.z) - (r.x-p.x)*(q.z-p.z)) / area
	if q.above(p) {
		p, q = q, p
	}
	if r.above(p) {
		p, r = r, p
	}
	if r.above(q) {
		q, r = r, q
	}
	long := (r.x - p.x) / (r.y - p.y)
	upper, lower := (q.x-p.x)/(q.y-p.y), (r.x-q.x)/(r.y-q.y)
	last := min(firstCentre(r.y), b.h)
	for row := max(firstCentre(p.y), 0); row < last; row++ {
		y := float64(row) + 0.5
		x0 := p.x + (y-p.y)*long
		x1 := q.x + (y-q.y)*lower
		if y < q.y {
			x1 = p.x + (y-p.y)*upper
		}
		if x0 > x1 {
			x0, x1 = x1, x0
		}
		from, to := max(firstCentre(x0), 0), min(firstCentre(x1), b.w)
		if from >= to {
			continue
		}
		z := p.z + dx*(float64(from)+0.5-p.x) + dy*(y-p.y) - bias
		b.span(row*b.w+from, row*b.w+to, z, dx, id)
	}
}

func (b *buffer) span(from, to int, z, dx float64, id int32) {
	near, ids := b.near[from:to], b.id[from:to]
	for i := range near {
		if zz := float32(z); zz > near[i] {
			near[i] = zz
			ids[i] = id
		}
		z += dx
	}
}

func (s spot) above(t spot) bool { return s.y < t.y || s.y == t.y && s.x < t.x }

// firstCentre is the first sample whose centre is not before v.
func firstCentre(v float64) int { return int(math.Ceil(v - 0.5)) }
