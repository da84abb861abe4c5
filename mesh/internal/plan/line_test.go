package plan_test

import (
	"math/rand/v2"
	"testing"

	"formbuck/mesh/internal/plan"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r2"
)

// stray is how far lines may be from straight, in grid steps: see the package comment.
const stray = 2

// addLine adds a line of points given in grid steps.
func addLine(t tb, tr *plan.Triangulation, closed bool, points ...[2]int) {
	t.Helper()
	var line []r2.Vec
	for _, p := range points {
		line = append(line, mm(p[0], p[1]))
	}
	if err := tr.AddLine(line, closed); err != nil {
		t.Fatalf("line %v: %v", points, err)
	}
}

func place(p [2]int) [2]int32 { return [2]int32{int32(p[0]), int32(p[1])} }

// marks is the number of constraint edges.
func (s soup) marks() int {
	count := 0
	for _, f := range s.fixed {
		for _, m := range f {
			if m {
				count++
			}
		}
	}
	return count / 2
}

// Segments between random points, many of them across each other.
func TestLinesRandom(t *testing.T) {
	for seed := range uint64(160) {
		rnd := rand.New(rand.NewPCG(seed, 2))
		size := sizes[seed%8]
		tr := cover(t, size)
		ends := random(rnd, 120, size)
		for i := 0; i < len(ends); i += 2 {
			addLine(t, tr, false, ends[i:i+2]...)
		}
		s := verify(t, tr)
		for i := 0; i < len(ends); i += 2 {
			s.verifyLine(t, place(ends[i]), place(ends[i+1]), stray)
		}
		if t.Failed() {
			t.Fatalf("seed %d, size %d", seed, size)
		}
	}
}

// A line that crosses a thousand others close to each other must not stray: from crossing to crossing, rounding would
// keep it on one height until it has to jump to its end.
func TestLineAcrossHatching(t *testing.T) {
	for _, first := range []bool{true, false} {
		for _, rise := range []int{3, 30, 300} {
			tr := cover(t, 101000)
			end := [2]int{100100, rise}
			if first {
				addLine(t, tr, false, [2]int{0, 0}, end)
			}
			for x := 100; x <= 100000; x += 100 {
				addLine(t, tr, false, [2]int{x, -1000}, [2]int{x + 37, 1000})
			}
			if !first {
				addLine(t, tr, false, [2]int{0, 0}, end)
			}
			s := read(tr)
			s.verifyLine(t, [2]int32{}, place(end), 1)
			s.verifyDelaunay(t)
		}
	}
}

// The same lines in another order and sense give another triangulation, but all lines are there.
func TestLinesInAnyOrder(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 6))
	lines := make([][][2]int, 40)
	for i := range lines {
		lines[i] = random(rnd, 2, 20000)
	}
	for range 20 {
		tr := cover(t, 20000)
		for _, l := range lines {
			addLine(t, tr, false, l...)
		}
		s := verify(t, tr)
		for _, l := range lines {
			s.verifyLine(t, place(l[0]), place(l[1]), stray)
		}
		rnd.Shuffle(len(lines), func(i, j int) { lines[i], lines[j] = lines[j], lines[i] })
		l := lines[rnd.IntN(len(lines))]
		l[0], l[1] = l[1], l[0]
	}
}

func TestLineThroughVertices(t *testing.T) {
	tr := cover(t, 1000)
	for x := -10; x <= 10; x++ {
		insert(t, tr, [2]int{100 * x, 50 * x}, [2]int{100 * x, 50*x + 1}, [2]int{100 * x, 50*x - 1})
	}
	addLine(t, tr, false, [2]int{-1000, -500}, [2]int{1000, 500})
	s := verify(t, tr)
	s.verifyLine(t, [2]int32{-1000, -500}, [2]int32{1000, 500}, 0)
	if got := s.marks(); got != 20 {
		t.Errorf("%d constraints, want 20", got)
	}
}

// A line across many vertices that crosses no constraint is one edge and exact.
func TestLongLine(t *testing.T) {
	for seed := range uint64(20) {
		rnd := rand.New(rand.NewPCG(seed, 3))
		tr := cover(t, 1e6)
		insert(t, tr, random(rnd, 1000, 1e6)...)
		addLine(t, tr, false, [2]int{-1e6, -123457}, [2]int{1e6, 654321})
		s := verify(t, tr)
		s.verifyLine(t, [2]int32{-1e6, -123457}, [2]int32{1e6, 654321}, 0)
		if got := s.marks(); got != 1 {
			t.Errorf("%d constraints, want 1", got)
		}
	}
}

// The line passes below two corners of the rectangle, so that the edge cut off is on the border.
func TestLineNextToBorder(t *testing.T) {
	tr := cover(t, 1e9)
	addLine(t, tr, false, [2]int{168065257, -137473107}, [2]int{-703867783, -676154223})
	addLine(t, tr, false, [2]int{-420022861, -247692550}, [2]int{369853766, -105988947})
	addLine(t, tr, false, [2]int{-389327762, -226286576}, [2]int{792913190, 79533674})
	verify(t, tr).verifyLine(t, [2]int32{-389327762, -226286576}, [2]int32{792913190, 79533674}, 0)
}

// A comb: the long line runs between its teeth, whose vertices are in the corridor from both sides,
// and in a second comb the teeth are constraints that end a step before the line.
func TestLineThroughComb(t *testing.T) {
	for _, teeth := range []bool{false, true} {
		tr := cover(t, 10000)
		for x := -99; x < 100; x++ {
			a := insert(t, tr, [2]int{100 * x, 1}, [2]int{100*x + 7, 5000 - 3*x})
			b := insert(t, tr, [2]int{100*x + 50, -1}, [2]int{100*x + 41, -5000 - 2*x})
			if !teeth {
				continue
			}
			if err := tr.Constrain(a[0], a[1]); err != nil {
				t.Fatal(err)
			}
			if err := tr.Constrain(b[0], b[1]); err != nil {
				t.Fatal(err)
			}
		}
		addLine(t, tr, false, [2]int{-10000, 0}, [2]int{10000, 0})
		s := verify(t, tr)
		s.verifyLine(t, [2]int32{-10000, 0}, [2]int32{10000, 0}, 0)
		want := 1
		if teeth {
			want += 2 * 199
		}
		if got := s.marks(); got != want {
			t.Errorf("teeth %v: %d constraints, want %d", teeth, got, want)
		}
	}
}

func TestCross(t *testing.T) {
	for _, c := range []struct {
		name   string
		lines  [][][2]int
		points int // without the corners
		marks  int
	}{
		{"in the middle", [][][2]int{{{-10, -10}, {10, 10}}, {{-10, 10}, {10, -10}}}, 5, 4},
		{"at an end", [][][2]int{{{-10, 0}, {10, 0}}, {{0, 0}, {0, 10}}}, 4, 3},
		{"at an end, the stem first", [][][2]int{{{0, 0}, {0, 10}}, {{-10, 0}, {10, 0}}}, 4, 3},
		{"in one cell", [][][2]int{{{0, 0}, {1, 1}}, {{0, 1}, {1, 0}}}, 4, 3},
		{"one over the other", [][][2]int{{{0, 0}, {30, 10}}, {{-30, -10}, {60, 20}}}, 4, 3},
		{"one within the other", [][][2]int{{{-30, -10}, {60, 20}}, {{0, 0}, {30, 10}}}, 4, 3},
		{"twice", [][][2]int{{{0, 0}, {30, 10}}, {{30, 10}, {0, 0}}}, 2, 1},
		{"three in one point", [][][2]int{{{-9, 0}, {9, 0}}, {{-9, -9}, {9, 9}}, {{0, 9}, {0, -9}}}, 7, 6},
		{"a point", [][][2]int{{{3, 4}, {3, 4}}}, 1, 0},
		{"to and fro", [][][2]int{{{0, 0}, {10, 0}, {5, 0}, {5, 5}, {5, -5}}}, 5, 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := cover(t, 100)
			for _, l := range c.lines {
				addLine(t, tr, false, l...)
			}
			s := verify(t, tr)
			if len(s.pts)-4 != c.points || s.marks() != c.marks {
				t.Errorf("%d points, %d constraints, want %d and %d", len(s.pts)-4, s.marks(), c.points, c.marks)
			}
		})
	}
}

// A point on a constraint splits it, exactly if it is on it, and both halves stay constraints.
func TestInsertOnConstraint(t *testing.T) {
	tr := cover(t, 100)
	addLine(t, tr, true, [2]int{-90, -90}, [2]int{90, -90}, [2]int{90, 90})
	insert(t, tr, [2]int{0, -90}, [2]int{90, 0}, [2]int{0, 0}, [2]int{-45, -45}, [2]int{45, 45}, [2]int{1, 0})
	s := verify(t, tr)
	if got := s.marks(); got != 8 {
		t.Errorf("%d constraints, want 8", got)
	}
	for _, end := range [][2]int32{{90, 90}, {90, -90}} {
		s.verifyLine(t, [2]int32{-90, -90}, end, 0)
	}
}

// find is the edge from vertex a to b.
func (s soup) find(t tb, a, b int) (i, k int) {
	t.Helper()
	for i, v := range s.tris {
		for k := range v {
			if v[k] == a && v[(k+1)%3] == b {
				return i, k
			}
		}
	}
	t.Fatalf("no edge %d %d", a, b)
	return 0, 0
}

func TestSplit(t *testing.T) {
	tr := cover(t, 1000)
	v := insert(t, tr, [2]int{0, 0}, [2]int{1000, 333}, [2]int{500, 800}, [2]int{500, -800})
	if err := tr.Constrain(v[0], v[1]); err != nil {
		t.Fatal(err)
	}
	i, k := read(tr).find(t, v[1], v[0])
	mid, err := tr.Split(i, k, mm(500, 167)) // the middle is at 166.5
	if err != nil {
		t.Fatal(err)
	}
	s := verify(t, tr)
	if s.pts[mid] != [2]int32{500, 167} || s.marks() != 2 {
		t.Errorf("vertex %d at %v, %d constraints", mid, s.pts[mid], s.marks())
	}
	for _, end := range []int{v[0], v[1]} {
		if i, k := s.find(t, mid, end); !s.fixed[i][k] {
			t.Errorf("the half to %d is no constraint", end)
		}
	}
	i, k = s.find(t, mid, v[2])
	if _, err := tr.Split(i, k, mm(500, 300)); err != nil {
		t.Fatal(err)
	}
	if s := verify(t, tr); s.marks() != 2 || len(s.pts) != 10 {
		t.Errorf("%d points, %d constraints after splitting a free edge", len(s.pts), s.marks())
	}
}

func TestSplitAtAnEnd(t *testing.T) {
	tr := cover(t, 1000)
	addLine(t, tr, false, [2]int{0, 0}, [2]int{1000, 333})
	before := read(tr)
	i, k := before.find(t, 4, 5)
	for end, p := range map[int]r2.Vec{4: {X: 0.00004}, 5: {X: 0.1, Y: 0.03331}} {
		if v, err := tr.Split(i, k, p); v != end || err != nil {
			t.Errorf("%v: vertex %d, %v, want %d", p, v, err, end)
		}
	}
	if diff := cmp.Diff(before, read(tr), cmp.AllowUnexported(soup{})); diff != "" {
		t.Error(diff)
	}
}

func TestSplitBetween(t *testing.T) {
	tr := cover(t, 1000)
	addLine(t, tr, false, [2]int{0, 0}, [2]int{1000, 333})
	mid, err := tr.SplitBetween(5, 4, mm(501, 167))
	if err != nil {
		t.Fatal(err)
	}
	lone, err := tr.SplitBetween(4, 5, mm(-500, 0)) // they are not joined any more
	if err != nil {
		t.Fatal(err)
	}
	s := verify(t, tr)
	if s.marks() != 2 || s.pts[mid] != [2]int32{501, 167} || s.pts[lone] != [2]int32{-500, 0} {
		t.Errorf("%d constraints, points %v and %v", s.marks(), s.pts[mid], s.pts[lone])
	}
	for _, bad := range [][2]int{{-1, 4}, {4, 99}} {
		if _, err := tr.SplitBetween(bad[0], bad[1], mm(0, 0)); err == nil {
			t.Errorf("%v is an edge", bad)
		}
	}
}

// Halving all constraints again and again, as refinement does: none is lost.
func TestRefine(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 8))
	tr := cover(t, 1e6)
	ends := random(rnd, 40, 1e6)
	for i := 0; i < len(ends); i += 2 {
		addLine(t, tr, false, ends[i:i+2]...)
	}
	for range 3 {
		s := read(tr)
		for i, v := range s.tris {
			for k := range v {
				a, b := v[k], v[(k+1)%3]
				if !s.fixed[i][k] || a > b {
					continue
				}
				if _, err := tr.SplitBetween(a, b, r2.Scale(0.5, r2.Add(tr.Point(a), tr.Point(b)))); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	s := verify(t, tr)
	for i := 0; i < len(ends); i += 2 {
		s.verifyLine(t, place(ends[i]), place(ends[i+1]), stray)
	}
}
