package mesh

import (
	"slices"

	"formbuck/mesh/crew"
	"formbuck/mesh/sets"
)

// topology lists which triangles meet at each vertex. Triangles that name a vertex twice take no part.
// Indices must be in range.
type topology struct {
	mesh *Mesh
	// corners lists all corners (3 * triangle + corner) by their vertices and then by number.
	corners []int32
	// first is, for each vertex, where its corners begin; one more ends the last.
	first []int32
}

// newTopology sorts the corners by counting, which is linear in their number.
func newTopology(m *Mesh) *topology {
	tp := &topology{mesh: m, first: make([]int32, len(m.Vertices)+1)}
	n := 0
	for _, t := range m.Triangles {
		if collapsed(t) {
			continue
		}
		n += 3
		for _, v := range t {
			tp.first[v]++
		}
	}
	sum := int32(0)
	for v, c := range tp.first {
		tp.first[v] = sum
		sum += c
	}
	tp.corners = make([]int32, n)
	for i, t := range m.Triangles {
		if collapsed(t) {
			continue
		}
		for k, v := range t {
			tp.corners[tp.first[v]] = int32(3*i + k)
			tp.first[v]++
		}
	}
	// Each first has run on to where the next vertex's corners begin: shift them back.
	copy(tp.first[1:], tp.first)
	tp.first[0] = 0
	return tp
}

// at lists the corners at a vertex.
func (tp *topology) at(v int32) []int32 { return tp.corners[tp.first[v]:tp.first[v+1]] }

// seam is an edge that does not lie in just two triangles of opposite direction.
type seam struct {
	lo, hi int32
	// triangles are the first two at the edge, the first one twice if there is no other.
	triangles [2]int32
	// sides is in how many triangles the edge lies.
	sides int32
	// alternating: one triangle runs it forward, the next one backward, and so on.
	alternating bool
}

// links is how triangles hang together by their edges.
type links struct {
	joined sets.Forest // triangles that have an edge in common
	// fan is how many fans of triangles each vertex has; 2 means two or more.
	fan []uint8
	findings
}

// findings are what stands out, in the order of the vertices where it was found.
type findings struct {
	seams []seam
	// twins are pairs of triangles that have the same three vertices.
	twins [][2]int32
	// second is the lowest corner of the second fan of a vertex, further that of the second fan and of
	// every later one.
	second, further []int32
}

// links looks at every vertex. The parts are looked at side by side and joined in their order.
func (tp *topology) links() *links {
	const chunk = 1024
	n := len(tp.mesh.Vertices)
	l := &links{joined: sets.New(len(tp.mesh.Triangles)), fan: make([]uint8, n)}
	found := make([]findings, (n+chunk-1)/chunk)
	crew.Each(len(found), func(i int) {
		h := hub{topology: tp, links: l}
		for v := i * chunk; v < min((i+1)*chunk, n); v++ {
			h.look(int32(v))
		}
		found[i] = h.findings
	})
	for _, b := range found {
		l.seams = append(l.seams, b.seams...)
		l.twins = append(l.twins, b.twins...)
		l.second = append(l.second, b.second...)
		l.further = append(l.further, b.further...)
	}
	return l
}

// hub looks at one vertex after the other.
type hub struct {
	*topology
	links *links
	findings
	vertex int32
	here   []int32 // its corners
	// spokes are the sides of triangles that end at the vertex: their other vertex in the upper 32 bits,
	// then which of the corners it belongs to, and 1 in the last bit if the side runs towards the vertex.
	spokes []uint64
	fans   sets.Forest // of the corners
}

// look finds what meets at a vertex.
func (h *hub) look(v int32) {
	h.vertex, h.here = v, h.at(v)
	h.spokes, h.fans = h.spokes[:0], h.fans[:0]
	for n, c := range h.here {
		t, k := &h.mesh.Triangles[c/3], c%3
		h.spokes = append(h.spokes, uint64(t[(k+1)%3])<<32|uint64(n)<<1, uint64(t[(k+2)%3])<<32|uint64(n)<<1|1)
		h.fans = append(h.fans, int32(n))
	}
	sortFew(h.spokes)
	for run := h.spokes; len(run) > 0; {
		n := 1
		for n < len(run) && run[n]>>32 == run[0]>>32 {
			h.fans.Join(h.corner(run[0]), h.corner(run[n]))
			n++
		}
		if other := int32(run[0] >> 32); other > v {
			h.edge(other, run[:n])
		}
		run = run[n:]
	}
	h.countFans()
}

// corner is which of the vertex' corners a spoke belongs to.
func (h *hub) corner(spoke uint64) int32 { return int32(uint32(spoke) >> 1) }

// triangle is the triangle that a spoke is a side of.
func (h *hub) triangle(spoke uint64) int32 { return h.here[h.corner(spoke)] / 3 }

// third is the vertex of that triangle that is not on the spoke.
func (h *hub) third(spoke uint64) int32 {
	c := h.here[h.corner(spoke)]
	return h.mesh.Triangles[c/3][(c%3+2-int32(spoke&1))%3]
}

// edge looks at the sides on one edge, whose other vertex is the higher one.
func (h *hub) edge(other int32, sides []uint64) {
	first := h.triangle(sides[0])
	if len(sides) == 2 && sides[0]&1 != sides[1]&1 {
		second := h.triangle(sides[1])
		h.links.joined.JoinShared(first, second)
		if third := h.third(sides[0]); third > other && third == h.third(sides[1]) {
			h.twins = append(h.twins, [2]int32{first, second})
		}
		return
	}
	s := seam{lo: h.vertex, hi: other, triangles: [2]int32{first, first}, sides: int32(len(sides)), alternating: true}
	for i := 1; i < len(sides); i++ {
		t := h.triangle(sides[i])
		h.links.joined.JoinShared(first, t)
		s.alternating = s.alternating && sides[i]&1 != sides[i-1]&1
		if i == 1 {
			s.triangles[1] = t
		}
	}
	h.seams = append(h.seams, s)
	h.duplicates(other, sides)
}

// duplicates finds triangles at an edge that have their third vertex in common. Each is met at three
// edges; it counts at the one without its highest vertex, once for each triangle beyond the first.
func (h *hub) duplicates(other int32, sides []uint64) {
	byThird := make([]uint64, 0, 8) // third vertex in the upper 32 bits, triangle in the lower
	for _, s := range sides {
		if third := h.third(s); third > other {
			byThird = append(byThird, uint64(third)<<32|uint64(h.triangle(s)))
		}
	}
	sortFew(byThird)
	for n := 1; n < len(byThird); n++ {
		if i, j := byThird[n-1], byThird[n]; i>>32 == j>>32 {
			h.twins = append(h.twins, [2]int32{int32(uint32(i)), int32(uint32(j))})
		}
	}
}

// countFans counts the fans at the vertex.
func (h *hub) countFans() {
	fans := uint8(0)
	for n, c := range h.here {
		if h.fans[n] != int32(n) {
			continue
		}
		if fans == 1 {
			h.second = append(h.second, c)
		}
		if fans > 0 {
			h.further = append(h.further, c)
		}
		fans = min(fans+1, 2)
	}
	h.links.fan[h.vertex] = fans
}

// sortFew sorts numbers of which there are few, as a rule.
func sortFew(list []uint64) {
	if len(list) > 24 {
		slices.Sort(list)
		return
	}
	for i := 1; i < len(list); i++ {
		x, j := list[i], i
		for ; j > 0 && list[j-1] > x; j-- {
			list[j] = list[j-1]
		}
		list[j] = x
	}
}
