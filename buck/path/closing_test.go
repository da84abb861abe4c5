package path_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"formbuck/buck"
	"formbuck/buck/path"

	"gonum.org/v1/gonum/spatial/r2"
)

// bruteClosing tries every pair of cell and place of the ball; the places are k cells apart.
func bruteClosing(m *path.Map, radius float64, k int) *path.Map {
	out := &path.Map{Grid: m.Grid, Z: make([]float64, len(m.Z))}
	reach := int(radius / m.Step)
	ball := func(i, j, x, y int) (float64, bool) {
		under := radius*radius - float64((x-i)*(x-i)+(y-j)*(y-j))*m.Step*m.Step
		return math.Sqrt(under), under >= 0
	}
	for n := range out.Z {
		out.Z[n] = math.Inf(1)
	}
	for j := 0; j < m.NY; j += k {
		for i := 0; i < m.NX; i += k {
			middle := math.Inf(-1)
			each(m, i, j, reach, func(x, y int) {
				if b, ok := ball(i, j, x, y); ok {
					middle = math.Max(middle, m.Z[y*m.NX+x]+b)
				}
			})
			each(m, i, j, reach, func(x, y int) {
				if b, ok := ball(i, j, x, y); ok {
					out.Z[y*m.NX+x] = math.Min(out.Z[y*m.NX+x], middle-b)
				}
			})
		}
	}
	return out
}

// each calls do with every cell within reach cells of cell (i, j), along each axis.
func each(m *path.Map, i, j, reach int, do func(x, y int)) {
	for y := max(0, j-reach); y <= min(m.NY-1, j+reach); y++ {
		for x := max(0, i-reach); x <= min(m.NX-1, i+reach); x++ {
			do(x, y)
		}
	}
}

// blob is a small knife of a kind: a few overlapping discs, boxes and wedges of random height.
func blob(r *rand.Rand, nx, ny int, step float64) *path.Map {
	m := &path.Map{Grid: path.Grid{Step: step, NX: nx, NY: ny}, Z: make([]float64, nx*ny)}
	in := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
	wx, wy := float64(nx)*step, float64(ny)*step
	for range 4 {
		c := r2.Vec{X: in(0.2, 0.8) * wx, Y: in(0.2, 0.8) * wy}
		rad, h := in(0.05, 0.3)*wx, in(0.2, 5)
		slope := r2.Vec{X: in(-0.4, 0.4), Y: in(-0.4, 0.4)}
		kind, turn := r.IntN(3), in(0, 3)
		for n := range m.Z {
			q := r2.Rotate(r2.Sub(m.Grid.At(n), c), turn, r2.Vec{})
			z := 0.0
			switch {
			case kind == 0 && r2.Norm(q) < rad:
				z = h
			case kind == 1 && math.Abs(q.X) < rad && math.Abs(q.Y) < rad/2:
				z = h + r2.Dot(q, slope)
			case kind == 2 && r2.Norm(q) < rad:
				z = h - rad + math.Sqrt(rad*rad-r2.Norm2(q))
			}
			m.Z[n] = math.Max(m.Z[n], z)
		}
	}
	return m
}

// TestClosingAgainstBruteForce compares with trying every pair. Where the ball bridges anything and all its
// places are tried the two are equal; where only some are tried at first, the closing lies between that of
// all places and that of those some. On smooth slopes a ball whose places are over middles of cells does not come
// down all the way: there brute force is higher by the grain, and the closing is the map itself.
func TestClosingAgainstBruteForce(t *testing.T) {
	seeds := uint64(6)
	if testing.Short() {
		seeds = 1
	}
	for _, c := range []struct{ step, radius float64 }{{0.1, 2.5}, {0.1, 4.1}, {0.05, 2.1}} {
		k := path.Pitch(c.step, c.radius)
		for seed := range seeds {
			m := blob(rand.New(rand.NewPCG(seed, 3)), 110, 90, c.step)
			fast, all := path.Closing(m, c.radius, 0), bruteClosing(m, c.radius, 1)
			some := all
			if k > 1 {
				some = bruteClosing(m, c.radius, k)
			}
			grain := 3*c.step*c.step/c.radius + 1e-9
			worst := 0.0
			for n, z := range fast.Z {
				low, high := all.Z[n]-1e-12, some.Z[n]+1e-12
				if z == m.Z[n] {
					low -= grain
				}
				if z < low || z > high {
					t.Fatalf("radius %g, seed %d, cell %d: %.6f, brute force %.6f to %.6f, map %.6f", c.radius, seed, n, z, low, high, m.Z[n])
				}
				worst = math.Max(worst, z-all.Z[n])
			}
			t.Logf("radius %g, seed %d: places %d cells apart; above brute force by %.1e mm at most", c.radius, seed, k, worst)
		}
	}
}

// TestClosingIsAClosing holds what every closing has: it is nowhere below the map, closing twice changes nothing
// more than the grain, and a higher map has a higher closing.
func TestClosingIsAClosing(t *testing.T) {
	const radius = 3
	m := blob(rand.New(rand.NewPCG(1, 9)), 150, 110, 0.1)
	once := path.Closing(m, radius, 0)
	twice := path.Closing(once, radius, 0)
	higher := &path.Map{Grid: m.Grid, Z: append([]float64(nil), m.Z...)}
	for n := range higher.Z {
		higher.Z[n] += 0.5 * float64(n%m.NX) / float64(m.NX)
	}
	above := path.Closing(higher, radius, 0)
	grain := 3*m.Step*m.Step/radius + 1e-9
	for n := range m.Z {
		switch {
		case once.Z[n] < m.Z[n]:
			t.Fatalf("cell %d: %.4f below the map's %.4f", n, once.Z[n], m.Z[n])
		case twice.Z[n] > once.Z[n]+grain:
			t.Fatalf("cell %d: closing twice raises it from %.4f to %.4f", n, once.Z[n], twice.Z[n])
		case above.Z[n] < once.Z[n]-grain:
			t.Fatalf("cell %d: a higher map has a lower closing, %.4f below %.4f", n, above.Z[n], once.Z[n])
		}
	}
}

// TestFlatContact checks where two sheets pressed over an upright wall with a rounded upper edge come
// into flat contact: x_f = sqrt(h (2 S - h)) - r1, S = r1 + r2 + t, from two tangent arcs; worked by hand
// for half thickness 1.75 mm, edge radius 0.2 mm and a foot radius of the sheet's thickness: 3.211 mm for a sheet of 2.0 mm,
// 3.600 mm for one of 2.4 mm.
func TestFlatContact(t *testing.T) {
	const h, r1 = 1.75, 0.2
	for _, c := range []struct{ sheet, want float64 }{{2.0, 3.211}, {2.4, 3.600}} {
		if closed := (buck.Fold{Half: h, Sheet: c.sheet, Edge: r1, DraftDeg: 5}).Contact(); math.Abs(closed-c.want) > 5e-4 {
			t.Errorf("sheet %g: the closed form gives %.4f", c.sheet, closed)
		}
		for _, step := range []float64{0.2, 0.1, 0.05, 0.025, 0.0125, 0.00625} {
			m := &path.Map{Grid: path.Grid{Min: r2.Vec{X: -2}, Step: step, NX: int(9 / step), NY: 5}}
			m.Z = make([]float64, m.Cells())
			for n := range m.Z {
				switch x := m.Grid.At(n).X; {
				case x < -r1:
					m.Z[n] = h
				case x < 0:
					m.Z[n] = h - r1 + math.Sqrt(r1*r1-(x+r1)*(x+r1))
				}
			}
			s := path.Closing(m, 2*c.sheet, 0)
			row, last := s.Row(m.NY/2), 0.0
			for i, z := range row {
				if z > 1e-9 {
					last = m.Middle(i, 0).X
				}
			}
			off := last + step/2 - c.want
			t.Logf("sheet %g, step %g: flat contact at %.4f, off by %+.4f", c.sheet, step, last+step/2, off)
			if math.Abs(off) > step {
				t.Errorf("sheet %g, step %g: flat contact at %.4f, want %.3f within a cell", c.sheet, step, last+step/2, c.want)
			}
		}
	}
}
