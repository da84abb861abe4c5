package plan_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"formbuck/mesh/internal/plan"
)

// marked are the marks of all constraint edges.
func marked(tr *plan.Triangulation) map[[2]int]uint8 {
	marks := make(map[[2]int]uint8)
	for i := range tr.Triangles() {
		c := tr.Triangle(i)
		for k, v := range c {
			u := c[(k+1)%3]
			if tr.Constrained(i, k) {
				marks[[2]int{min(u, v), max(u, v)}] |= tr.Mark(i, k)
			}
		}
	}
	return marks
}

// Marks go with the parts of a line, through crossings, splits and flips, and add up where two lines
// run along one edge.
func TestMarks(t *testing.T) {
	tr := cover(t, 1000)
	v := insert(t, tr, [2]int{-400, 0}, [2]int{400, 0}, [2]int{0, -300}, [2]int{0, 300}, [2]int{200, 0})
	for _, l := range []struct {
		a, b int
		mark uint8
	}{{v[0], v[1], 1}, {v[2], v[3], 2}, {v[4], v[1], 4}} {
		if err := tr.ConstrainAs(l.a, l.b, l.mark); err != nil {
			t.Fatal(err)
		}
	}
	crossing := insert(t, tr, [2]int{0, 0})[0]
	half, err := tr.SplitBetween(v[0], crossing, mm(-200, 0))
	if err != nil {
		t.Fatal(err)
	}
	insert(t, tr, [2]int{-100, 5}, [2]int{90, 5}, [2]int{300, -5})
	verify(t, tr)
	want := map[[2]int]uint8{
		edge(v[0], half): 1, edge(half, crossing): 1, edge(crossing, v[4]): 1, edge(v[4], v[1]): 1 | 4,
		edge(v[2], crossing): 2, edge(crossing, v[3]): 2,
	}
	got := marked(tr)
	if len(got) != len(want) {
		t.Errorf("%d constraint edges, want %d", len(got), len(want))
	}
	for e, m := range want {
		if got[e] != m {
			t.Errorf("mark of %v: %d, want %d", e, got[e], m)
		}
		if !tr.Lined(e[0], e[1]) || !tr.Lined(e[1], e[0]) {
			t.Errorf("no line along %v", e)
		}
	}
	if tr.Lined(v[0], v[1]) || tr.Joined(v[0], v[1]) || !tr.Joined(half, crossing) || tr.Joined(-1, 2) || tr.Joined(2, tr.Len()) {
		t.Error("joined and lined are mistaken")
	}
}

func edge(a, b int) [2]int { return [2]int{min(a, b), max(a, b)} }

// Fresh names every triangle that was not there before, and few others.
func TestFresh(t *testing.T) {
	tr := cover(t, 1000)
	if got := tr.Fresh(); !slices.Equal(got, []int{0, 1}) {
		t.Errorf("at first %v", got)
	}
	for n, p := range random(rand.New(rand.NewPCG(7, 1)), 60, 1000) {
		before := tr.Triangles()
		insert(t, tr, p)
		fresh := tr.Fresh()
		if !slices.IsSorted(fresh) {
			t.Fatalf("point %d: %v is not rising", n, fresh)
		}
		for i, c := range tr.Triangles() {
			changed := i >= len(before) || !same(before[i], c)
			if changed && !slices.Contains(fresh, i) {
				t.Errorf("point %d: triangle %d has changed and is not fresh", n, i)
			}
		}
		if len(fresh) > 40 {
			t.Errorf("point %d: %d triangles are fresh", n, len(fresh))
		}
	}
	if got := tr.Fresh(); len(got) != 0 {
		t.Errorf("%v is fresh after nothing", got)
	}
}

// Across names the same edge from its two sides, and Corner finds its ends.
func TestAcross(t *testing.T) {
	tr := cover(t, 1000)
	for _, p := range random(rand.New(rand.NewPCG(7, 2)), 60, 1000) {
		insert(t, tr, p)
	}
	tr.Seen()
	if got := tr.Fresh(); len(got) != 0 {
		t.Errorf("%v is fresh after all were seen", got)
	}
	for i, c := range tr.Triangles() {
		for k, n := range tr.Neighbours(i) {
			j, l := tr.Across(i, k)
			if j != n {
				t.Fatalf("triangle %d, edge %d: across is %d, not %d", i, k, j, n)
			}
			if j < 0 {
				continue
			}
			if back, from := tr.Across(j, l); back != i || from != k {
				t.Errorf("triangle %d, edge %d: back is %d, edge %d", i, k, back, from)
			}
			if tr.Corner(j, c[(k+1)%3]) != l || tr.Corner(j, c[k]) != (l+1)%3 || tr.Corner(j, c[(k+2)%3]) >= 0 {
				t.Errorf("triangle %d, edge %d: runs in %v, not in %v back", i, k, c, tr.Triangle(j))
			}
		}
	}
	if tr.CountTriangles() != len(tr.Triangles()) {
		t.Errorf("%d triangles, not %d", tr.CountTriangles(), len(tr.Triangles()))
	}
}

// same tells whether two triangles have the same corners in the same turn.
func same(a, b [3]int) bool {
	for k := range 3 {
		if a == [3]int{b[k], b[(k+1)%3], b[(k+2)%3]} {
			return true
		}
	}
	return false
}
