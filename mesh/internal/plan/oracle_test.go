package plan_test

import (
	"math"
	"math/big"
	"testing"

	"formbuck/mesh/internal/plan"

	"gonum.org/v1/gonum/spatial/r2"
)

// tb is what the oracle needs of a test, of a property or of a benchmark.
type tb interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
}

// grid is a point in grid steps.
func grid(p r2.Vec) [2]int32 {
	return [2]int32{int32(math.Round(p.X * 1e4)), int32(math.Round(p.Y * 1e4))}
}

// mm is a point given in grid steps.
func mm(x, y int) r2.Vec { return r2.Vec{X: float64(x) / 1e4, Y: float64(y) / 1e4} }

func ints(p [2]int32) (x, y *big.Int) {
	return big.NewInt(int64(p[0])), big.NewInt(int64(p[1]))
}

// area2 is twice the area of the triangle abc, by other means than the package's.
func area2(a, b, c [2]int32) *big.Int {
	sum := new(big.Int)
	for _, e := range [][2][2]int32{{a, b}, {b, c}, {c, a}} {
		px, py := ints(e[0])
		qx, qy := ints(e[1])
		sum.Add(sum, px.Mul(px, qy))
		sum.Sub(sum, qx.Mul(qx, py))
	}
	return sum
}

// inside tells whether d is strictly inside the circle through the counter-clockwise triangle abc:
// the sign of the 4 x 4 determinant of the rows (x, y, x^2+y^2, 1), expanded along its last column.
func inside(a, b, c, d [2]int32) bool {
	rows := [4][2]int32{a, b, c, d}
	det := new(big.Int)
	for skip := range rows {
		var m [3][3]*big.Int
		n := 0
		for i, r := range rows {
			if i == skip {
				continue
			}
			x, y := ints(r)
			lift := new(big.Int).Mul(x, x)
			lift.Add(lift, new(big.Int).Mul(y, y))
			m[n] = [3]*big.Int{x, y, lift}
			n++
		}
		minor := det3(m)
		if skip%2 == 0 {
			minor.Neg(minor) // the last column is number 3: signs are - + - +
		}
		det.Add(det, minor)
	}
	return det.Sign() > 0
}

func det3(m [3][3]*big.Int) *big.Int {
	sum := new(big.Int)
	for k := range 3 {
		p := new(big.Int).Mul(m[0][k], m[1][(k+1)%3])
		q := new(big.Int).Mul(m[0][k], m[1][(k+2)%3])
		sum.Add(sum, p.Mul(p, m[2][(k+2)%3]))
		sum.Sub(sum, q.Mul(q, m[2][(k+1)%3]))
	}
	return sum
}

// soup is a triangulation read into plain lists.
type soup struct {
	pts   [][2]int32
	tris  [][3]int
	next  [][3]int
	fixed [][3]bool
}

func read(t *plan.Triangulation) soup {
	s := soup{tris: t.Triangles()}
	for _, p := range t.Points() {
		s.pts = append(s.pts, grid(p))
	}
	for i := range s.tris {
		s.next = append(s.next, t.Neighbours(i))
		var f [3]bool
		for k := range f {
			f[k] = t.Constrained(i, k)
		}
		s.fixed = append(s.fixed, f)
	}
	return s
}

// verify is the oracle: all that must hold of a triangulation, whatever was put into it.
func verify(t tb, tr *plan.Triangulation) soup {
	t.Helper()
	s := read(tr)
	s.verifyPoints(t, tr.Bounds())
	s.verifyArea(t)
	s.verifyEdges(t)
	s.verifyDelaunay(t)
	return s
}

func (s soup) verifyPoints(t tb, b r2.Box) {
	t.Helper()
	low, high := grid(b.Min), grid(b.Max)
	want := [][2]int32{low, {high[0], low[1]}, high, {low[0], high[1]}}
	seen := map[[2]int32]int{}
	for i, p := range s.pts {
		if j, ok := seen[p]; ok {
			t.Errorf("points %d and %d are both %v", j, i, p)
		}
		seen[p] = i
		switch {
		case i < 4 && p != want[i]:
			t.Errorf("corner %d is %v, want %v", i, p, want[i])
		case i >= 4 && (p[0] <= low[0] || p[0] >= high[0] || p[1] <= low[1] || p[1] >= high[1]):
			t.Errorf("point %d, %v, is not inside %v %v", i, p, low, high)
		}
	}
	used := make([]bool, len(s.pts))
	for _, tri := range s.tris {
		for _, v := range tri {
			used[v] = true
		}
	}
	for i, u := range used {
		if !u {
			t.Errorf("point %d, %v, has no triangle", i, s.pts[i])
		}
	}
}

// verifyArea: every triangle counter-clockwise, and together exactly the rectangle.
func (s soup) verifyArea(t tb) {
	t.Helper()
	sum := new(big.Int)
	for i, v := range s.tris {
		a := area2(s.pts[v[0]], s.pts[v[1]], s.pts[v[2]])
		if a.Sign() <= 0 {
			t.Errorf("triangle %d, %v: twice the area is %v", i, v, a)
		}
		sum.Add(sum, a)
	}
	whole := area2(s.pts[0], s.pts[1], s.pts[2])
	whole.Lsh(whole, 1)
	if sum.Cmp(whole) != 0 {
		t.Errorf("areas add up to %v, want %v", sum, whole)
	}
}

// verifyEdges: neighbours and marks agree from both sides, four edges on the border, and Euler:
// vertices - edges + triangles = 1.
func (s soup) verifyEdges(t tb) {
	t.Helper()
	type side struct{ tri, k int }
	sides := map[[2]int]side{}
	for i, v := range s.tris {
		for k := range v {
			e := [2]int{v[k], v[(k+1)%3]}
			if o, ok := sides[e]; ok {
				t.Errorf("edge %v is in triangles %d and %d in the same sense", e, o.tri, i)
			}
			sides[e] = side{i, k}
		}
	}
	border := 0
	for e, at := range sides {
		o, ok := sides[[2]int{e[1], e[0]}]
		n := s.next[at.tri][at.k]
		switch {
		case !ok:
			border++
			if n != -1 || e[0] > 3 || e[1] > 3 || s.fixed[at.tri][at.k] {
				t.Errorf("edge %v is on the border, neighbour %d", e, n)
			}
		case n != o.tri:
			t.Errorf("across edge %v from triangle %d: %d, want %d", e, at.tri, n, o.tri)
		case s.fixed[at.tri][at.k] != s.fixed[o.tri][o.k]:
			t.Errorf("edge %v is a constraint from one side only", e)
		}
	}
	edges := (len(sides) + border) / 2
	if border != 4 || len(s.pts)-edges+len(s.tris) != 1 {
		t.Errorf("%d border edges, %d points - %d edges + %d triangles", border, len(s.pts), edges, len(s.tris))
	}
}

// verifyDelaunay: every free edge is locally Delaunay.
func (s soup) verifyDelaunay(t tb) {
	t.Helper()
	for i, v := range s.tris {
		for k, n := range s.next[i] {
			if n < i || s.fixed[i][k] {
				continue
			}
			for _, w := range s.tris[n] {
				if w != v[0] && w != v[1] && w != v[2] &&
					inside(s.pts[v[0]], s.pts[v[1]], s.pts[v[2]], s.pts[w]) {
					t.Errorf("edge %d of triangle %d is free and not Delaunay: %v and %d", k, i, v, w)
				}
			}
		}
	}
}

// verifyLine: from a to b there is a path of constraint edges whose vertices are all within the
// distance, in grid steps, of the straight line.
func (s soup) verifyLine(t tb, a, b [2]int32, within float64) {
	t.Helper()
	if a == b {
		return
	}
	link := s.links(a, b, within)
	reached := map[[2]int32]bool{a: true}
	for queue := [][2]int32{a}; len(queue) > 0; queue = queue[1:] {
		for _, q := range link[queue[0]] {
			if !reached[q] {
				reached[q] = true
				queue = append(queue, q)
			}
		}
	}
	if !reached[b] {
		t.Errorf("no path of constraints from %v to %v within %g grid steps", a, b, within)
	}
}

// links are the constraint edges near the line from a to b.
func (s soup) links(a, b [2]int32, within float64) map[[2]int32][][2]int32 {
	near := make([]bool, len(s.pts))
	for i, p := range s.pts {
		near[i] = distance(p, a, b) <= within
	}
	link := map[[2]int32][][2]int32{}
	for i, v := range s.tris {
		for k := range v {
			from, to := v[k], v[(k+1)%3]
			if s.fixed[i][k] && near[from] && near[to] {
				link[s.pts[from]] = append(link[s.pts[from]], s.pts[to])
			}
		}
	}
	return link
}

// distance from p to the line between a and b, in grid steps.
func distance(p, a, b [2]int32) float64 {
	d := r2.Vec{X: float64(b[0]) - float64(a[0]), Y: float64(b[1]) - float64(a[1])}
	q := r2.Vec{X: float64(p[0]) - float64(a[0]), Y: float64(p[1]) - float64(a[1])}
	u := max(0, min(1, r2.Dot(d, q)/r2.Norm2(d)))
	return r2.Norm(r2.Sub(q, r2.Scale(u, d)))
}

// cover makes a triangulation for points within n grid steps of the origin.
func cover(t tb, n int) *plan.Triangulation {
	t.Helper()
	tr, err := plan.New(r2.Box{Min: mm(-n, -n), Max: mm(n, n)})
	if err != nil {
		t.Fatalf("bounds of %d: %v", n, err)
	}
	return tr
}

var _ tb = (*testing.T)(nil)
