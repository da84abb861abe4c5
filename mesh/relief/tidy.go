package relief

import (
	"math"

	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// leastAltitude is the altitude, in mm, below which a triangle is taken out: a little over what may
// be turned over by rounding to a file's grid and to float32.
const (
	leastAltitude = 5 * mesh.Grid
	closeBy       = nearby       // sides up to it are joined, wherever that moves the surface
	slideBy       = 10 * nearby  // sides up to it are joined first of all, if that moves no surface
	lastResort    = 2.5 * nearby // sides up to it are joined if nothing else helps
	offPlane      = 1e-4         // how far, in mm, a point that slides may leave a triangle that it was on
)

// tidied is the mesh without triangles flatter than leastAltitude, which appear where two lines of the plan
// cross at a small angle or nearly meet. A needle is closed by joining the ends of its short side, a cap by turning
// its long side; either moves the surface by less than leastAltitude. What cannot be taken out without
// joining sheets that are apart stays.
func tidied(m *mesh.Mesh) *mesh.Mesh {
	for range 40 {
		t := &tidier{mesh: m, busy: make(map[int32]bool), move: make(map[int32]int32)}
		if !t.pass() {
			break
		}
		m = t.result()
	}
	return m
}

// tidier is one pass: what it changes lies apart, so that each change sees the mesh as it was.
type tidier struct {
	mesh    *mesh.Mesh
	sides   map[[2]int32]int32 // the triangle to the left of each directed side
	around  map[int32][]int32  // triangles about the corners of flat ones
	busy    map[int32]bool     // vertices whose surroundings have changed in this pass
	move    map[int32]int32    // vertex to the one that it is joined with
	changed bool
}

func (t *tidier) pass() bool {
	var flat []int32
	for i := range t.mesh.Triangles {
		if t.altitude(t.mesh.Triangles[i]) < leastAltitude {
			flat = append(flat, int32(i))
		}
	}
	if len(flat) == 0 {
		return false
	}
	t.survey()
	t.mesh = &mesh.Mesh{Vertices: t.mesh.Vertices, Triangles: append([][3]int32(nil), t.mesh.Triangles...)}
	for _, i := range flat {
		t.mend(i)
	}
	return t.changed
}

func (t *tidier) survey() {
	t.sides = make(map[[2]int32]int32, 3*len(t.mesh.Triangles))
	t.around = make(map[int32][]int32)
	for i, c := range t.mesh.Triangles {
		for k := range 3 {
			t.sides[[2]int32{c[k], c[(k+1)%3]}] = int32(i)
			t.around[c[k]] = append(t.around[c[k]], int32(i))
		}
	}
}

func (t *tidier) altitude(c [3]int32) float64 {
	v := t.mesh.Vertices
	a, b, d := v[c[0]], v[c[1]], v[c[2]]
	longest := math.Max(r3.Norm(r3.Sub(a, b)), math.Max(r3.Norm(r3.Sub(b, d)), r3.Norm(r3.Sub(d, a))))
	if longest == 0 {
		return 0
	}
	return r3.Norm(r3.Cross(r3.Sub(b, a), r3.Sub(d, a))) / longest
}

// mend takes out one flat triangle, if nothing near it has changed yet.
func (t *tidier) mend(i int32) {
	c := t.mesh.Triangles[i]
	short, long := 0, 0
	var length [3]float64
	for k := range 3 {
		length[k] = r3.Norm(r3.Sub(t.mesh.Vertices[c[k]], t.mesh.Vertices[c[(k+1)%3]]))
		if length[k] < length[short] {
			short = k
		}
		if length[k] > length[long] {
			long = k
		}
	}
	slide := func(k int) bool {
		a, b := c[k], c[(k+1)%3]
		return t.slides(b, a) && t.join(a, b) || t.slides(a, b) && t.join(b, a)
	}
	joined := func(k int, by float64) bool {
		a, b := c[k], c[(k+1)%3]
		return length[k] < by && (t.join(a, b) || t.join(b, a))
	}
	middle := 3 - short - long
	switch {
	case joined(short, closeBy), joined(middle, closeBy), joined(long, closeBy):
	case length[short] < slideBy && slide(short):
	case t.turn(i, long):
	case slide(short), slide(middle), slide(long):
	default:
		joined(short, lastResort)
	}
}

// slides tells whether b can move to a and stay on every triangle about it: along a straight edge,
// or within a plane.
func (t *tidier) slides(b, a int32) bool {
	to := t.mesh.Vertices[a]
	for _, i := range t.around[b] {
		c := t.mesh.Triangles[i]
		if t.altitude(c) < leastAltitude {
			continue
		}
		n := r3.Unit(t.normal(c))
		if math.Abs(r3.Dot(n, r3.Sub(to, t.mesh.Vertices[b]))) > offPlane {
			return false
		}
	}
	return true
}

// join moves vertex b to a, if the triangles about the two allow it: they share two vertices only,
// those opposite the side between them, so that no sheets are joined that were apart; and a and the
// two keep three neighbours.
func (t *tidier) join(a, b int32) bool {
	ra, rb := t.ring(a), t.ring(b)
	shared := 0
	for v := range rb {
		if !ra[v] {
			continue
		}
		if shared++; len(t.ring(v)) < 4 {
			return false
		}
	}
	if shared != 2 || len(ra) < 4 || t.touched(ra) || t.touched(rb) || t.flips(b, a) {
		return false
	}
	for _, ring := range []map[int32]bool{ra, rb} {
		for v := range ring {
			t.busy[v] = true
		}
	}
	t.move[b] = a
	t.changed = true
	return true
}

// touched tells whether any vertex of a ring has changed surroundings.
func (t *tidier) touched(ring map[int32]bool) bool {
	for v := range ring {
		if t.busy[v] {
			return true
		}
	}
	return false
}

// ring are the neighbours of a vertex.
func (t *tidier) ring(v int32) map[int32]bool {
	ring := make(map[int32]bool)
	for _, i := range t.around[v] {
		for _, u := range t.mesh.Triangles[i] {
			if u != v {
				ring[u] = true
			}
		}
	}
	return ring
}

// flips tells whether moving b to a turns a triangle of any size over.
func (t *tidier) flips(b, a int32) bool {
	for _, i := range t.around[b] {
		c := t.mesh.Triangles[i]
		if c[0] == a || c[1] == a || c[2] == a || t.altitude(c) < leastAltitude {
			continue
		}
		before := t.normal(c)
		for k := range c {
			if c[k] == b {
				c[k] = a
			}
		}
		if r3.Dot(before, t.normal(c)) <= 0 {
			return true
		}
	}
	return false
}

func (t *tidier) normal(c [3]int32) r3.Vec {
	v := t.mesh.Vertices
	return r3.Cross(r3.Sub(v[c[1]], v[c[0]]), r3.Sub(v[c[2]], v[c[0]]))
}

// turn replaces side k of triangle i, and of the triangle beyond it, by the other diagonal of the
// two.
func (t *tidier) turn(i int32, k int) bool {
	c := t.mesh.Triangles[i]
	a, b, tip := c[k], c[(k+1)%3], c[(k+2)%3]
	j, ok := t.sides[[2]int32{b, a}]
	if !ok {
		return false
	}
	d := t.mesh.Triangles[j]
	var far int32
	for _, v := range d {
		if v != a && v != b {
			far = v
		}
	}
	one, two := [3]int32{a, far, tip}, [3]int32{far, b, tip}
	before := t.normal(d)
	turned := r3.Dot(before, t.normal(one)) < 0 || r3.Dot(before, t.normal(two)) < 0
	if turned && t.altitude(d) >= leastAltitude {
		return false
	}
	if min(t.altitude(one), t.altitude(two)) <= min(t.altitude(c), t.altitude(d)) {
		return false
	}
	_, there := t.sides[[2]int32{tip, far}]
	_, back := t.sides[[2]int32{far, tip}]
	if there || back || t.busy[a] || t.busy[b] || t.busy[tip] || t.busy[far] {
		return false
	}
	t.mesh.Triangles[i], t.mesh.Triangles[j] = one, two
	t.busy[a], t.busy[b], t.busy[tip], t.busy[far] = true, true, true, true
	t.changed = true
	return true
}

// result is the mesh after the pass, without what has fallen together and what nothing uses.
func (t *tidier) result() *mesh.Mesh {
	out := &mesh.Mesh{}
	index := make(map[int32]int32)
	for _, c := range t.mesh.Triangles {
		for k, v := range c {
			if to, ok := t.move[v]; ok {
				c[k] = to
			}
		}
		if c[0] == c[1] || c[1] == c[2] || c[2] == c[0] {
			continue
		}
		for k, v := range c {
			n, ok := index[v]
			if !ok {
				n = int32(len(out.Vertices))
				index[v] = n
				out.Vertices = append(out.Vertices, t.mesh.Vertices[v])
			}
			c[k] = n
		}
		out.Triangles = append(out.Triangles, c)
	}
	return out
}
