package solid

import (
	"math"

	"formbuck/buck/pieces"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Round surfaces are made of plane facets that stand outside the true surface as far as they lie
// inside of it, so that it takes half as many of them as chords with their ends on it. The height is
// then exactly that of the mesh.

// besideFlat is the turn between a facet that lies inside its round by half the sagitta and a flat one
// that touches it, in turns between two of the former, with which the corners stand out alike: of
// x = r t/2 - in/t, the corner's distance along the flat, x^2 = 2 r in and t0^2 = 16 in/r. Derived.
const besideFlat = (2 + math.Sqrt2) / 4

// turns is how many turns there are from facet to facet over a sweep of the radius, the first and the
// last from a flat one, or the last only if one end is flat, and the angle of each of the others.
func turns(radius, sweep, flats, tol float64) (n int, turn float64) {
	less := flats * (1 - besideFlat)
	widest := math.Pi / 2
	if tol < radius {
		widest = min(widest, 2*math.Acos(1-2*tol/radius))
	}
	n = max(2, int(math.Ceil(sweep/widest+less)))
	return n, sweep / (float64(n) - less)
}

// facets are the round ends of a pill as a polygon with straight sides of its own: facet j of a
// quarter, counted from the pill's tip, is turned by j times the angle between two.
type facets struct {
	pill    pieces.Pill
	axis    r2.Vec   // of the pill, a unit vector
	normals []r2.Vec // of a quarter; the pill's straight side is beyond the last
	in      float64  // by which the round facets lie inside the half circle of their distance
}

// facetted is a pill's polygon, its corners and facets within tol of the pills from it to one that is
// wider by grown on every side.
func facetted(p pieces.Pill, grown, tol float64) facets {
	n, turn := turns(p.Width/2+grown, math.Pi/2, 1, tol)
	f := facets{pill: p, axis: r2.Sub(p.At(r2.Vec{X: 1}), p.Centre), normals: make([]r2.Vec, n)}
	for j := range f.normals {
		sin, cos := math.Sincos(float64(j) * turn)
		f.normals[j] = r2.Vec{X: cos, Y: sin}
	}
	f.in = (p.Width/2 + grown) * (1 - math.Cos(turn/2)) / 2
	return f
}

// folded is p in the pill's axes, mirrored to its first quarter, x from where the half circle begins.
func (f *facets) folded(p r2.Vec) r2.Vec {
	q := r2.Sub(p, f.pill.Centre)
	return r2.Vec{
		X: math.Abs(r2.Dot(f.axis, q)) - (f.pill.Length-f.pill.Width)/2,
		Y: math.Abs(r2.Cross(f.axis, q)),
	}
}

// distance is how far p lies outside the polygon, square to the facet that is nearest.
func (f *facets) distance(p r2.Vec) float64 {
	q := f.folded(p)
	if q.X <= 0 {
		return q.Y - f.pill.Width/2
	}
	n := f.normals
	j := int(q.Y / (q.X + q.Y) * float64(len(n)-1)) // not far off
	far := r2.Dot(n[j], q)
	for _, step := range [2]int{1, -1} {
		for j+step >= 0 && j+step < len(n) && r2.Dot(n[j+step], q) > far {
			j += step
			far = r2.Dot(n[j], q)
		}
	}
	return max(q.Y, far+f.in) - f.pill.Width/2
}

// ring is the polygon moved outwards by d, counter-clockwise.
func (f *facets) ring(d float64) relief.Line {
	r := f.pill.Width/2 + d
	reach := (f.pill.Length - f.pill.Width) / 2
	quarter := make([]r2.Vec, 0, len(f.normals))
	for j, a := range f.normals {
		b, s := r2.Vec{Y: 1}, r // the straight side
		if j+1 < len(f.normals) {
			b, s = f.normals[j+1], r-f.in
		}
		c := meet(a, r-f.in, b, s)
		quarter = append(quarter, r2.Vec{X: c.X + reach, Y: c.Y})
	}
	line := relief.Line{Closed: true, Points: make([]r2.Vec, 0, 4*len(quarter))}
	for _, side := range []r2.Vec{{X: 1, Y: 1}, {X: -1, Y: 1}, {X: -1, Y: -1}, {X: 1, Y: -1}} {
		for j := range quarter {
			c := quarter[j]
			if side.X*side.Y < 0 {
				c = quarter[len(quarter)-1-j]
			}
			line.Points = append(line.Points, f.pill.At(r2.Vec{X: side.X * c.X, Y: side.Y * c.Y}))
		}
	}
	return line
}

// meet is where the lines with the unit normals a and b, at the distances r and s from the origin, meet.
func meet(a r2.Vec, r float64, b r2.Vec, s float64) r2.Vec {
	det := r2.Cross(a, b)
	return r2.Vec{X: (r*b.Y - s*a.Y) / det, Y: (a.X*s - b.X*r) / det}
}

// slope is a straight piece of an edge's profile: its height at the distance 0, and by how much it
// falls for each mm outwards.
type slope struct{ z, fall float64 }

// edge is the profile of a rounded edge between a level top and a wall, as straight pieces, over the
// distance outwards from where the two would meet without it.
type edge struct {
	pieces []slope
	rings  []float64 // the distances at which one piece ends and the next begins
}

// edgeOf is the profile, within tol, of an edge of the radius, below a top at z and above a wall that
// leans by the draft, an angle in radians. Top and wall are what they are; the arc between them is cut
// into chords that stand out as far as they lie in. An upright wall stands at the
// last of the rings.
func edgeOf(z, radius, draft, tol float64) edge {
	e := edge{pieces: []slope{{z: z}}}
	if radius > 0 {
		n, turn := turns(radius, math.Pi/2-draft, 2, tol)
		in := radius * (1 - math.Cos(turn/2)) / 2
		inset := radius * math.Tan(math.Pi/4-draft/2)
		for j := range n - 1 {
			tan := math.Tan((float64(j) + besideFlat) * turn)
			e.pieces = append(e.pieces, slope{z - radius + (radius-in)*math.Hypot(1, tan) - tan*inset, tan})
		}
	}
	if draft > 0 {
		e.pieces = append(e.pieces, slope{z, 1 / math.Tan(draft)})
	}
	for j := 1; j < len(e.pieces); j++ {
		a, b := e.pieces[j-1], e.pieces[j]
		e.rings = append(e.rings, (b.z-a.z)/(b.fall-a.fall))
	}
	if draft == 0 {
		e.rings = append(e.rings, 0)
	}
	return e
}

// height is the profile's height at a distance.
func (e edge) height(d float64) float64 {
	z := math.Inf(1)
	for _, p := range e.pieces {
		h := p.z - d*p.fall
		if h > z {
			break // each falls faster than the one before, and is the lowest beyond it
		}
		z = h
	}
	return z
}

// cone is a nub as a pyramid.
type cone struct {
	nub     pieces.NubPiece
	tall    float64
	normals []r2.Vec
	wide    float64 // by which the pyramid, at the middle of a facet, is narrower than the cone
}

// coneOf is the pyramid of a nub within tol.
func coneOf(n pieces.NubPiece, tol float64) cone {
	count := 2 * max(2, chords(n.Base/2, math.Pi, 2*tol))
	c := cone{nub: n, tall: n.Tall(), normals: make([]r2.Vec, count)}
	turn := 2 * math.Pi / float64(count)
	for j := range c.normals {
		sin, cos := math.Sincos(float64(j) * turn)
		c.normals[j] = r2.Vec{X: cos, Y: sin}
	}
	c.wide = (1 + 1/math.Cos(turn/2)) / 2
	return c
}

// radius is the radius of the cone that p lies on the pyramid of.
func (c *cone) radius(p r2.Vec) float64 {
	q := r2.Sub(p, c.nub.Centre)
	n := len(c.normals)
	j := int(math.Round(math.Atan2(q.Y, q.X)/(2*math.Pi)*float64(n))) + n
	return r2.Dot(c.normals[j%n], q) * c.wide
}

// height is the pyramid's height at p.
func (c *cone) height(p r2.Vec) float64 {
	return c.nub.BaseZ + c.tall*(1-2*c.radius(p)/c.nub.Base)
}

// near tells whether p may be on the pyramid.
func (c *cone) near(p r2.Vec) bool {
	return r2.Norm2(r2.Sub(p, c.nub.Centre)) < c.nub.Base*c.nub.Base/3
}

// lines are where the pyramid is as wide as a cone of the radius, and one through its tip.
func (c *cone) lines(radius float64) []relief.Line {
	rim := relief.Line{Closed: true}
	r := radius / c.wide
	for j, a := range c.normals {
		rim.Points = append(rim.Points, r2.Add(c.nub.Centre, meet(a, r, c.normals[(j+1)%len(c.normals)], r)))
	}
	across := []r2.Vec{rim.Points[0], c.nub.Centre, rim.Points[len(rim.Points)/2]}
	return []relief.Line{rim, {Points: across}}
}
