package picture

import (
	"math"

	"formbuck/mesh/sets"

	"gonum.org/v1/gonum/spatial/r3"
)

// An edge is a line of the picture when it is open, when it is bent by more than the crease
// angle, or when it is a shallow ridge: bent by more than leastRidge and at least ridgeRatio times
// as much as all that lies straight to both sides of it, up to the next sharp edge. The last finds
// grind lines of a few degrees, which no fixed angle can tell from the facets of a round: those
// have neighbours bent as much as themselves.
const (
	leastRidge = 1.5 * math.Pi / 180
	ridgeRatio = 3  // where a round of even facets begins, the first bend is half the next
	longestRun = 64 // triangles looked at on either side of an edge before it counts as calm
)

// chooseLines decides which edges are drawn.
func (b *body) chooseLines(creaseRad float64) {
	for i := range b.edges {
		e := &b.edges[i]
		switch {
		case e.r < 0 || e.angle >= creaseRad:
			e.line = 1
		case e.angle > leastRidge && b.calm(e, e.l, creaseRad) && b.calm(e, e.r, creaseRad):
			e.line = float32(0.5 + 0.5*e.angle/creaseRad)
		}
	}
}

// calm tells whether the surface beside e, on the side of triangle t, bends much less than e. It
// goes straight away from the middle of e to the first edge that bends as much, or is sharp.
func (b *body) calm(e *edge, t int32, creaseRad float64) bool {
	along := r3.Sub(b.pts[e.b], b.pts[e.a])
	mid := r3.Scale(0.5, r3.Add(b.pts[e.a], b.pts[e.b]))
	at := int32(0)
	for k := range 3 {
		if tri := b.tris[t]; (tri[k] == e.a || tri[k] == e.b) && (tri[(k+1)%3] == e.a || tri[(k+1)%3] == e.b) {
			at = int32(k)
		}
	}
	for range longestRun {
		tri := b.tris[t]
		ahead, end := tri[(at+2)%3], tri[(at+1)%3]
		out := (at + 1) % 3 // from the end of the side come through to the corner ahead
		if (r3.Dot(r3.Sub(b.pts[ahead], mid), along) > 0) == (r3.Dot(r3.Sub(b.pts[end], mid), along) > 0) {
			out = (at + 2) % 3
		}
		next := b.sides[t][out]
		f := &b.edges[next]
		if f.r < 0 || f.angle >= creaseRad {
			return true
		}
		if f.angle*ridgeRatio > e.angle {
			return false
		}
		if t = f.l + f.r - t; b.unit[t] == (r3.Vec{}) {
			return false
		}
		for k := range int32(3) {
			if b.sides[t][k] == next {
				at = k
			}
		}
	}
	return true
}

// smooth finds the patches between the lines and the normals of the smooth surface over each: at
// a point, the sum of the patch's triangle normals there, weighted by area so that a plane keeps
// its own normal where it runs into a round.
func (b *body) smooth() {
	patches, corners := sets.New(len(b.tris)), sets.New(3*len(b.tris))
	for i := range b.edges {
		e := &b.edges[i]
		if e.line > 0 {
			continue
		}
		patches.Join(e.l, e.r)
		corners.Join(b.cornerAt(e.l, e.a), b.cornerAt(e.r, e.a))
		corners.Join(b.cornerAt(e.l, e.b), b.cornerAt(e.r, e.b))
	}
	sum := make([]r3.Vec, len(corners))
	for i := range corners {
		r := corners.Root(int32(i))
		sum[r] = r3.Add(sum[r], b.cross[i/3])
	}
	b.patch = make([]int32, len(b.tris))
	b.corner = make([][3]r3.Vec, len(b.tris))
	for t := range b.tris {
		b.patch[t] = patches.Root(int32(t))
		for k := range 3 {
			n := sum[corners.Root(int32(3*t+k))]
			if l := r3.Norm(n); l > 0 {
				n = r3.Scale(1/l, n)
			}
			b.corner[t][k] = n
		}
	}
}

// cornerAt numbers the corner of triangle t at point p.
func (b *body) cornerAt(t, p int32) int32 {
	for k, q := range b.tris[t] {
		if q == p {
			return 3*t + int32(k)
		}
	}
	return 3 * t
}
