package plan_test

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"formbuck/mesh/internal/plan"
)

// areas are the areas of the regions, in squares of the grid.
func areas(t tb, tr *plan.Triangulation) []int64 {
	t.Helper()
	s := verify(t, tr)
	ids := tr.Regions()
	var sums []*big.Int
	for i, v := range s.tris {
		for int(ids[i]) >= len(sums) {
			sums = append(sums, new(big.Int))
		}
		sums[ids[i]].Add(sums[ids[i]], area2(s.pts[v[0]], s.pts[v[1]], s.pts[v[2]]))
		for k, n := range s.next[i] {
			if n >= 0 && !s.fixed[i][k] && ids[n] != ids[i] {
				t.Errorf("regions %d and %d are parted by nothing", ids[i], ids[n])
			}
			if n < 0 && ids[i] != 0 {
				t.Errorf("region %d is at the border", ids[i])
			}
		}
	}
	var list []int64
	for _, a := range sums {
		list = append(list, a.Int64()/2)
	}
	return list
}

func square(n int) [][2]int { return [][2]int{{-n, -n}, {n, -n}, {n, n}, {-n, n}} }

func TestRegionsNested(t *testing.T) {
	tr := cover(t, 100)
	for _, n := range []int{20, 80, 50} {
		addLine(t, tr, true, square(n)...)
	}
	got := areas(t, tr)
	want := map[int64]bool{40 * 40: true, 100*100 - 40*40: true, 160*160 - 100*100: true}
	if len(got) != 4 {
		t.Fatalf("areas %v", got)
	}
	for _, a := range got[1:] {
		if !want[a] {
			t.Errorf("area %d", a)
		}
		delete(want, a)
	}
}

func TestRegionsOverlapping(t *testing.T) {
	tr := cover(t, 200)
	addLine(t, tr, true, square(100)...)
	addLine(t, tr, true, [2]int{0, 0}, [2]int{200, 0}, [2]int{200, 200}, [2]int{0, 200})
	got := areas(t, tr)
	if len(got) != 4 || got[1]+got[2]+got[3] != 70000 {
		t.Errorf("areas %v", got)
	}
}

func TestRegionsOfAnOpenLine(t *testing.T) {
	tr := cover(t, 100)
	addLine(t, tr, false, square(50)...)
	if got := areas(t, tr); len(got) != 1 {
		t.Errorf("areas %v", got)
	}
	if got := new(plan.Triangulation).Regions(); len(got) != 0 {
		t.Errorf("the zero value has regions %v", got)
	}
}

// n lines, no two parallel and no three through a point, bound (n-1)(n-2)/2 regions (Steiner,
// Journal für die reine und angewandte Mathematik 1, 1826).
func TestRegionsOfChords(t *testing.T) {
	const n = 24
	rnd := rand.New(rand.NewPCG(1, 8))
	tr := cover(t, 1e8)
	for i := range n {
		// From the left to the right side, in the opposite order: each crosses all others.
		y := 8e6*i - 4e6*n
		addLine(t, tr, false, [2]int{-1e8, y + rnd.IntN(2e6)}, [2]int{1e8, -y + rnd.IntN(2e6)})
	}
	if got, want := len(areas(t, tr))-1, (n-1)*(n-2)/2; got != want {
		t.Errorf("%d regions, want %d", got, want)
	}
	if got, want := tr.Len()-4-2*n, n*(n-1)/2; got != want {
		t.Errorf("%d crossings, want %d", got, want)
	}
}

// A lattice of lines bounds its squares.
func TestRegionsOfLattice(t *testing.T) {
	tr := cover(t, 1000)
	for i := -10; i <= 10; i++ {
		addLine(t, tr, false, [2]int{100 * i, -1000}, [2]int{100 * i, 1000})
		addLine(t, tr, false, [2]int{-1000, 100 * i}, [2]int{1000, 100 * i})
	}
	got := areas(t, tr)
	if len(got) != 401 {
		t.Fatalf("%d regions", len(got))
	}
	for _, a := range got[1:] {
		if a != 10000 {
			t.Errorf("area %d", a)
		}
	}
}
