package mesh

import (
	"math"

	"formbuck/mesh/crew"

	"gonum.org/v1/gonum/spatial/r3"
)

const (
	// wallDeg is how far two faces may be from parallel to make a wall. Faces that meet at more make
	// an edge: there the material thins out to nothing, whatever the part.
	wallDeg = 20.0
	// halfBead, in mm, is how far from an edge a wall begins: half of what a 0.4 mm nozzle lays. Nearer
	// to it every solid is thin.
	halfBead = 0.2
	// cornerSamples is how many triangles are sampled near their corners as well as in their middle;
	// areaSamples is about how many samples are spread over the surface by area beside those.
	cornerSamples = 1 << 15
	areaSamples   = 1 << 15
	// mostTriangles is how many triangles are looked at in a larger mesh, evenly chosen.
	mostTriangles = 1 << 16
)

// Wall is the thinnest place of a solid that was found.
type Wall struct {
	Thickness float64 // mm
	At        r3.Vec  // middle of the wall there
	Samples   int     // how many places were looked at
}

// ThinnestWall samples how thick a solid is: from points of its surface, straight in, to where the line
// comes out again, where the surface there faces away from the line by less than 20 degrees. Places
// within 0.2 mm of an edge are left out. The least of that is an upper bound of the thinnest wall: what
// lies between the samples may be thinner. Every
// triangle is sampled in the middle and next to its corners, and large ones all over; of more than
// 65 536 triangles some are left out. It is false if no line came out so. The mesh must be closed and
// its indices in range.
func (m *Mesh) ThinnestWall() (Wall, bool) {
	p := &prober{Mesh: m, tree: m.rayTree()}
	stride := (len(m.Triangles) + mostTriangles - 1) / mostTriangles
	total := m.Area()
	const chunk = 256
	n := (len(m.Triangles) + chunk - 1) / chunk
	found := make([]Wall, n)
	crew.Each(n, func(i int) {
		w := Wall{Thickness: math.Inf(1)}
		for t := i * chunk; t < min((i+1)*chunk, len(m.Triangles)); t++ {
			if t%stride == 0 {
				p.triangle(int32(t), total, &w)
			}
		}
		found[i] = w
	})
	best := Wall{Thickness: math.Inf(1)}
	for _, w := range found { // in their order: the first of equal ones stays
		w.Samples += best.Samples
		if w.Thickness >= best.Thickness {
			w.Thickness, w.At = best.Thickness, best.At
		}
		best = w
	}
	return best, !math.IsInf(best.Thickness, 1)
}

// rayTree is a tree of all triangles.
func (m *Mesh) rayTree() *tree {
	items, boxes := make([]int32, len(m.Triangles)), make([]box, len(m.Triangles))
	for i, t := range m.Triangles {
		items[i], boxes[i] = int32(i), boxOf(m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]])
	}
	return newTree(items, boxes)
}

// prober shoots lines into a mesh.
type prober struct {
	*Mesh
	tree *tree
}

// triangle samples one triangle, of a surface of the given area.
func (p *prober) triangle(t int32, total float64, w *Wall) {
	c := p.Triangles[t]
	v := [3]r3.Vec{p.Vertices[c[0]], p.Vertices[c[1]], p.Vertices[c[2]]}
	n := cross(r3.Sub(v[1], v[0]), r3.Sub(v[2], v[0]))
	double := norm(n)
	longest := max(norm(r3.Sub(v[1], v[0])), norm(r3.Sub(v[2], v[1])), norm(r3.Sub(v[0], v[2])))
	if double <= 1e-3*longest {
		return // lower than a micrometre: its direction means nothing
	}
	in := r3.Scale(-1/double, n)
	at := func(a, b, c float64) {
		p.probe(t, r3.Add(r3.Add(r3.Scale(a, v[0]), r3.Scale(b, v[1])), r3.Scale(c, v[2])), in, w)
	}
	if len(p.Triangles) <= cornerSamples {
		const near = 0.99
		at(near, (1-near)/2, (1-near)/2)
		at((1-near)/2, near, (1-near)/2)
		at((1-near)/2, (1-near)/2, near)
	}
	// k rows of small triangles, each sampled in its middle; one for a small triangle.
	k := int(math.Ceil(math.Sqrt(areaSamples * double / 2 / total)))
	for i := range k {
		for j := range k - i {
			f := 1 / float64(3*k)
			at(1-float64(3*i+1)*f-float64(3*j+1)*f, float64(3*i+1)*f, float64(3*j+1)*f)
			if i+j < k-1 {
				at(1-float64(3*i+2)*f-float64(3*j+2)*f, float64(3*i+2)*f, float64(3*j+2)*f)
			}
		}
	}
}

// probe shoots one line from a point of a triangle.
func (p *prober) probe(from int32, at, in r3.Vec, w *Wall) {
	w.Samples++
	out, far := p.hit(from, at, in)
	if out < 0 || far >= w.Thickness {
		return
	}
	t := p.Triangles[out]
	n := cross(r3.Sub(p.Vertices[t[1]], p.Vertices[t[0]]), r3.Sub(p.Vertices[t[2]], p.Vertices[t[0]]))
	n = r3.Scale(1/norm(n), n)
	if !(r3.Dot(n, in) > math.Cos(wallDeg*math.Pi/180)) {
		return
	}
	if middle := r3.Add(at, r3.Scale(far/2, in)); !p.atEdge(middle, r3.Unit(r3.Add(in, n))) {
		w.Thickness, w.At = far, middle
	}
}

// atEdge tells whether the middle of a wall lies just inside an edge: in some direction along the wall,
// which is perpendicular to through, the material ends soon, and in the opposite one it does not. A pin
// ends soon in both.
func (p *prober) atEdge(middle, through r3.Vec) bool {
	u := r3.Vec{X: 1}
	if math.Abs(through.X) > 0.5 {
		u = r3.Vec{Y: 1}
	}
	u = r3.Unit(cross(through, u))
	v := cross(through, u)
	for i := range 4 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 4)
		d := r3.Add(r3.Scale(cos, u), r3.Scale(sin, v))
		_, ahead := p.hit(-1, middle, d)
		_, behind := p.hit(-1, middle, r3.Scale(-1, d))
		if min(ahead, behind) < halfBead && max(ahead, behind) > 2*halfBead {
			return true
		}
	}
	return false
}

// hit is the first triangle that a line meets, and how far away; -1 if it meets none. The line starts
// on the triangle from, or inside where that is -1. On a triangle the first micrometre is left out: what
// is nearer is the surface that the line starts from.
func (p *prober) hit(from int32, at, dir r3.Vec) (int32, float64) {
	best, far, near := int32(-1), math.Inf(1), 0.0
	if from >= 0 {
		near = 1e-3
	}
	if len(p.tree.nodes) == 0 {
		return best, far
	}
	var room [64]int32
	stack := append(room[:0], 0)
	l := newLine(at, dir)
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		node := &p.tree.nodes[i]
		if !l.meets(&node.box, far) {
			continue
		}
		if node.count == 0 {
			stack = append(stack, node.at, i+1)
			if l.behind(&p.tree.nodes[i+1].box, &p.tree.nodes[node.at].box) {
				stack[len(stack)-2], stack[len(stack)-1] = i+1, node.at
			}
			continue
		}
		for k := node.at; k < node.at+node.count; k++ {
			if t := p.tree.items[k]; t != from {
				if d := p.distance(t, at, dir); d > near && d < far {
					best, far = t, d
				}
			}
		}
	}
	return best, far
}

// distance is how far along the line a triangle lies, less than 0 if it lies behind, infinite if the
// line misses it (Möller and Trumbore, journal of graphics tools 2(1), 1997).
func (p *prober) distance(t int32, at, dir r3.Vec) float64 {
	c := p.Triangles[t]
	a := p.Vertices[c[0]]
	e, f := r3.Sub(p.Vertices[c[1]], a), r3.Sub(p.Vertices[c[2]], a)
	h := cross(dir, f)
	d := r3.Dot(e, h)
	if d == 0 {
		return math.Inf(1)
	}
	s := r3.Sub(at, a)
	u := r3.Dot(s, h) / d
	q := cross(s, e)
	v := r3.Dot(dir, q) / d
	if u < 0 || v < 0 || u+v > 1 {
		return math.Inf(1)
	}
	return r3.Dot(f, q) / d
}

// line is a line made ready to be compared with boxes.
type line struct{ at, dir, per [3]float64 }

func newLine(at, dir r3.Vec) line {
	return line{
		at: [3]float64{at.X, at.Y, at.Z}, dir: [3]float64{dir.X, dir.Y, dir.Z},
		per: [3]float64{1 / dir.X, 1 / dir.Y, 1 / dir.Z},
	}
}

// behind tells whether the middle of one box comes after that of another.
func (l *line) behind(b, other *box) bool {
	d := 0.0
	for k := range 3 {
		d += l.dir[k] * (float64(b[k]) + float64(b[k+3]) - float64(other[k]) - float64(other[k+3]))
	}
	return d > 0
}

// meets tells whether the line meets a box at a distance of 0 to far. A box is widened by what
// rounding to float32 and the division may take from it.
func (l *line) meets(b *box, far float64) bool {
	lo, hi := 0.0, far
	for k := range 3 {
		if math.IsInf(l.per[k], 0) {
			if l.at[k] < float64(b[k])-1e-4 || l.at[k] > float64(b[k+3])+1e-4 {
				return false
			}
			continue
		}
		a, c := (float64(b[k])-1e-4-l.at[k])*l.per[k], (float64(b[k+3])+1e-4-l.at[k])*l.per[k]
		lo, hi = max(lo, min(a, c)), min(hi, max(a, c))
	}
	return lo <= hi
}
