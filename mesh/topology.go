package mesh

import "slices"

// topology says which triangles meet at which edges. Triangles that name a vertex twice take no
// part. Indices must be in range.
type topology struct {
	mesh *Mesh
	// halves lists the sides of all triangles, by the lower of their two vertices and then by the
	// higher one: the higher vertex in the upper 32 bits, 3 * triangle + corner in the lower.
	halves []uint64
	// first is, for each vertex, where the sides begin of which it is the lower one; one more ends it.
	first []int32
}

// edge is a pair of vertices and the sides that lie on it.
type edge struct {
	lo, hi int32
	sides  []uint64
}

// newTopology sorts the sides by counting on the lower vertex, which keeps it linear in their number.
func newTopology(m *Mesh) *topology {
	tp := &topology{mesh: m, first: make([]int32, len(m.Vertices)+1)}
	n := 0
	for _, t := range m.Triangles {
		if collapsed(t) {
			continue
		}
		n += 3
		for k := range 3 {
			tp.first[min(t[k], t[(k+1)%3])]++
		}
	}
	sum := int32(0)
	for v, c := range tp.first {
		tp.first[v] = sum
		sum += c
	}
	tp.halves = make([]uint64, n)
	for i, t := range m.Triangles {
		if collapsed(t) {
			continue
		}
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			lo, hi := min(a, b), max(a, b)
			tp.halves[tp.first[lo]] = uint64(hi)<<32 | uint64(3*i+k)
			tp.first[lo]++
		}
	}
	// Each first has run on to where the next vertex's sides begin: shift them back.
	copy(tp.first[1:], tp.first)
	tp.first[0] = 0
	for v := range len(m.Vertices) {
		slices.Sort(tp.halves[tp.first[v]:tp.first[v+1]])
	}
	return tp
}

// each calls visit for every edge, by rising lower and then higher vertex.
func (tp *topology) each(visit func(e edge)) {
	for v := range len(tp.mesh.Vertices) {
		run := tp.halves[tp.first[v]:tp.first[v+1]]
		for len(run) > 0 {
			n := 1
			for n < len(run) && run[n]>>32 == run[0]>>32 {
				n++
			}
			visit(edge{lo: int32(v), hi: int32(run[0] >> 32), sides: run[:n]})
			run = run[n:]
		}
	}
}

// triangle is the triangle whose side it is.
func (e edge) triangle(i int) int32 { return int32(uint32(e.sides[i]) / 3) }

// corner is the corner of that triangle at which the side starts.
func (e edge) corner(i int) int32 { return int32(uint32(e.sides[i]) % 3) }

// forward tells whether the triangle runs the edge from its lower to its higher vertex.
func (e edge) forward(m *Mesh, i int) bool {
	return m.Triangles[e.triangle(i)][e.corner(i)] == e.lo
}

// third is the vertex of the triangle that is not on the edge.
func (e edge) third(m *Mesh, i int) int32 {
	return m.Triangles[e.triangle(i)][(e.corner(i)+2)%3]
}

// at is where the edge's lower or higher vertex stands among all corners, three a triangle.
func (e edge) at(m *Mesh, i int) (lo, hi int32) {
	t, k := e.triangle(i), e.corner(i)
	lo, hi = 3*t+k, 3*t+(k+1)%3
	if !e.forward(m, i) {
		lo, hi = hi, lo
	}
	return lo, hi
}

// sets is a union-find forest over the numbers from 0: what has been joined has one root.
type sets []int32

// newSets makes n sets of one.
func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = int32(i)
	}
	return s
}

// root is the lowest number of the set that holds i.
func (s sets) root(i int32) int32 {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join makes one set of two. The lower root stays, so that the result does not depend on the order.
func (s sets) join(i, j int32) {
	i, j = s.root(i), s.root(j)
	s[max(i, j)] = min(i, j)
}
