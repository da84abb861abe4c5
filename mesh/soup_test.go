package mesh_test

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
)

// The oracle: every pair of triangles, in rational arithmetic, by clipping one with the other's plane
// and sides. It shares neither the search nor the method with the code that it judges.

type ratVec [3]*big.Rat

func rats(v r3.Vec) ratVec {
	return ratVec{new(big.Rat).SetFloat64(v.X), new(big.Rat).SetFloat64(v.Y), new(big.Rat).SetFloat64(v.Z)}
}

func (a ratVec) minus(b ratVec) ratVec {
	return ratVec{new(big.Rat).Sub(a[0], b[0]), new(big.Rat).Sub(a[1], b[1]), new(big.Rat).Sub(a[2], b[2])}
}

func (a ratVec) dot(b ratVec) *big.Rat {
	sum := new(big.Rat)
	for k := range 3 {
		sum.Add(sum, new(big.Rat).Mul(a[k], b[k]))
	}
	return sum
}

func (a ratVec) cross(b ratVec) ratVec {
	var out ratVec
	for k := range 3 {
		l, m := (k+1)%3, (k+2)%3
		out[k] = new(big.Rat).Sub(new(big.Rat).Mul(a[l], b[m]), new(big.Rat).Mul(a[m], b[l]))
	}
	return out
}

func (a ratVec) zero() bool { return a[0].Sign() == 0 && a[1].Sign() == 0 && a[2].Sign() == 0 }

// clip is what of a convex polygon lies where n . (p - o) >= 0.
func clip(polygon []ratVec, o, n ratVec) []ratVec {
	var out []ratVec
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		hp, hq := n.dot(p.minus(o)), n.dot(q.minus(o))
		if hp.Sign() >= 0 {
			out = append(out, p)
		}
		if hp.Sign()*hq.Sign() < 0 {
			f := new(big.Rat).Quo(hp, new(big.Rat).Sub(hp, hq))
			x := q.minus(p)
			for k := range 3 {
				x[k].Mul(x[k], f).Add(x[k], p[k])
			}
			out = append(out, x)
		}
	}
	return out
}

// common is the polygon, perhaps of one or two points, that two triangles have in common.
func common(a, b [3]ratVec) []ratVec {
	n := a[1].minus(a[0]).cross(a[2].minus(a[0]))
	back := ratVec{new(big.Rat), new(big.Rat), new(big.Rat)}.minus(n)
	rest := clip(clip(b[:], a[0], n), a[0], back)
	for k := range 3 {
		rest = clip(rest, a[k], n.cross(a[(k+1)%3].minus(a[k])))
	}
	return rest
}

// bruteForce lists all pairs of triangles with an area that meet beyond what they share.
func bruteForce(m *mesh.Mesh) [][2]int {
	tris := make([][3]ratVec, len(m.Triangles))
	for i, t := range m.Triangles {
		tris[i] = [3]ratVec{rats(m.Vertices[t[0]]), rats(m.Vertices[t[1]]), rats(m.Vertices[t[2]])}
	}
	flat := func(t [3]ratVec) bool { return t[1].minus(t[0]).cross(t[2].minus(t[0])).zero() }
	var found [][2]int
	for i := range tris {
		for j := range i {
			if !flat(tris[i]) && !flat(tris[j]) && beyond(m, tris, i, j) {
				found = append(found, [2]int{j, i})
			}
		}
	}
	return found
}

// beyond tells whether two triangles have a point in common that is on nothing they share.
func beyond(m *mesh.Mesh, tris [][3]ratVec, i, j int) bool {
	var shared []ratVec
	for k, v := range m.Triangles[i] {
		if slices.Contains(m.Triangles[j][:], v) {
			shared = append(shared, tris[i][k])
		}
	}
	if len(shared) == 3 {
		return false
	}
	for _, p := range common(tris[i], tris[j]) {
		switch len(shared) {
		case 0:
			return true
		case 1:
			if !p.minus(shared[0]).zero() {
				return true
			}
		case 2:
			if !p.minus(shared[0]).cross(shared[1].minus(shared[0])).zero() {
				return true
			}
		}
	}
	return false
}

// soup is random triangles over random vertices, no two at one place.
func soup(rng *rand.Rand, vertices, triangles int, coordinate func() float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	for range vertices {
		m.Vertices = append(m.Vertices, r3.Vec{X: coordinate(), Y: coordinate(), Z: coordinate()})
	}
	for range triangles {
		p := rng.Perm(vertices)
		m.Triangles = append(m.Triangles, [3]int32{int32(p[0]), int32(p[1]), int32(p[2])})
	}
	return m.Welded()
}

func TestSelfIntersectionAgainstRationals(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	few := func(n int) func() float64 { return func() float64 { return float64(rng.IntN(n)) } }
	for _, tc := range []struct {
		name       string
		coordinate func() float64
	}{
		{"lattice of 2", few(2)},
		{"lattice of 3", few(3)},
		{"lattice of 5", few(5)},
		{"anywhere", rng.NormFloat64},
		{"far from the origin", func() float64 { return 200 + float64(rng.IntN(4))/1024 }},
		{"float32 of tenths", func() float64 { return float64(float32(rng.IntN(6)) / 10) }},
		{"of all sizes", func() float64 { return math.Ldexp(float64(rng.IntN(5)-2), -rng.IntN(20)) }},
	} {
		t.Run(tc.name, func(t *testing.T) {
			all := 0
			for n := range 45 {
				m := soup(rng, 5+n%12, 4+n%9, tc.coordinate)
				want := bruteForce(m)
				all += len(want)
				compare(t, m, want)
			}
			if all < 100 {
				t.Errorf("only %d pairs in all: the soups show too little", all)
			}
		})
	}
}

// Flat soups, in level, upright and leaning planes.
func TestCoplanarSelfIntersectionAgainstRationals(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for n := range 400 {
		m := soup(rng, 5+n%6, 3+n%6, func() float64 { return float64(rng.IntN(5)) })
		for i, v := range m.Vertices {
			m.Vertices[i] = [4]r3.Vec{
				{X: v.X, Y: v.Y, Z: 7}, {X: v.X, Y: v.X, Z: v.Y}, {X: v.X, Y: v.Y, Z: v.X + 2*v.Y}, {X: 3, Y: v.X, Z: v.Y},
			}[n%4]
		}
		m = m.Welded()
		compare(t, m, bruteForce(m))
	}
}

func TestBoxesThroughEachOther(t *testing.T) {
	m := mesh.Joined(box(0, 0, 0, 2, 2, 2), box(1, 1, 1, 3, 3, 3))
	compare(t, m, bruteForce(m))
}

func compare(t *testing.T, m *mesh.Mesh, want [][2]int) {
	t.Helper()
	r := mesh.Check(m, mesh.Options{Places: 1 << 20})
	var got [][2]int
	for _, f := range r.Faults {
		for _, p := range f.Places {
			if f.Class == mesh.SelfIntersection {
				got = append(got, [2]int{int(p.Triangle), int(p.Other)})
			}
		}
	}
	order := func(a, b [2]int) int { return slices.Compare(a[:], b[:]) }
	slices.SortFunc(got, order)
	slices.SortFunc(want, order)
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Fatalf("pairs %v, want %v of %+v", got, want, m)
	}
}

// Closed surfaces crumpled at random, where most vertices are settled without comparing pairs.
func TestCrumpledSolidsAgainstRationals(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	all := 0
	for n := range 45 {
		m := [3]*mesh.Mesh{meshtest.Icosahedron(4), meshtest.Torus(4, 2, 5, 4), meshtest.Frustum(4, 2, 4, 7)}[n%3]
		for i, v := range m.Vertices {
			amount := 0.7 * float64(n%5)
			v = r3.Add(v, r3.Vec{X: amount * rng.NormFloat64(), Y: amount * rng.NormFloat64(), Z: amount * rng.NormFloat64()})
			if n%2 == 0 {
				v = r3.Vec{X: math.Round(v.X), Y: math.Round(v.Y), Z: math.Round(v.Z)}
			}
			m.Vertices[i] = v
		}
		want := bruteForce(m)
		all += len(want)
		compare(t, m, want)
	}
	if all < 500 {
		t.Errorf("only %d pairs in all: the solids show too little", all)
	}
}

// A spindle over a five-pointed star runs around both its tips twice, seen from its front all along.
func TestFanThatRunsAroundTwice(t *testing.T) {
	m := &mesh.Mesh{Vertices: []r3.Vec{{Z: 3}, {Z: -3}}}
	for i := range int32(5) {
		sin, cos := math.Sincos(4 * math.Pi / 5 * float64(i))
		m.Vertices = append(m.Vertices, r3.Vec{X: 5 * cos, Y: 5 * sin})
		j := (i + 1) % 5
		m.Triangles = append(m.Triangles, [3]int32{0, 2 + i, 2 + j}, [3]int32{1, 2 + j, 2 + i})
	}
	want := bruteForce(m)
	if len(want) == 0 {
		t.Error("the oracle finds nothing")
	}
	compare(t, m, want)
}

func TestReportDoesNotDependOnProcessors(t *testing.T) {
	m := meshtest.Torus(10, 3, 60, 40)
	both := mesh.Joined(m, m.Turned(mesh.X, 20), m.Turned(mesh.Y, 50))
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	want := mesh.Check(both, mesh.Options{Places: 1 << 20})
	for _, n := range []int{2, 8} {
		runtime.GOMAXPROCS(n)
		if d := cmp.Diff(want, mesh.Check(both, mesh.Options{Places: 1 << 20})); d != "" {
			t.Errorf("%d processors: %s", n, d)
		}
	}
	if want.Count(mesh.SelfIntersection) < 1000 {
		t.Errorf("only %d intersections: the test shows too little", want.Count(mesh.SelfIntersection))
	}
}
