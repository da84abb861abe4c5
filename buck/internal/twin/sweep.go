package twin

import (
	"math"

	"formbuck/buck/pieces"

	"gonum.org/v1/gonum/spatial/r2"
)

// Sweep is what passes over a line along the draw, by brute force: the knife's half thickness is asked
// for at every step of the line, and nothing else is known of it.
type Sweep struct {
	from, step float64
	h, deepest []float64 // at each step: here, and the greatest here or further in
}

// NewSweep asks along the line at y on the draw's axes, which are turned from the blade's by cantDeg,
// from x = from to the tip. The handle does not count: it never passes the blade.
func NewSweep(k *pieces.Buck, y, from, step, cantDeg float64) *Sweep {
	return newSweep(k, y, from, step, cantDeg, func(p r2.Vec) float64 {
		if k.ZoneAt(p).OfHandle() {
			return 0
		}
		return k.Half(p)
	})
}

// newSweep is NewSweep of what the height tells.
func newSweep(k *pieces.Buck, y, from, step, cantDeg float64, half func(p r2.Vec) float64) *Sweep {
	far := r2.Norm(k.Plan.Tip) + step
	s := &Sweep{from: from, step: step}
	for x := from; x <= far; x += step {
		p := r2.Rotate(r2.Vec{X: x, Y: y}, cantDeg*math.Pi/180, r2.Vec{})
		s.h = append(s.h, half(p))
	}
	s.deepest = make([]float64, len(s.h))
	best := 0.0
	for i := len(s.h) - 1; i >= 0; i-- {
		best = max(best, s.h[i])
		s.deepest[i] = best
	}
	return s
}

// Each calls yield with every x asked at, the half thickness there and the greatest that passes it.
func (s *Sweep) Each(yield func(x, h, passes float64)) {
	for i := range s.h {
		yield(s.from+float64(i)*s.step, s.h[i], s.deepest[i])
	}
}

// sheet is what passes over a stretch of the plan, on the nodes of a fine grid, let down at 45
// degrees or another slope beside every cliff.
type sheet struct {
	low   r2.Vec
	step  float64
	slope float64 // a tangent
	rows  [][]float64
}

// newSheet lays sweeps at every step from low.Y to high and lets their cliffs down: at q the surface
// is the greatest of E(q') - |q - q'| over all nodes q'. Only the tops of cliffs can be that
// greatest, since between the others E falls more slowly anyway. The grid puts a cliff at most a step
// too far in, so the surface beside it is at most that too low; elsewhere it errs by what straight
// lines between the nodes miss, far below a micron on a bevel.
func newSheet(k *pieces.Buck, low r2.Vec, high, step, cantDeg float64) *sheet {
	s := &sheet{low: low, step: step, slope: 1}
	for y := low.Y; y <= high+step; y += step {
		s.rows = append(s.rows, NewSweep(k, y, low.X, step, cantDeg).deepest)
	}
	s.soften()
	return s
}

// gripSheet is a sheet of all of the knife that passes what lies between low and high, let down at the slope of a filler.
func gripSheet(k *pieces.Buck, low, high r2.Vec, step, cantDeg float64) *sheet {
	s := &sheet{low: low, step: step, slope: fillerSlope}
	count := int((high.X-low.X)/step) + 2
	for y := low.Y; y <= high.Y+step; y += step {
		row := newSweep(k, y, low.X, step, cantDeg, k.Half).deepest
		s.rows = append(s.rows, row[:min(count, len(row))])
	}
	s.soften()
	return s
}

// soften lets the cliffs down.
func (s *sheet) soften() {
	sharp := s.rows
	s.rows = make([][]float64, len(sharp))
	for j, r := range sharp {
		s.rows[j] = append([]float64(nil), r...)
	}
	for j, r := range sharp {
		for i, z := range r {
			if drop := s.cliff(sharp, i, j); drop > s.slope*s.step {
				s.letDown(i, j, z, drop)
			}
		}
	}
}

// cliff is how deep the surface falls beside node i of row j, if more steeply than 45 degrees: what
// it falls within 3 mm, the thickest blade's half.
func (s *sheet) cliff(rows [][]float64, i, j int) float64 {
	z, drop := rows[j][i], 0.0
	for _, d := range [...][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
		if m, n := i+d[0], j+d[1]; n >= 0 && n < len(rows) && m >= 0 && m < len(rows[n]) {
			drop = max(drop, z-rows[n][m])
		}
	}
	if drop > s.slope*s.step {
		return z
	}
	return 0
}

// letDown raises the nodes around node i of row j, z high, to the cone of the slope under it.
func (s *sheet) letDown(i, j int, z, drop float64) {
	reach := int(drop / s.slope / s.step)
	for n := max(j-reach, 0); n <= min(j+reach, len(s.rows)-1); n++ {
		for m := max(i-reach, 0); m <= min(i+reach, len(s.rows[n])-1); m++ {
			s.rows[n][m] = max(s.rows[n][m], z-s.slope*s.step*math.Hypot(float64(m-i), float64(n-j)))
		}
	}
}

// at is the height at q, straight between the nodes.
func (s *sheet) at(q r2.Vec) float64 {
	u, v := (q.X-s.low.X)/s.step, (q.Y-s.low.Y)/s.step
	j := min(max(int(v), 0), len(s.rows)-2)
	i := min(max(int(u), 0), len(s.rows[j])-2)
	u, v = min(max(u-float64(i), 0), 1), min(max(v-float64(j), 0), 1)
	a, b := s.rows[j][i:i+2], s.rows[j+1][i:i+2]
	return (a[0]*(1-u)+a[1]*u)*(1-v) + (b[0]*(1-u)+b[1]*u)*v
}
