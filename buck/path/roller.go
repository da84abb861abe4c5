package path

import "math"

// block is the side, in cells, of the squares of cells that are tried at once; big is that of the
// squares of these.
const (
	block = 4
	big   = 16
)

// roller finds, for a ball that is let down over a cell, the place on which it comes to rest. Places are
// cells, or every so many of them.
type roller struct {
	nx, ny int // places
	pitch  int // cells from one to the next
	z      []float64
	radius float64
	reach  int       // radius in whole cells
	ball   []float64 // height of the ball over its middle by the square of the distance in cells
	blocks pyramid   // the highest of every block
	bigs   pyramid   // and of every big square
	list   []int32
	better func(square int) // where set, makes the heights of a square true that were too high before
}

// pyramid holds the greatest height of every square of some cells.
type pyramid struct {
	nx, ny int
	z      []float64
}

func newPyramid(nx, ny, side int) pyramid {
	p := pyramid{nx: (nx + side - 1) / side, ny: (ny + side - 1) / side}
	p.z = make([]float64, p.nx*p.ny)
	return p
}

// gather sets square (u, v) of side cells from the heights of nx by ny cells below it.
func (p *pyramid) gather(u, v, side int, z []float64, nx, ny int) {
	best := math.Inf(-1)
	for y := v * side; y < min((v+1)*side, ny); y++ {
		for _, h := range z[y*nx+u*side : y*nx+min((u+1)*side, nx)] {
			if h > best {
				best = h
			}
		}
	}
	p.z[v*p.nx+u] = best
}

func newRoller(nx, ny, pitch int, z []float64, step, radius float64) *roller {
	r := &roller{nx: nx, ny: ny, pitch: pitch, z: z, radius: radius, reach: int(radius/step + 1e-9)}
	for d2 := 0; ; d2++ {
		under := radius*radius - float64(d2)*step*step
		if under < 0 {
			break
		}
		r.ball = append(r.ball, math.Sqrt(under))
	}
	r.blocks = newPyramid(r.nx, r.ny, block)
	r.bigs = newPyramid(r.blocks.nx, r.blocks.ny, big/block)
	for n := range r.bigs.z {
		r.refresh(n)
	}
	return r
}

// refresh gathers the heights of a big square anew.
func (r *roller) refresh(square int) {
	const per = big / block
	u, v := square%r.bigs.nx, square/r.bigs.nx
	for y := v * per; y < min((v+1)*per, r.blocks.ny); y++ {
		for x := u * per; x < min((u+1)*per, r.blocks.nx); x++ {
			r.blocks.gather(x, y, block, r.z, r.nx, r.ny)
		}
	}
	r.bigs.gather(u, v, per, r.blocks.z, r.blocks.nx, r.blocks.ny)
}

// window are the cells i pitch, j pitch with i from i0 up to i1 and j from j0 up to j1.
type window struct{ i0, i1, j0, j1, pitch int }

// square lets the ball down over every cell of a window and says how high its middle is then. The places
// of the roller are cells.
func (r *roller) square(w window, say func(i, j int, z float64)) {
	least := math.Inf(1)
	for j := w.j0; j < w.j1; j++ {
		for i := w.i0; i < w.i1; i++ {
			least = math.Min(least, r.z[j*w.pitch*r.nx+i*w.pitch])
		}
	}
	list := r.within(w, least+r.radius)
	for j := w.j0; j < w.j1; j++ {
		px, py := w.i0*w.pitch, j*w.pitch
		for i := w.i0; i < w.i1; i++ {
			x, y := i*w.pitch, j*w.pitch
			s := search{r: r, i: x, j: y, x: x, y: y, best: r.z[y*r.nx+x] + r.radius}
			s.try(px, py)
			s.try(min(px+w.pitch, r.nx-1), py)
			for _, n := range list {
				s.big(int(n))
			}
			say(i, j, s.best)
			px, py = s.x, s.y
		}
	}
}

// within are the big squares on which a ball over the window could come to rest higher than least.
func (r *roller) within(w window, least float64) []int32 {
	r.list = r.list[:0]
	i0, wide := w.i0*w.pitch, (w.i1-w.i0-1)*w.pitch+1
	j0, high := w.j0*w.pitch, (w.j1-w.j0-1)*w.pitch+1
	for v := max(0, (j0-r.reach)/big); v <= min(r.bigs.ny-1, (j0+high+r.reach)/big); v++ {
		for u := max(0, (i0-r.reach)/big); u <= min(r.bigs.nx-1, (i0+wide+r.reach)/big); u++ {
			dx, dy := between(u*big, big, i0, wide), between(v*big, big, j0, high)
			n, d2 := v*r.bigs.nx+u, dx*dx+dy*dy
			if d2 < len(r.ball) && r.bigs.z[n]+r.ball[d2] >= least {
				r.list = append(r.list, int32(n))
			}
		}
	}
	return r.list
}

// between is how far n cells from a on lie from m cells from b on, along one axis.
func between(a, n, b, m int) int { return max(0, b-a-n+1, a-b-m+1) }

// search looks for the place (x, y) on which the ball over cell (i, j) rests.
type search struct {
	r    *roller
	i, j int
	x, y int
	best float64 // height of its middle
}

// try tries one place.
func (s *search) try(x, y int) {
	dx, dy := x*s.r.pitch-s.i, y*s.r.pitch-s.j
	d2 := dx*dx + dy*dy
	if d2 >= len(s.r.ball) {
		return
	}
	if v := s.r.z[y*s.r.nx+x] + s.r.ball[d2]; v > s.best {
		s.x, s.y, s.best = x, y, v
	}
}

// around tries every place within reach, the nearest squares first.
func (s *search) around() {
	r := s.r
	side := big * r.pitch
	s.big(s.j/side*r.bigs.nx + s.i/side)
	for v := max(0, (s.j-r.reach)/side); v <= min(r.bigs.ny-1, (s.j+r.reach)/side); v++ {
		dy := s.off(s.j, v, big)
		for u := max(0, (s.i-r.reach)/side); u <= min(r.bigs.nx-1, (s.i+r.reach)/side); u++ {
			dx := s.off(s.i, u, big)
			if n := v*r.bigs.nx + u; !s.hopeless(dx*dx+dy*dy, r.bigs.z[n]) {
				s.big(n)
			}
		}
	}
}

// off is how many cells i is from the square u of n places, along one axis.
func (s *search) off(i, u, n int) int {
	k := s.r.pitch
	low := u * n * k
	if i < low {
		return low - i
	}
	return max(0, i-low-(n-1)*k)
}

// hopeless tells whether places at the square d2 of a distance and on, the best of which is z, can do no better.
func (s *search) hopeless(d2 int, z float64) bool {
	return d2 >= len(s.r.ball) || z+s.r.ball[d2] <= s.best
}

// big tries the places of big square n.
func (s *search) big(n int) {
	r := s.r
	u, v := n%r.bigs.nx, n/r.bigs.nx
	dx, dy := s.off(s.i, u, big), s.off(s.j, v, big)
	if s.hopeless(dx*dx+dy*dy, r.bigs.z[n]) {
		return
	}
	if r.better != nil {
		r.better(n)
		if s.hopeless(dx*dx+dy*dy, r.bigs.z[n]) {
			return
		}
	}
	const per = big / block
	for y := v * per; y < min((v+1)*per, r.blocks.ny); y++ {
		dy := s.off(s.j, y, block)
		for x := u * per; x < min((u+1)*per, r.blocks.nx); x++ {
			dx := s.off(s.i, x, block)
			if !s.hopeless(dx*dx+dy*dy, r.blocks.z[y*r.blocks.nx+x]) {
				s.block(x, y)
			}
		}
	}
}

// block tries the places of a block.
func (s *search) block(x, y int) {
	r := s.r
	for v := y * block; v < min((y+1)*block, r.ny); v++ {
		dy := v*r.pitch - s.j
		for u := x * block; u < min((x+1)*block, r.nx); u++ {
			dx := u*r.pitch - s.i
			d2 := dx*dx + dy*dy
			if d2 >= len(r.ball) {
				continue
			}
			if h := r.z[v*r.nx+u] + r.ball[d2]; h > s.best {
				s.x, s.y, s.best = u, v, h
			}
		}
	}
}
