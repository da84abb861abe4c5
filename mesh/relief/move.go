package relief

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

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
// those opposite the side between them, so that no skins are joined that were apart; and a and the
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
	if shared != 2 || len(ra) < 4 || t.touched(ra) || t.touched(rb) || t.flips(b, a) || t.foldsAt(b, a) {
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

// foldsAt tells whether moving b to a lays one triangle about the two back on another.
func (t *tidier) foldsAt(b, a int32) bool {
	var after [][3]int32
	for _, i := range t.around[a] {
		if c := t.mesh.Triangles[i]; !slices.Contains(c[:], b) {
			after = append(after, c)
		}
	}
	for _, i := range t.around[b] {
		c := t.mesh.Triangles[i]
		if slices.Contains(c[:], a) {
			continue
		}
		c[slices.Index(c[:], b)] = a
		after = append(after, c)
	}
	return t.folds(after)
}

// foldsBeside tells whether one of two triangles that stand for two others would lie on one beside it.
func (t *tidier) foldsBeside(one, two [3]int32) bool {
	list := [][3]int32{one, two}
	for _, c := range [2][3]int32{one, two} {
		for k, v := range c {
			if j, ok := t.sides[[2]int32{c[(k+1)%3], v}]; ok {
				list = append(list, t.mesh.Triangles[j])
			}
		}
	}
	return t.folds(list)
}

// folds tells whether two triangles that share a side lie on each other, or nearly.
func (t *tidier) folds(list [][3]int32) bool {
	const cos = -1 + 1e-6 // a twelfth of a degree
	owner := make(map[[2]int32][3]int32, 3*len(list))
	for _, c := range list {
		if t.altitude(c) < leastAltitude {
			continue
		}
		for k, v := range c {
			owner[[2]int32{v, c[(k+1)%3]}] = c
		}
	}
	for e, c := range owner {
		d, ok := owner[[2]int32{e[1], e[0]}]
		if ok && r3.Cos(t.normal(c), t.normal(d)) < cos {
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
	if t.foldsBeside(one, two) {
		return false
	}
	t.mesh.Triangles[i], t.mesh.Triangles[j] = one, two
	t.busy[a], t.busy[b], t.busy[tip], t.busy[far] = true, true, true, true
	t.changed = true
	return true
}
