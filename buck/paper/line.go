package paper

import (
	"math"
	"slices"

	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// axes are from where a body is looked at: what is to the right, what is up, what is towards the eye.
type axes struct{ right, up, eye r3.Vec }

func (a axes) seen(p r3.Vec) r2.Vec { return r2.Vec{X: r3.Dot(a.right, p), Y: r3.Dot(a.up, p)} }

// turned are the axes for a body on the left face, which is turned over about y.
func (a axes) turned() axes {
	over := func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.X, Y: v.Y, Z: -v.Z} }
	return axes{over(a.right), over(a.up), over(a.eye)}
}

// The three views, third-angle (ISO 5456-2:1996): the plan, under it the side seen from the edge, beside that the end seen
// from the tip.
var (
	planView = axes{r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}}
	sideView = axes{r3.Vec{X: 1}, r3.Vec{Z: 1}, r3.Vec{Y: -1}}
	endView  = axes{r3.Vec{Y: 1}, r3.Vec{Z: 1}, r3.Vec{X: 1}}
)

const (
	bent      = 22   // from how many degrees on an edge is drawn
	pixel     = 0.08 // of the depths by which lines are hidden, mm
	hides     = 0.12 // by how much what hides a line stands before it, mm
	sliver    = 0.02 // how high a triangle stands over an edge at least, mm, for its direction to say anything
	shortLine = 0.05 // mm
)

// lines are the edges of a body that are seen: sharp ones, and those at which it turns away from the eye.
func lines(m *mesh.Mesh, a axes) [][2]r2.Vec {
	d := depthsOf(m, a)
	normals := make([]r3.Vec, len(m.Triangles))
	for i, t := range m.Triangles {
		p := m.Vertices[t[0]]
		normals[i] = r3.Cross(r3.Sub(m.Vertices[t[1]], p), r3.Sub(m.Vertices[t[2]], p))
	}
	type side struct{ a, b int32 }
	over := make(map[side]int, len(m.Triangles)*3/2)
	var all [][2]r2.Vec
	for i, t := range m.Triangles {
		for k := range 3 {
			p, q := t[k], t[(k+1)%3]
			j, ok := over[side{q, p}]
			if !ok {
				over[side{p, q}] = i
				continue
			}
			n, o := normals[i], normals[j]
			if !drawn(n, o, a.eye, r3.Norm(r3.Sub(m.Vertices[p], m.Vertices[q]))) {
				continue
			}
			all = append(all, d.seen(m.Vertices[p], m.Vertices[q])...)
		}
	}
	return all
}

// drawn tells whether an edge between two triangles is a line: one of them faces the eye and the other does not, or both
// do and the edge is sharp. What is seen edge on does not face the eye.
func drawn(n, o, eye r3.Vec, long float64) bool {
	const level = 1e-6
	s, u := r3.Dot(r3.Unit(n), eye) > level, r3.Dot(r3.Unit(o), eye) > level
	if s != u || !s {
		return s != u
	}
	thin := min(r3.Norm(n), r3.Norm(o)) < sliver*long
	return !thin && r3.Dot(r3.Unit(n), r3.Unit(o)) < math.Cos(bent*math.Pi/180)
}

// depths are how near to the eye a body comes, pixel by pixel.
type depths struct {
	axes
	low    r2.Vec
	nx, ny int
	z      []float64
}

func depthsOf(m *mesh.Mesh, a axes) *depths {
	low, high := spread(m, a)
	d := &depths{axes: a, low: low}
	d.nx, d.ny = int((high.X-d.low.X)/pixel)+2, int((high.Y-d.low.Y)/pixel)+2
	d.z = slices.Repeat([]float64{math.Inf(-1)}, d.nx*d.ny)
	for _, t := range m.Triangles {
		d.triangle(m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]])
	}
	return d
}

// at is a point in pixels.
func (d *depths) at(p r3.Vec) r2.Vec { return r2.Scale(1/pixel, r2.Sub(d.axes.seen(p), d.low)) }

// triangle puts a triangle over the pixels whose middles it covers.
func (d *depths) triangle(a, b, c r3.Vec) {
	p, q, r := d.at(a), d.at(b), d.at(c)
	area := r2.Cross(r2.Sub(q, p), r2.Sub(r, p))
	if math.Abs(area) < 1e-9 {
		return
	}
	za, zb, zc := r3.Dot(d.eye, a), r3.Dot(d.eye, b), r3.Dot(d.eye, c)
	i0, i1 := int(min(p.X, q.X, r.X)), min(int(max(p.X, q.X, r.X))+1, d.nx-1)
	j0, j1 := int(min(p.Y, q.Y, r.Y)), min(int(max(p.Y, q.Y, r.Y))+1, d.ny-1)
	for j := j0; j <= j1; j++ {
		i0, i1 := i0, i1
		if from, to, ok := row(p, q, r, float64(j)+0.5); ok {
			i0, i1 = max(i0, int(from)-2), min(i1, int(to)+2)
		}
		for i := i0; i <= i1; i++ {
			at := r2.Vec{X: float64(i) + 0.5, Y: float64(j) + 0.5}
			u := r2.Cross(r2.Sub(at, p), r2.Sub(r, p)) / area
			v := r2.Cross(r2.Sub(q, p), r2.Sub(at, p)) / area
			if u < 0 || v < 0 || u+v > 1 {
				continue
			}
			n := j*d.nx + i
			d.z[n] = max(d.z[n], za+u*(zb-za)+v*(zc-za))
		}
	}
}

// row is from where to where a triangle reaches along the line at y; false: it does not reach it.
func row(p, q, r r2.Vec, y float64) (from, to float64, ok bool) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, s := range [3][2]r2.Vec{{p, q}, {q, r}, {r, p}} {
		if a, b := s[0], s[1]; a.Y != b.Y && min(a.Y, b.Y) <= y && y <= max(a.Y, b.Y) {
			x := a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)
			from, to = min(from, x), max(to, x)
		}
	}
	return from, to, from <= to
}

// hidden tells whether something stands before p all around it.
func (d *depths) hidden(p r3.Vec) bool {
	q, z := d.at(p), r3.Dot(d.eye, p)
	for j := int(q.Y) - 1; j <= int(q.Y)+1; j++ {
		for i := int(q.X) - 1; i <= int(q.X)+1; i++ {
			if i < 0 || j < 0 || i >= d.nx || j >= d.ny || d.z[j*d.nx+i] < z+hides {
				return false
			}
		}
	}
	return true
}

// seen are the parts of an edge that are not hidden.
func (d *depths) seen(a, b r3.Vec) [][2]r2.Vec {
	long := r2.Norm(r2.Sub(d.axes.seen(a), d.axes.seen(b)))
	if long < 1e-6 {
		return nil
	}
	n := max(1, int(long/(2*pixel)))
	at := func(i int) r3.Vec { return r3.Add(a, r3.Scale(float64(i)/float64(n), r3.Sub(b, a))) }
	var all [][2]r2.Vec
	from := -1
	for i := range n + 1 {
		shown := i < n && !d.hidden(r3.Scale(0.5, r3.Add(at(i), at(i+1))))
		if shown && from < 0 {
			from = i
		}
		if !shown && from >= 0 {
			p, q := d.axes.seen(at(from)), d.axes.seen(at(i))
			if r2.Norm(r2.Sub(p, q)) > shortLine || n == 1 {
				all = append(all, [2]r2.Vec{p, q})
			}
			from = -1
		}
	}
	return all
}
