package plan_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"formbuck/mesh/internal/plan"
	"formbuck/testdata/size"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r2"
)

// insert adds points given in grid steps.
func insert(t tb, tr *plan.Triangulation, points ...[2]int) []int {
	t.Helper()
	var list []int
	for _, p := range points {
		v, err := tr.Insert(mm(p[0], p[1]))
		if err != nil {
			t.Fatalf("insert %v: %v", p, err)
		}
		list = append(list, v)
	}
	return list
}

// random are points within size grid steps of the origin.
func random(rnd *rand.Rand, count, size int) [][2]int {
	list := make([][2]int, count)
	for i := range list {
		list[i] = [2]int{rnd.IntN(2*size+1) - size, rnd.IntN(2*size+1) - size}
	}
	return list
}

// From grids so small that most points meet to the widest there is.
var sizes = []int{3, 5, 10, 30, 100, 1000, 1e6, 1e9}

func TestNew(t *testing.T) {
	tr := cover(t, 50000)
	s := verify(t, tr)
	if len(s.pts) != 4 || len(s.tris) != 2 {
		t.Errorf("%d points, %d triangles", len(s.pts), len(s.tris))
	}
	want := r2.Box{Min: r2.Vec{X: -6.25, Y: -6.25}, Max: r2.Vec{X: 6.25, Y: 6.25}}
	if got := tr.Bounds(); got != want {
		t.Errorf("bounds %v, want %v", got, want)
	}
}

func TestInsertRandom(t *testing.T) {
	for seed, size := range slices.Concat(sizes, sizes) {
		tr := cover(t, size)
		insert(t, tr, random(rand.New(rand.NewPCG(uint64(seed), 1)), 500, size)...)
		verify(t, tr)
	}
}

// A lattice: all points on circles of four and on lines of many. In a triangulation of n points, h
// of them on the rim of their hull, there are 2n-2-h triangles (de Berg et al., Computational
// Geometry, theorem 9.1).
func TestInsertLattice(t *testing.T) {
	tr := cover(t, 1000)
	for x := -10; x <= 10; x++ {
		for y := -10; y <= 10; y++ {
			insert(t, tr, [2]int{100 * x, 100 * y})
		}
	}
	s := verify(t, tr)
	if n := len(s.pts); n != 21*21+4 || len(s.tris) != 2*n-2-4 {
		t.Errorf("%d points, %d triangles", n, len(s.tris))
	}
}

// All points of a small square of the grid, so that not one more fits in, and then the triangles between are the
// smallest there are.
func TestInsertFull(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 1))
	tr := cover(t, 6)
	insert(t, tr, random(rnd, 5000, 6)...)
	s := verify(t, tr)
	if len(s.pts) != 13*13+4 {
		t.Errorf("%d points", len(s.pts))
	}
	unit := 0
	for _, v := range s.tris {
		if area2(s.pts[v[0]], s.pts[v[1]], s.pts[v[2]]).IsInt64() &&
			area2(s.pts[v[0]], s.pts[v[1]], s.pts[v[2]]).Int64() == 1 {
			unit++
		}
	}
	if unit != 2*12*12 {
		t.Errorf("%d triangles of half a grid square, want %d", unit, 2*12*12)
	}
}

func TestInsertTwice(t *testing.T) {
	tr := cover(t, 1000)
	first := insert(t, tr, random(rand.New(rand.NewPCG(2, 1)), 100, 1000)...)
	again := insert(t, tr, random(rand.New(rand.NewPCG(2, 1)), 100, 1000)...)
	if diff := cmp.Diff(first, again); diff != "" {
		t.Error(diff)
	}
	a, _ := tr.Insert(r2.Vec{X: 0.05, Y: 0.05})
	b, _ := tr.Insert(r2.Vec{X: 0.050049, Y: 0.049951})
	c, _ := tr.Insert(r2.Vec{X: 0.050051, Y: 0.05})
	if a != b || a == c {
		t.Errorf("vertices %d, %d, %d: the first two are one point of the grid", a, b, c)
	}
	verify(t, tr)
}

// The triangles whose circles are empty, found by trying all triples: the definition of a Delaunay
// triangulation (de Berg et al., Computational Geometry, theorem 9.6).
func TestInsertAgainstDefinition(t *testing.T) {
	for seed := range uint64(size.Of(10, 10, 30)) {
		rnd := rand.New(rand.NewPCG(seed, 7))
		tr := cover(t, 1e6)
		insert(t, tr, random(rnd, 20, 1e6)...)
		s := verify(t, tr)
		got := sorted(s.tris)
		if diff := cmp.Diff(emptyCircles(s.pts), got); diff != "" {
			t.Fatalf("seed %d (-definition +got):\n%s", seed, diff)
		}
	}
}

func emptyCircles(pts [][2]int32) [][3]int {
	var list [][3]int
	for a := range pts {
		for b := a + 1; b < len(pts); b++ {
			for c := a + 1; c < len(pts); c++ {
				if c == b || area2(pts[a], pts[b], pts[c]).Sign() <= 0 {
					continue
				}
				if !slices.ContainsFunc(pts, func(d [2]int32) bool {
					return inside(pts[a], pts[b], pts[c], d)
				}) {
					list = append(list, [3]int{a, b, c})
				}
			}
		}
	}
	return sorted(list)
}

// sorted are the triangles with the least vertex first, in order.
func sorted(tris [][3]int) [][3]int {
	list := slices.Clone(tris)
	for i, v := range list {
		for v[0] > v[1] || v[0] > v[2] {
			v = [3]int{v[1], v[2], v[0]}
		}
		list[i] = v
	}
	slices.SortFunc(list, func(a, b [3]int) int { return slices.Compare(a[:], b[:]) })
	return list
}

// Points without four on a circle have one Delaunay triangulation, whatever the order they come in.
func TestInsertInAnyOrder(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	points := random(rnd, 200, 1e8)
	var want map[[6]int32]bool
	for range 10 {
		tr := cover(t, 1e8)
		insert(t, tr, points...)
		s := verify(t, tr)
		got := places(s)
		if want == nil {
			want = got
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatal(diff)
		}
		rnd.Shuffle(len(points), func(i, j int) { points[i], points[j] = points[j], points[i] })
	}
}

// places are the triangles by the coordinates of their corners, the least first.
func places(s soup) map[[6]int32]bool {
	set := map[[6]int32]bool{}
	for _, v := range s.tris {
		p := [][2]int32{s.pts[v[0]], s.pts[v[1]], s.pts[v[2]]}
		for slices.Compare(p[0][:], p[1][:]) > 0 || slices.Compare(p[0][:], p[2][:]) > 0 {
			p = [][2]int32{p[1], p[2], p[0]}
		}
		set[[6]int32{p[0][0], p[0][1], p[1][0], p[1][1], p[2][0], p[2][1]}] = true
	}
	return set
}

func TestLocate(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	tr := cover(t, 1e6)
	for range 20 {
		addLine(t, tr, false, random(rnd, 2, 1e6)...)
	}
	s := verify(t, tr)
	for range 2000 {
		p := random(rnd, 1, 1.2e6)[0]
		i := tr.Locate(mm(p[0], p[1]))
		if i < 0 {
			t.Fatalf("%v is nowhere", p)
		}
		if j := tr.Scan(mm(p[0], p[1])); i != j {
			t.Fatalf("%v is in triangle %d by walking, %d by looking at all", p, i, j)
		}
		for k := range 3 {
			a, b := s.pts[s.tris[i][k]], s.pts[s.tris[i][(k+1)%3]]
			if area2(a, b, [2]int32{int32(p[0]), int32(p[1])}).Sign() < 0 {
				t.Fatalf("%v is not in triangle %d", p, i)
			}
		}
	}
	nan := math.NaN()
	for _, p := range []r2.Vec{{X: 126}, {Y: -126}, {X: nan}, {Y: math.Inf(1)}, {X: 1e300}} {
		if i := tr.Locate(p); i != -1 {
			t.Errorf("%v is in triangle %d", p, i)
		}
	}
	for i, p := range tr.Points() {
		if !slices.Contains(s.tris[tr.Locate(p)][:], i) {
			t.Errorf("the triangle of point %d does not have it", i)
		}
	}
}

func TestFaults(t *testing.T) {
	tr := cover(t, 10000)
	v := insert(t, tr, [2]int{0, 0})[0]
	before := read(tr)
	inf, nan := math.Inf(-1), math.NaN()
	box := func(a, b, c, d float64) error {
		_, err := plan.New(r2.Box{Min: r2.Vec{X: a, Y: b}, Max: r2.Vec{X: c, Y: d}})
		return err
	}
	point := func(x, y float64) error {
		_, err := tr.Insert(r2.Vec{X: x, Y: y})
		return err
	}
	split := func(i, k int) error {
		_, err := tr.Split(i, k, r2.Vec{})
		return err
	}
	border := slices.IndexFunc(before.next, func(n [3]int) bool { return slices.Contains(n[:], -1) })
	side := slices.Index(before.next[border][:], -1)
	for _, c := range []struct {
		name string
		err  error
		want plan.Kind
	}{
		{"bounds not a number", box(nan, 0, 1, 1), plan.NotFinite},
		{"bounds infinite", box(inf, 0, 1, 1), plan.NotFinite},
		{"bounds too far", box(0, 0, 1e5+1e-9, 1), plan.TooFar},
		{"bounds upside down", box(0, 1, 1, 0), plan.BadBounds},
		{"point not a number", point(0, nan), plan.NotFinite},
		{"point infinite", point(inf, 0), plan.NotFinite},
		{"point outside", point(1.0001, 0), plan.Outside},
		{"point far outside", point(0, 1e300), plan.Outside},
		{"line half outside", tr.AddLine([]r2.Vec{{X: 0.5}, {X: 2}}, false), plan.Outside},
		{"constraint to a corner", tr.Constrain(v, 3), plan.NoVertex},
		{"constraint to nothing", tr.Constrain(v, v+1), plan.NoVertex},
		{"constraint from nothing", tr.Constrain(-1, v), plan.NoVertex},
		{"no triangle", split(len(before.tris), 0), plan.NoEdge},
		{"no edge", split(0, 3), plan.NoEdge},
		{"border", split(border, side), plan.NoEdge},
		{"zero value", new(plan.Triangulation).AddLine([]r2.Vec{{}}, false), plan.Outside},
	} {
		var e *plan.Error
		if !errors.As(c.err, &e) || e.Kind != c.want {
			t.Errorf("%s: %v, want %v", c.name, c.err, c.want)
		}
	}
	if diff := cmp.Diff(before, read(tr), cmp.AllowUnexported(soup{})); diff != "" {
		t.Errorf("a fault changed something:\n%s", diff)
	}
}

func TestErrorText(t *testing.T) {
	for _, c := range []struct {
		err  plan.Error
		want string
	}{
		{plan.Error{Kind: plan.Outside, At: r2.Vec{X: 1, Y: -2}}, "at (1.0000, -2.0000) mm: point is outside the bounds"},
		{plan.Error{Kind: plan.NoVertex, Index: 7}, "index 7: no such vertex within the bounds"},
	} {
		if got := c.err.Error(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if got := plan.Kind(99).String(); got != "fault 99" {
		t.Errorf("%q", got)
	}
}

// The widest bounds there are: the corners are further than MaxCoordinate, and all is still exact.
func TestWidest(t *testing.T) {
	tr := cover(t, 1e9)
	const m = int(1e9)
	addLine(t, tr, true, [2]int{-m, -m}, [2]int{m, -m}, [2]int{m, m}, [2]int{-m, m})
	addLine(t, tr, false, [2]int{-m, -m + 1}, [2]int{m, m - 1})
	addLine(t, tr, false, [2]int{-m, m}, [2]int{m, -m})
	addLine(t, tr, false, [2]int{-m + 1, -m}, [2]int{m - 1, m})
	verify(t, tr)
	if got, want := tr.Bounds().Max, (r2.Vec{X: 1.1e5, Y: 1.1e5}); got != want {
		t.Errorf("upper corner %v, want %v", got, want)
	}
}

// Bounds without an inside: a point, and a line.
func TestFlatBounds(t *testing.T) {
	tr := cover(t, 0)
	insert(t, tr, [2]int{0, 0})
	verify(t, tr)
	tr, err := plan.New(r2.Box{Max: r2.Vec{X: 3}})
	if err != nil {
		t.Fatal(err)
	}
	addLine(t, tr, false, [2]int{0, 0}, [2]int{30000, 0})
	verify(t, tr).verifyLine(t, [2]int32{0, 0}, [2]int32{30000, 0}, 0)
}

func TestSameCallsSameResult(t *testing.T) {
	build := func() soup {
		rnd := rand.New(rand.NewPCG(9, 9))
		tr := cover(t, 1000)
		for range 50 {
			addLine(t, tr, true, random(rnd, 3, 1000)...)
		}
		return read(tr)
	}
	if diff := cmp.Diff(build(), build(), cmp.AllowUnexported(soup{})); diff != "" {
		t.Error(diff)
	}
}
