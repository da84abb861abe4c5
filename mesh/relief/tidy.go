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

// tidied is the mesh without triangles flatter than leastAltitude, which appear where two lines of
// the plan cross at a small angle or nearly meet. A needle is closed by joining the ends of its short
// side, a cap by turning its long side, and a point that is on a straight side slides along it. What
// cannot be taken out without joining, turning over or folding what is no part of it stays.
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
	longest := max(r3.Norm2(r3.Sub(a, b)), r3.Norm2(r3.Sub(b, d)), r3.Norm2(r3.Sub(d, a)))
	if longest == 0 {
		return 0
	}
	return math.Sqrt(r3.Norm2(r3.Cross(r3.Sub(b, a), r3.Sub(d, a))) / longest)
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
