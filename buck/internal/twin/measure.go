package twin

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"formbuck/mesh"

	"github.com/deadsy/sdfx/sdf"
	"github.com/deadsy/sdfx/vec/v3"
	"gonum.org/v1/gonum/spatial/r3"
)

// Far is a greatest distance and where it was found, in mm.
type Far struct {
	Distance float64
	At       r3.Vec
}

// Deviation is how far a mesh and its twin lie apart at the points looked at. Both ways are needed: a
// mesh that lacks a part is nowhere far from its twin.
type Deviation struct {
	FromMesh Far // from a point of the mesh to the twin's surface: an upper bound
	FromTwin Far // from a point of the twin's surface to the mesh: exact
	OnMesh   int // points looked at on the mesh
	OnTwin   int // points looked at on the twin
}

// Worst is the greater of both ways, in mm.
func (d Deviation) Worst() float64 { return max(d.FromMesh.Distance, d.FromTwin.Distance) }

// Options say how densely to look. The zero value means half a millimetre and leaves nothing out.
type Options struct {
	Step float64 // between lines through the twin, and between points on large triangles, mm
	// Skip leaves a point out, where mesh and twin are meant to differ; nil leaves out none.
	Skip func(p r3.Vec) bool
}

// Measure looks at the corners, sides and inner points of every triangle, and on the twin at the
// points where lines along the three axes pass through its surface and at those beside the mesh's
// corners. It is the same on every run. Between the points it knows nothing: a smooth
// surface that a triangle of the side a misses by its sagitta is seen whole at a/2, a spike narrower
// than the step that neither mesh nor lines meet is not.
func Measure(m *mesh.Mesh, s sdf.SDF3, o Options) (Deviation, error) {
	var d Deviation
	if len(m.Triangles) == 0 {
		return d, ErrEmptyMesh
	}
	if o.Step <= 0 {
		o.Step = 0.5
	}
	if o.Skip == nil {
		o.Skip = func(r3.Vec) bool { return false }
	}
	d.fromMesh(m, s, o)
	return d, d.fromTwin(m, s, o)
}

// sharpest is how far the twin's own distance may fall short of the true one: by 8 outside an edge of
// 2 asin(1/8), 14 degrees. Points that can make no new greatest distance are passed over by it.
const sharpest = 8

func (d *Deviation) fromMesh(m *mesh.Mesh, s sdf.SDF3, o Options) {
	type place struct {
		p r3.Vec
		f float64
	}
	var places []place
	for _, p := range surface(m, o.Step) {
		if !o.Skip(p) {
			f := s.Evaluate(v3.Vec(p))
			places = append(places, place{p, f})
		}
	}
	d.OnMesh = len(places)
	slices.SortStableFunc(places, func(a, b place) int { return cmp.Compare(math.Abs(b.f), math.Abs(a.f)) })
	for _, at := range places {
		if math.Abs(at.f)*sharpest < d.FromMesh.Distance {
			break
		}
		far := math.Inf(1)
		if q, ok := closest(s, at.p, at.f, 0.005); ok {
			far = r3.Norm(r3.Sub(q, at.p))
		}
		if far > d.FromMesh.Distance {
			d.FromMesh = Far{far, at.p}
		}
	}
}

// surface is the corners of a mesh, points along every side no further than step apart, at the least
// its middle, and within every triangle its own middle and one more for every square of the step
// that fits into its area.
func surface(m *mesh.Mesh, step float64) []r3.Vec {
	points := slices.Clone(m.Vertices)
	for _, t := range m.Triangles {
		a, b, c := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		points = append(points, r3.Scale(1./3, r3.Add(a, r3.Add(b, c))))
		for k := range 3 {
			if from, to := t[k], t[(k+1)%3]; from < to {
				points = append(points, side(m.Vertices[from], m.Vertices[to], step)...)
			}
		}
		u, v := r3.Sub(b, a), r3.Sub(c, a)
		for i := range int(r3.Norm(r3.Cross(u, v)) / 2 / (step * step)) {
			s, w := spread(i)
			if s+w > 1 {
				s, w = 1-s, 1-w
			}
			points = append(points, r3.Add(a, r3.Add(r3.Scale(s, u), r3.Scale(w, v))))
		}
	}
	return points
}

// side is the points that cut the line from a to b into equal parts no longer than step, two at least.
func side(a, b r3.Vec, step float64) []r3.Vec {
	n := max(2, int(math.Ceil(r3.Norm(r3.Sub(b, a))/step)))
	points := make([]r3.Vec, 0, n-1)
	for i := 1; i < n; i++ {
		points = append(points, r3.Add(a, r3.Scale(float64(i)/float64(n), r3.Sub(b, a))))
	}
	return points
}

// spread is point i of a sequence that fills the unit square evenly: the multiples of 1/g and 1/g^2
// less their whole parts, g the root of x^3 = x + 1.
func spread(i int) (u, v float64) {
	const g = 1.32471795724474602596
	_, u = math.Modf(0.5 + float64(i)/g)
	_, v = math.Modf(0.5 + float64(i)/(g*g))
	return u, v
}

// seed of the points' scatter.
const seed = 20260101

func (d *Deviation) fromTwin(m *mesh.Mesh, s sdf.SDF3, o Options) error {
	t := newTree(m)
	look := func(q r3.Vec) {
		if o.Skip(q) {
			return
		}
		d.OnTwin++
		if far := t.distance(q, math.Inf(1)); far > d.FromTwin.Distance {
			d.FromTwin = Far{far, q}
		}
	}
	dice := rand.New(rand.NewPCG(seed, 0))
	b := m.Bounds()
	own := s.BoundingBox()
	b = r3.NewBox(
		min(b.Min.X, max(own.Min.X, b.Min.X-5)), min(b.Min.Y, max(own.Min.Y, b.Min.Y-5)), min(b.Min.Z, max(own.Min.Z, b.Min.Z-5)),
		max(b.Max.X, min(own.Max.X, b.Max.X+5)), max(b.Max.Y, min(own.Max.Y, b.Max.Y+5)), max(b.Max.Z, min(own.Max.Z, b.Max.Z+5)))
	through(s, b, o.Step, dice, look)
	beside(s, m, dice, look)
	if d.OnTwin == 0 {
		return ErrNoSurface
	}
	return nil
}

// through gives the points where lines along the axes, one in every square of the step, scattered
// within it, pass through the surface in the box.
func through(s sdf.SDF3, b r3.Box, step float64, dice *rand.Rand, look func(r3.Vec)) {
	size := r3.Sub(b.Max, b.Min)
	long := [3]float64{size.X, size.Y, size.Z}
	for axis := range 3 {
		u, v := (axis+1)%3, (axis+2)%3
		var d [3]float64
		d[axis] = 1
		for i := range int(math.Ceil(long[u] / step)) {
			for j := range int(math.Ceil(long[v] / step)) {
				var p [3]float64
				p[axis] = -beyond
				p[u], p[v] = (float64(i)+dice.Float64())*step, (float64(j)+dice.Float64())*step
				line(s, r3.Add(b.Min, vec(p)), vec(d), long[axis]+2*beyond, look)
			}
		}
	}
}

func vec(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }

// line gives every point where the line from p passes through the surface.
func line(s sdf.SDF3, p, d r3.Vec, far float64, look func(r3.Vec)) {
	for far > 0 {
		q, hit := along(s, p, d, s.Evaluate(v3.Vec(p)), far)
		if !hit {
			return
		}
		look(q)
		on := r3.Add(q, r3.Scale(2*onSurface, d))
		far -= r3.Norm(r3.Sub(on, p))
		p = on
	}
}

// besideLeast is how many points at the least are scattered around the mesh.
const besideLeast = 3000

// beside gives points of the surface found from points scattered a twentieth of a millimetre around
// the corners of the mesh: from outside a sharp edge they fall on the edge itself, which lines would
// miss, and from outside a corner on that.
func beside(s sdf.SDF3, m *mesh.Mesh, dice *rand.Rand, look func(r3.Vec)) {
	for range 1 + besideLeast/len(m.Vertices) {
		for _, v := range m.Vertices {
			off := r3.Vec{X: dice.NormFloat64(), Y: dice.NormFloat64(), Z: dice.NormFloat64()}
			p := r3.Add(v, r3.Scale(0.05/r3.Norm(off), off))
			if q, ok := closest(s, p, s.Evaluate(v3.Vec(p)), math.Inf(1)); ok {
				look(q)
			}
		}
	}
}
