package picture

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
)

// reach is how far from the origin a point may lie, in mm.
const reach = 1e6

// body is one part made ready: welded points, edges with their kind, smooth normals. It does not
// depend on the view.
type body struct {
	Part
	pts    []r3.Vec
	tris   [][3]int32
	cross  []r3.Vec // by triangle: normal times twice the area
	unit   []r3.Vec // by triangle: unit normal, zero where the triangle has no area
	edges  []edge
	sides  [][3]int32  // by triangle: the edge from corner k to corner k+1
	corner [][3]r3.Vec // by triangle: the unit normals of the smooth surface at its corners
	patch  []int32     // by triangle: the same number across every edge that is not drawn
	box    box
}

// edge joins points a and b and bounds triangles l and r. An edge of one triangle, or of more than
// two, has r < 0 and is open.
type edge struct {
	a, b, l, r int32
	angle      float64 // between the normals of l and r, in rad
	line       float32 // how strongly it is drawn, 0 to 1; 0: a seam of a smooth surface
}

// newBody checks a part and makes it ready.
func newBody(p Part, name string, creaseRad float64) (*body, error) {
	if p.Mesh == nil || len(p.Mesh.Triangles) == 0 {
		return nil, &Error{Fault: EmptyMesh, Part: name}
	}
	if err := checkMesh(p.Mesh, name); err != nil {
		return nil, err
	}
	b := &body{Part: p, box: nothing()}
	b.weld()
	for _, t := range b.tris {
		for _, i := range t {
			b.box = b.box.with(b.pts[i])
		}
	}
	b.faceNormals()
	b.findEdges()
	b.chooseLines(creaseRad)
	b.smooth()
	return b, nil
}

func checkMesh(m *mesh.Mesh, name string) error {
	for i, v := range m.Vertices {
		where := fmt.Sprintf("vertex %d at %s", i, fmtVec(v))
		if !finite(v) {
			return &Error{Fault: NotFinite, Part: name, Detail: where}
		}
		if max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)) > reach {
			return &Error{Fault: TooFar, Part: name, Detail: where}
		}
	}
	for i, t := range m.Triangles {
		for _, v := range t {
			if v < 0 || int(v) >= len(m.Vertices) {
				return &Error{Fault: BadIndex, Part: name, Detail: fmt.Sprintf("triangle %d, vertex %d of %d", i, v, len(m.Vertices))}
			}
		}
	}
	return nil
}

// weld joins points of equal coordinates and leaves out triangles that use one twice.
func (b *body) weld() {
	first := make(map[r3.Vec]int32, len(b.Mesh.Vertices))
	to := make([]int32, len(b.Mesh.Vertices))
	b.pts = make([]r3.Vec, 0, len(to))
	for i, v := range b.Mesh.Vertices {
		n, ok := first[v]
		if !ok {
			n = int32(len(b.pts))
			first[v] = n
			b.pts = append(b.pts, v)
		}
		to[i] = n
	}
	b.tris = make([][3]int32, 0, len(b.Mesh.Triangles))
	for _, t := range b.Mesh.Triangles {
		w := [3]int32{to[t[0]], to[t[1]], to[t[2]]}
		if w[0] != w[1] && w[1] != w[2] && w[2] != w[0] {
			b.tris = append(b.tris, w)
		}
	}
}

func (b *body) faceNormals() {
	b.cross = make([]r3.Vec, len(b.tris))
	b.unit = make([]r3.Vec, len(b.tris))
	for i, t := range b.tris {
		p := b.pts[t[0]]
		c := r3.Cross(r3.Sub(b.pts[t[1]], p), r3.Sub(b.pts[t[2]], p))
		b.cross[i] = c
		if n := r3.Norm(c); n > 0 {
			b.unit[i] = r3.Scale(1/n, c)
		}
	}
}

// half is a side of a triangle, filed under the lower of its two points.
type half struct{ hi, side int32 }

// findEdges pairs the sides of the triangles, by a counting sort on their lower point.
func (b *body) findEdges() {
	start := make([]int32, len(b.pts)+1)
	for _, t := range b.tris {
		for k := range 3 {
			start[min(t[k], t[(k+1)%3])+1]++
		}
	}
	for i := range b.pts {
		start[i+1] += start[i]
	}
	filed := make([]half, 3*len(b.tris))
	next := slices.Clone(start[:len(b.pts)])
	for i, t := range b.tris {
		for k := range 3 {
			lo, hi := min(t[k], t[(k+1)%3]), max(t[k], t[(k+1)%3])
			filed[next[lo]] = half{hi, int32(3*i + k)}
			next[lo]++
		}
	}
	b.sides = make([][3]int32, len(b.tris))
	b.edges = make([]edge, 0, len(filed)/2+8)
	for lo := range b.pts {
		group := filed[start[lo]:start[lo+1]]
		slices.SortFunc(group, func(x, y half) int {
			if x.hi != y.hi {
				return int(x.hi - y.hi)
			}
			return int(x.side - y.side)
		})
		for len(group) > 0 {
			n := 1
			for n < len(group) && group[n].hi == group[0].hi {
				n++
			}
			b.join(int32(lo), group[:n])
			group = group[n:]
		}
	}
}

// join makes one edge of the sides that share both points.
func (b *body) join(lo int32, group []half) {
	e := edge{a: lo, b: group[0].hi, l: group[0].side / 3, r: -1}
	if len(group) == 2 {
		e.r = group[1].side / 3
		n, m := b.unit[e.l], b.unit[e.r]
		e.angle = math.Atan2(r3.Norm(r3.Cross(n, m)), r3.Dot(n, m))
	}
	for _, h := range group {
		b.sides[h.side/3][h.side%3] = int32(len(b.edges))
	}
	b.edges = append(b.edges, e)
}
