package path

import "math"

// Closing is the grey closing of a map by a ball: the lowest surface over it that a ball of the radius,
// in mm, can touch everywhere when it rolls over the map. Beyond the map there is nothing for the ball
// to touch; within twice the radius of the map's border the closing is too low for that. It is looked
// for in the columns from the first one on, and left as the map before that.
//
// A rolling ball leaves a cell untouched only where that hangs together with a foot: a cell in which the
// height bends upwards more sharply than the ball (after Blaschke's rolling theorem, from memory). So
// what the ball bridges is followed from the feet outwards, and everywhere else the closing is the map.
// For a cell that is looked at every place of the ball within its reach is tried, and for a place of the
// ball every cell that it could rest on; whole squares of them at once where the best of a square could
// not do.
//
// The places of the ball's middle that are tried are Pitch cells apart, and then those around the best.
func Closing(m *Map, radius float64, first int) *Map {
	k := Pitch(m.Step, radius)
	f := &filler{
		low: m, radius: radius, first: first, out: m.clone(),
		rests: newRoller(m.NX, m.NY, 1, m.Z, m.Step, radius),
		done:  make([]bool, len(m.Z)),
		from:  make([]int32, len(m.Z)),
		fine:  make([]float64, len(m.Z)),
	}
	nx, ny := (m.NX+k-1)/k, (m.NY+k-1)/k
	top := make([]float64, nx*ny)
	for n := range top {
		top[n] = -(m.Z[n/nx*k*m.NX+n%nx*k] + radius) // the ball's middle is at least that high
	}
	f.hangs = newRoller(nx, ny, k, top, m.Step, radius)
	f.hangs.better = f.exact
	f.known = make([]bool, len(f.hangs.bigs.z))
	for n, is := range m.feet(radius) {
		if is && !f.done[n] && n%m.NX >= first {
			f.push(n, n)
			f.flood()
		}
	}
	return f.out
}

// Pitch is how many cells lie from one place of the ball's middle to the next: as many as let it hang over
// a foot between two of them by no more than a fortieth of a step.
func Pitch(step, radius float64) int {
	return max(1, int(math.Sqrt(radius/(10*step))))
}

// feet are the cells in which the map bends upwards more sharply than a ball.
func (m *Map) feet(radius float64) []bool {
	feet := make([]bool, len(m.Z))
	limit := m.Step * m.Step / radius
	nx := m.NX
	rows(m.NY-2, func(j int) {
		for n := (j+1)*nx + 1; n < (j+2)*nx-1; n++ {
			z := m.Z[n-nx-1 : n+nx+2]
			c := 2 * z[nx+1]
			feet[n] = z[nx]+z[nx+2]-c > limit || z[1]+z[2*nx+1]-c > limit ||
				z[0]+z[2*nx+2]-c > 2*limit || z[2]+z[2*nx]-c > 2*limit
		}
	})
	return feet
}

// filler raises a map to what a ball leaves free.
type filler struct {
	low    *Map
	out    *Map
	radius float64
	first  int
	rests  *roller // on the map: how high the ball's middle is over a cell
	hangs  *roller // under the ball's middles, upside down: how low the ball comes over a cell
	known  []bool  // by big square: the ball has been rolled over it
	done   []bool
	from   []int32   // for a cell that is done, the cell under the middle of the ball that comes lowest over it
	fine   []float64 // the height of the ball's middle over a cell, where it is known; 0: not yet
	stack  []int
}

// push puts a cell on the list, with the cell from which it was reached: itself for a foot.
func (f *filler) push(n, from int) {
	f.done[n] = true
	f.from[n] = f.from[from]
	if n == from {
		f.from[n] = int32(n)
	}
	f.stack = append(f.stack, n)
}

// flood raises the cells on the list and those that hang together with them.
func (f *filler) flood() {
	m := f.low
	for len(f.stack) > 0 {
		n := f.stack[len(f.stack)-1]
		f.stack = f.stack[:len(f.stack)-1]
		i, j := n%m.NX, n/m.NX
		free := f.free(n)
		if free <= m.Z[n]+f.grain(i, j) {
			continue
		}
		f.out.Z[n] = free
		for y := max(j-1, 0); y <= min(j+1, m.NY-1); y++ {
			for x := max(i-1, f.first); x <= min(i+1, m.NX-1); x++ {
				if k := y*m.NX + x; !f.done[k] {
					f.push(k, n)
				}
			}
		}
	}
}

// free is how low the ball can come over cell n. It is looked for around where it has its middle for the
// cell from which n was reached, and around the best of all places.
func (f *filler) free(n int) float64 {
	nx, k := f.low.NX, f.hangs.pitch
	l := lowest{f: f, i: n % nx, j: n / nx, z: math.Inf(1), at: int(f.from[n])}
	was := l.at
	l.around(was)
	s := search{r: f.hangs, i: l.i, j: l.j, x: -1, best: -l.z}
	s.around()
	if s.x >= 0 {
		l.z, l.at = -s.best, s.y*k*nx+s.x*k
		l.around(l.at)
	}
	f.from[n] = int32(l.at)
	return l.z
}

// lowest looks for the place of the ball's middle from which it comes lowest over cell (i, j).
type lowest struct {
	f    *filler
	i, j int
	z    float64 // how low it comes
	at   int     // cell under its middle
}

// around tries the cells around cell c, out to the next place on either side.
func (l *lowest) around(c int) {
	f := l.f
	m, near := f.low, f.hangs.pitch-1
	x, y := c%m.NX, c/m.NX
	for v := max(0, y-near); v <= min(m.NY-1, y+near); v++ {
		for u := max(0, x-near); u <= min(m.NX-1, x+near); u++ {
			d2 := (u-l.i)*(u-l.i) + (v-l.j)*(v-l.j)
			c := v*m.NX + u
			if d2 >= len(f.rests.ball) || m.Z[c]+f.radius-f.rests.ball[d2] >= l.z {
				continue
			}
			if f.fine[c] == 0 {
				f.rests.square(window{i0: u, i1: u + 1, j0: v, j1: v + 1, pitch: 1}, func(_, _ int, z float64) { f.fine[c] = z })
			}
			if z := f.fine[c] - f.rests.ball[d2]; z < l.z {
				l.z, l.at = z, c
			}
		}
	}
}

// exact rolls the ball over a big square that it has not been rolled over yet.
func (f *filler) exact(square int) {
	if f.known[square] {
		return
	}
	f.known[square] = true
	r := f.hangs
	i0, j0 := square%r.bigs.nx*big, square/r.bigs.nx*big
	f.rests.square(window{
		i0: i0, i1: min(i0+big, r.nx), j0: j0, j1: min(j0+big, r.ny), pitch: r.pitch,
	}, func(i, j int, z float64) { r.z[j*r.nx+i] = -z })
	r.refresh(square)
}

// grain is by how much a ball whose middle is over middles of cells only may hang over cell (i, j) of a
// smooth map; not at all where it is level. On steep slopes it is more than what is returned, but there
// what is followed needlessly is narrow.
func (f *filler) grain(i, j int) float64 {
	const rounding = 1e-9
	m := f.low
	n := j*m.NX + i
	slope := func(back, on int) float64 { // of the gentler side: the steeper may be a cliff
		return math.Min(math.Abs(m.Z[n+on]-m.Z[n]), math.Abs(m.Z[n]-m.Z[n-back])) / m.Step
	}
	dx := slope(min(i, 1), min(m.NX-1-i, 1))
	dy := slope(min(j, 1)*m.NX, min(m.NY-1-j, 1)*m.NX)
	if dx == 0 && dy == 0 {
		return rounding
	}
	steep := math.Min(1+dx*dx+dy*dy, 2)
	return m.Step*m.Step/f.radius*steep*math.Sqrt(steep) + rounding
}
