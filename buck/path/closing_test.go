package path_test

import (
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"formbuck/buck/internal/formed"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// bruteClosing tries every pair of cell and place of the ball: the dilation of the map by the ball, and
// the erosion of that by the ball, both over the map's cells only.
func bruteClosing(m *path.Map, radius float64) *path.Map {
	type offset struct {
		x, y int
		ball float64
	}
	var offsets []offset
	reach := int(radius/m.Step) + 1
	for y := -reach; y <= reach; y++ {
		for x := -reach; x <= reach; x++ {
			if under := radius*radius - float64(x*x+y*y)*m.Step*m.Step; under >= 0 {
				offsets = append(offsets, offset{x, y, math.Sqrt(under)})
			}
		}
	}
	over := func(z []float64, sign float64) []float64 { // the highest ball over z, or the lowest under it
		out := make([]float64, len(z))
		for n := range out {
			best := math.Inf(-1)
			for _, o := range offsets {
				if x, y := n%m.NX+o.x, n/m.NX+o.y; x >= 0 && y >= 0 && x < m.NX && y < m.NY {
					best = max(best, sign*z[y*m.NX+x]+o.ball)
				}
			}
			out[n] = sign * best
		}
		return out
	}
	return &path.Map{Grid: m.Grid, Z: over(over(m.Z, 1), -1)}
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
			m.Z[n] = max(m.Z[n], z)
		}
	}
	return m
}

// TestClosingAgainstBruteForce compares with trying every pair of cell and place, on maps that are hard on a ball: what
// the closing raises is equal, up to the map's border. What it leaves as it is, brute force leaves too, or raises by the grain: on
// slopes a ball whose places are over middles of cells does not come down all the way.
func TestClosingAgainstBruteForce(t *testing.T) {
	seeds, sizes := uint64(size.Of(1, 1, 2)), []struct {
		step, radius float64
		nx, ny       int
	}{{0.1, 2.05, 90, 70}, {0.05, 1.3, 100, 80}, {0.02, 0.41, 70, 80}, {0.4, 4, 50, 45}, {0.3, 6.4, 100, 33}}
	if n, err := strconv.Atoi(os.Getenv("FORMBUCK_MAPS")); err == nil {
		seeds = uint64(n)
	}
	if testing.Short() {
		sizes = sizes[3:4]
	}
	for _, c := range sizes {
		for _, k := range terrain {
			raised, touched := 0.0, 0.0
			for seed := range seeds {
				m := &path.Map{Grid: path.Grid{Step: c.step, NX: c.nx, NY: c.ny}, Z: make([]float64, c.nx*c.ny)}
				k.fill(rand.New(rand.NewPCG(seed, 11)), m)
				fast, all := formed.Closing(m, c.radius, 0), bruteClosing(m, c.radius)
				for n, z := range fast.Z {
					if z != m.Z[n] {
						raised = max(raised, math.Abs(z-all.Z[n]))
					} else {
						touched = max(touched, all.Z[n]-z)
					}
				}
			}
			if grain := 3*c.step*c.step/c.radius + 1e-9; raised > 1e-12 || touched > grain {
				t.Errorf("cells of %g mm, radius %g, %s: off by %g where it is raised, brute force is higher by %g where it is not (%g is allowed)",
					c.step, c.radius, k.name, raised, touched, grain)
			}
		}
	}
}

// TestClosingIsAClosing holds what every closing has: it is nowhere below the map, closing twice changes nothing
// more than the grain, and a higher map has a higher closing.
func TestClosingIsAClosing(t *testing.T) {
	const radius = 3
	m := blob(rand.New(rand.NewPCG(1, 9)), 150, 110, 0.1)
	once := formed.Closing(m, radius, 0)
	twice := formed.Closing(once, radius, 0)
	higher := &path.Map{Grid: m.Grid, Z: append([]float64(nil), m.Z...)}
	for n := range higher.Z {
		higher.Z[n] += 0.5 * float64(n%m.NX) / float64(m.NX)
	}
	above := formed.Closing(higher, radius, 0)
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
// 3.600 mm for one of 2.4 mm. Wherever the wall stands in its cell, the contact is found within three quarters of a cell; the mean
// over walls at places evenly apart within a cell comes closer still, by 2 or more per halving of the cells.
func TestFlatContact(t *testing.T) {
	const h, r1, places = 1.75, 0.2, 32
	widest, halvings := 0.4, 4
	if testing.Short() {
		widest, halvings = 0.2, 2
	}
	for _, c := range []struct{ sheet, want float64 }{{2.0, 3.211}, {2.4, 3.600}} {
		fold := measures.Fold{Half: h, Sheet: c.sheet, Edge: r1, DraftDeg: 5}
		if closed := fold.Contact(); math.Abs(closed-c.want) > 5e-4 {
			t.Errorf("sheet %g: the closed form gives %.4f", c.sheet, closed)
		}
		var off []float64
		for k := range halvings + 1 {
			step, sum, worst := widest/math.Pow(2, float64(k)), 0.0, 0.0
			for place := range places {
				wall := (float64(place) + 0.5) / places * step
				d := flatContact(step, wall, h, r1, 2*c.sheet) - fold.Contact()
				sum, worst = sum+d, max(worst, math.Abs(d))
			}
			off = append(off, math.Abs(sum/places))
			t.Logf("sheet %g, cells of %g mm: off by %.4f mm at most, by %.5f mm on the mean", c.sheet, step, worst, off[k])
			if worst > 0.75*step {
				t.Errorf("sheet %g, cells of %g mm: flat contact is off by %.4f mm", c.sheet, step, worst)
			}
		}
		if per := math.Pow(off[0]/off[halvings], 1/float64(halvings)); per < 2 {
			t.Errorf("sheet %g: the mean comes closer by %.2f per halving, %.5f", c.sheet, per, off)
		}
	}
}

// flatContact is how far from an upright wall of a height, whose upper edge is rounded, a ball that rolls over it comes
// down to the floor, from cells of a step.
func flatContact(step, wall, h, r1, radius float64) float64 {
	m := &path.Map{Grid: path.Grid{Min: r2.Vec{X: -2}, Step: step, NX: int(9 / step), NY: 3}}
	m.Z = make([]float64, m.Cells())
	for n := range m.Z {
		switch x := m.Grid.At(n).X - wall; {
		case x < -r1:
			m.Z[n] = h
		case x < 0:
			m.Z[n] = h - r1 + math.Sqrt(r1*r1-(x+r1)*(x+r1))
		}
	}
	last := 0.0
	for i, z := range formed.Closing(m, radius, 0).Row(1) {
		if z > 1e-9 {
			last = m.Middle(i, 0).X
		}
	}
	return last + step/2 - wall
}
