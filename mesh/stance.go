package mesh

import (
	"math"
	"slices"

	"formbuck/mesh/sets"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// layer is the height of a first layer, in mm, of a common nozzle of 0.4 mm; common practice, no
// source. What lies lower than that is laid on the bed, and a slicer cuts it in its middle.
const layer = 0.2

// Stance is one way in which a solid can stand on a printer's bed, z up.
type Stance struct {
	Mesh     *Mesh   // as it stands, its lowest point at z = 0
	Down     r3.Vec  // what of the solid points down there: the unit normal of the side it stands on
	Touch    float64 // area of the first layer, mm2
	Plan     float64 // of its upper sides, seen from above, mm2: of a solid without arches its shadow
	Height   float64 // mm
	Width    float64 // the least width of the first layer's hull, mm
	Centred  bool    // the middle of its mass is over that hull
	Overhang Overhang
	Islands  []r3.Vec // lowest points of what would begin in the air, one each, mm
}

// Stance is how the solid stands as it is. Overhangs are taken below deg from the bed. Indices must
// be in range.
func (m *Mesh) Stance(deg float64) Stance { return m.stance(r3.Vec{Z: -1}, deg) }

// Stances are the ways in which a solid is likely to stand: as it is, along the other directions of
// the frame, and as it comes to rest when it is let go in each of these.
func (m *Mesh) Stances(deg float64) []Stance {
	var all []Stance
	for _, down := range []r3.Vec{{Z: -1}, {Z: 1}, {Y: 1}, {Y: -1}, {X: 1}, {X: -1}} {
		for _, way := range [2]r3.Vec{down, m.rest(down)} {
			if !slices.ContainsFunc(all, func(s Stance) bool { return r3.Dot(s.Down, way) > 1-1e-9 }) {
				all = append(all, m.stance(way, deg))
			}
		}
	}
	return all
}

// rest is what points down when the solid, held with a unit vector down, is let go: it rolls over the
// point or the edge of its contact that is nearest to its mass until the mass is over the contact.
func (m *Mesh) rest(down r3.Vec) r3.Vec {
	centre := m.Centroid()
	for range 60 { // each roll lowers the mass; pieces come to rest in a few
		x := r3.Unit(r3.Cross(down, least3(down)))
		y := r3.Cross(down, x)
		low := math.Inf(-1)
		m.eachCorner(func(v r3.Vec) { low = max(low, r3.Dot(v, down)) })
		var contact []r2.Vec
		m.eachCorner(func(v r3.Vec) {
			if r3.Dot(v, down) > low-1e-6 {
				contact = append(contact, r2.Vec{X: r3.Dot(v, x), Y: r3.Dot(v, y)})
			}
		})
		mass := r2.Vec{X: r3.Dot(centre, x), Y: r3.Dot(centre, y)}
		pivot := nearestOf(hullOf(contact), mass)
		far := r2.Norm(r2.Sub(mass, pivot))
		if far < 1e-9 {
			return down
		}
		to := r2.Scale(1/far, r2.Sub(mass, pivot))
		turn := math.Inf(1)
		m.eachCorner(func(v r3.Vec) {
			along := r2.Dot(r2.Sub(r2.Vec{X: r3.Dot(v, x), Y: r3.Dot(v, y)}, pivot), to)
			if along > 1e-9 {
				turn = min(turn, math.Atan2(low-r3.Dot(v, down), along))
			}
		})
		if math.IsInf(turn, 1) {
			return down
		}
		ahead := r3.Add(r3.Scale(to.X, x), r3.Scale(to.Y, y))
		sin, cos := math.Sincos(turn)
		down = r3.Unit(r3.Add(r3.Scale(cos, down), r3.Scale(sin, ahead)))
	}
	return down
}

// eachCorner calls f with the corners of all triangles.
func (m *Mesh) eachCorner(f func(r3.Vec)) {
	for _, t := range m.Triangles {
		for _, v := range t {
			f(m.Vertices[v])
		}
	}
}

// least3 is the axis of the frame that a unit vector leans to least.
func least3(v r3.Vec) r3.Vec {
	switch x, y, z := math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z); {
	case x <= y && x <= z:
		return r3.Vec{X: 1}
	case y <= z:
		return r3.Vec{Y: 1}
	}
	return r3.Vec{Z: 1}
}

// nearestOf is the point of a convex polygon, or of what is left of one, that is nearest to p: p
// itself within.
func nearestOf(hull []r2.Vec, p r2.Vec) r2.Vec {
	if holds(hull, p) {
		return p
	}
	best := hull[0]
	for i, a := range hull {
		b := hull[(i+1)%len(hull)]
		ab := r2.Sub(b, a)
		t := 0.0
		if l := r2.Norm2(ab); l > 0 {
			t = max(0, min(1, r2.Dot(r2.Sub(p, a), ab)/l))
		}
		if q := r2.Add(a, r2.Scale(t, ab)); r2.Norm(r2.Sub(q, p)) < r2.Norm(r2.Sub(best, p)) {
			best = q
		}
	}
	return best
}

// stance stands a solid on the side that looks along down.
func (m *Mesh) stance(down r3.Vec, deg float64) Stance {
	stood := m.onto(down)
	b := stood.Bounds()
	stood = stood.Moved(r3.Vec{Z: -b.Min.Z})
	s := Stance{Mesh: stood, Down: down, Height: b.Max.Z - b.Min.Z, Overhang: stood.overhang(deg, layer)}
	s.Plan = stood.seen()
	s.Touch, _ = stood.section(layer / 2)
	_, feet := stood.section(layer)
	hull := hullOf(feet)
	s.Width = least(hull)
	centre := stood.Centroid()
	s.Islands = stood.islands()
	s.Centred = holds(hull, r2.Vec{X: centre.X, Y: centre.Y})
	return s
}

// islands are the places where the solid begins in the air, a place each: no way over the surface
// goes down from there, and the solid is above. A hollow's floor is none.
func (m *Mesh) islands() []r3.Vec {
	const level = 1e-6 // mm; less is as high
	used := make([]bool, len(m.Vertices))
	looksDown := make([]float64, len(m.Vertices))
	over := sets.New(len(m.Vertices))
	for _, t := range m.Triangles {
		for k, v := range t {
			next, last := t[(k+1)%3], t[(k+2)%3]
			a, b := r3.Sub(m.Vertices[next], m.Vertices[v]), r3.Sub(m.Vertices[last], m.Vertices[v])
			if n := cross(a, b); norm(n) > 0 {
				looksDown[v] -= math.Atan2(norm(n), r3.Dot(a, b)) * n.Z / norm(n)
			}
			used[v] = true
			if math.Abs(a.Z) <= level {
				over.Join(v, next)
			}
		}
	}
	sinks, down := make(map[int32]bool), make(map[int32]float64)
	for _, t := range m.Triangles {
		for k, v := range t {
			next := t[(k+1)%3]
			if d := m.Vertices[next].Z - m.Vertices[v].Z; d < -level {
				sinks[over.Root(v)] = true
			} else if d > level {
				sinks[over.Root(next)] = true
			}
		}
	}
	for v := range m.Vertices {
		if used[v] {
			down[over.Root(int32(v))] += looksDown[v]
		}
	}
	var found []r3.Vec
	for v, p := range m.Vertices {
		if used[v] && over.Root(int32(v)) == int32(v) && !sinks[int32(v)] && down[int32(v)] > 0 && p.Z > layer {
			found = append(found, p)
		}
	}
	return found
}

// onto turns a mesh so that what looks along the unit vector down looks down: by the least turn, and
// exactly for the frame's axes.
func (m *Mesh) onto(down r3.Vec) *Mesh {
	switch down {
	case r3.Vec{Z: -1}:
		return m
	case r3.Vec{Z: 1}:
		return m.Turned(X, 180)
	case r3.Vec{X: 1}:
		return m.Turned(Y, 90)
	case r3.Vec{X: -1}:
		return m.Turned(Y, -90)
	case r3.Vec{Y: 1}:
		return m.Turned(X, -90)
	case r3.Vec{Y: -1}:
		return m.Turned(X, 90)
	}
	axis := r3.Cross(down, r3.Vec{Z: -1})
	turn := r3.NewRotation(math.Atan2(norm(axis), -down.Z), axis)
	return m.mapped(turn.Rotate)
}

// seen is the area of the upper sides, seen from above.
func (m *Mesh) seen() float64 {
	area := 0.0
	for _, t := range m.Triangles {
		p, q, r := m.Vertices[t[0]], m.Vertices[t[1]], m.Vertices[t[2]]
		area += max(0, cross(r3.Sub(q, p), r3.Sub(r, p)).Z/2)
	}
	return area
}

// section is the area of the solid cut level at a height, and points on its border. Each triangle
// that is cut adds a side of the border, the solid on its left.
func (m *Mesh) section(z float64) (area float64, border []r2.Vec) {
	for _, t := range m.Triangles {
		var up, down r2.Vec // where the triangle's own border goes up through the cut, and down
		crossings := 0
		for k := range 3 {
			a, b := m.Vertices[t[k]], m.Vertices[t[(k+1)%3]]
			if a.Z < z == (b.Z < z) {
				continue
			}
			at := r3.Add(a, r3.Scale((z-a.Z)/(b.Z-a.Z), r3.Sub(b, a)))
			crossings++
			if a.Z < z {
				up = r2.Vec{X: at.X, Y: at.Y}
			} else {
				down = r2.Vec{X: at.X, Y: at.Y}
			}
		}
		if crossings == 2 {
			area += r2.Cross(down, up) / 2
			border = append(border, down, up)
		}
	}
	return area, border
}

// least is the least width of a convex hull: it is square to one of its sides (rotating calipers;
// Toussaint, MELECON 1983).
func least(hull []r2.Vec) float64 {
	if len(hull) < 3 {
		return 0
	}
	width := math.Inf(1)
	for i, p := range hull {
		along := r2.Unit(r2.Sub(hull[(i+1)%len(hull)], p))
		far := 0.0
		for _, q := range hull {
			far = max(far, r2.Cross(along, r2.Sub(q, p)))
		}
		width = min(width, far)
	}
	return width
}

// holds reports whether p is within a convex hull, counter-clockwise.
func holds(hull []r2.Vec, p r2.Vec) bool {
	for i, a := range hull {
		if r2.Cross(r2.Sub(hull[(i+1)%len(hull)], a), r2.Sub(p, a)) < 0 {
			return false
		}
	}
	return len(hull) > 2
}
