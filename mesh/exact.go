package mesh

import (
	"math"
	"math/bits"
)

// gridBits bounds the integer coordinates: less than 2^60 in size, so that a difference of two is
// less than 2^61, a product of three differences less than 2^183 and a 3 x 3 determinant of
// differences (six such products) less than 2^186, which 192 bits hold with sign.
const gridBits = 60

// point is a vertex on an integer grid. A struct of scalars stays in registers; an array would not.
type point struct{ x, y, z int64 }

// grid holds a mesh's vertices as integers: each coordinate times one power of two. A coordinate
// whose last bit is worth at least 2^-60 of the largest coordinate is represented exactly; that is
// every coordinate of a snapped mesh that stays within a kilometre of the origin.
type grid struct {
	mesh   *Mesh
	exp    int     // of the power of two
	factor float64 // the power of two, 0 where float64 cannot hold it
	points []point // of all vertices, once fill has been called
}

// newGrid finds the scale for the vertices, which must be finite.
func newGrid(m *Mesh) *grid {
	largest := 0.0
	for _, v := range m.Vertices {
		largest = max(largest, math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z))
	}
	_, exp := math.Frexp(largest) // largest < 2^exp
	g := &grid{mesh: m, exp: gridBits - exp}
	if f := math.Ldexp(1, g.exp); !math.IsInf(f, 0) {
		g.factor = f
	}
	return g
}

// fill scales all vertices.
func (g *grid) fill() {
	g.points = make([]point, len(g.mesh.Vertices))
	for v := range g.points {
		g.points[v] = g.point(int32(v))
	}
}

// point is a vertex.
func (g *grid) point(v int32) point {
	p := &g.mesh.Vertices[v]
	return point{g.whole(p.X), g.whole(p.Y), g.whole(p.Z)}
}

// whole is a scaled coordinate, rounded.
func (g *grid) whole(x float64) int64 {
	if g.factor == 0 {
		return int64(math.RoundToEven(math.Ldexp(x, g.exp)))
	}
	return int64(math.RoundToEven(x * g.factor))
}

// triangle is a triangle's corners. The grid must be filled.
func (g *grid) triangle(i int32) [3]point {
	t := g.mesh.Triangles[i]
	return [3]point{g.points[t[0]], g.points[t[1]], g.points[t[2]]}
}

// flat tells whether a triangle has no area.
func (g *grid) flat(t [3]int32) bool {
	a, b, c := g.point(t[0]), g.point(t[1]), g.point(t[2])
	return turn(&a, &b, &c, 0) == 0 && turn(&a, &b, &c, 1) == 0 && turn(&a, &b, &c, 2) == 0
}

// Error bounds of the floating-point filters. Each difference of two integers is exact in int64 and
// rounded once on its way to float64, which is the case that Shewchuk bounds ("Adaptive precision
// floating-point arithmetic and fast robust geometric predicates", Discrete & Computational Geometry
// 18, 1997, ccwerrboundA and o3derrboundA, with his epsilon 2^-53; from memory). They are doubled
// here, which costs nothing and covers a machine that fuses multiplication and addition.
const (
	epsilon    = 1.0 / (1 << 53)
	turnBound  = 2 * (3 + 16*epsilon) * epsilon
	sidedBound = 2 * (7 + 56*epsilon) * epsilon
)

// turn is the sign of the turn a, b, c seen along an axis, on the other two in cyclic order: +1 for
// counter-clockwise, -1 for clockwise, 0 for in line.
func turn(a, b, c *point, axis int) int {
	ab, ac := b.minus(a), c.minus(a)
	abu, abv := ab.seen(axis)
	acu, acv := ac.seen(axis)
	left, right := float64(abu)*float64(acv), float64(abv)*float64(acu)
	d, bound := left-right, turnBound*(math.Abs(left)+math.Abs(right))
	switch {
	case d > bound:
		return 1
	case d < -bound:
		return -1
	case bound == 0: // both products are zero, and a product of integers is zero only exactly
		return 0
	}
	return product(abu, acv).sub(product(abv, acu)).sign()
}

// above is the side of the plane a, b, c on which d lies: +1 where its normal (b-a) x (c-a) points,
// -1 on the other, 0 in the plane.
func above(a, b, c, d *point) int {
	return sided(b.minus(a), c.minus(a), d.minus(a))
}

// minus is p - o.
func (p *point) minus(o *point) point { return point{p.x - o.x, p.y - o.y, p.z - o.z} }

// seen is the point as it is seen along an axis.
func (p *point) seen(axis int) (u, v int64) {
	switch axis {
	case 0:
		return p.y, p.z
	case 1:
		return p.z, p.x
	default:
		return p.x, p.y
	}
}

// sided is the sign of r . (p x q), for differences of points.
func sided(p, q, r point) int {
	px, py, pz := float64(p.x), float64(p.y), float64(p.z)
	qx, qy, qz := float64(q.x), float64(q.y), float64(q.z)
	rx, ry, rz := float64(r.x), float64(r.y), float64(r.z)
	yz, zy, zx, xz, xy, yx := py*qz, pz*qy, pz*qx, px*qz, px*qy, py*qx
	det := rx*(yz-zy) + ry*(zx-xz) + rz*(xy-yx)
	bound := sidedBound * (math.Abs(rx)*(math.Abs(yz)+math.Abs(zy)) +
		math.Abs(ry)*(math.Abs(zx)+math.Abs(xz)) + math.Abs(rz)*(math.Abs(xy)+math.Abs(yx)))
	switch {
	case det > bound:
		return 1
	case det < -bound:
		return -1
	case bound == 0:
		return 0
	}
	return sidedExact(p, q, r)
}

// sidedExact is sided without its filter.
func sidedExact(p, q, r point) int {
	x := product(p.y, q.z).sub(product(p.z, q.y)).times(r.x)
	y := product(p.z, q.x).sub(product(p.x, q.z)).times(r.y)
	z := product(p.x, q.y).sub(product(p.y, q.x)).times(r.z)
	return x.add(y).add(z).sign()
}

// int128 is a signed integer in two's complement.
type int128 struct {
	hi int64
	lo uint64
}

// product is a * b.
func product(a, b int64) int128 {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	// As unsigned, a negative factor is too large by 2^64: take the other factor off above.
	return int128{hi: int64(hi) - a>>63&b - b>>63&a, lo: lo}
}

// sub is x - y.
func (x int128) sub(y int128) int128 {
	lo, borrow := bits.Sub64(x.lo, y.lo, 0)
	hi, _ := bits.Sub64(uint64(x.hi), uint64(y.hi), borrow)
	return int128{hi: int64(hi), lo: lo}
}

// sign is -1, 0 or +1.
func (x int128) sign() int { return sign(x.hi, x.lo) }

// times is x * f.
func (x int128) times(f int64) int192 {
	hi, lo := bits.Mul64(x.lo, uint64(f))
	low := int128{hi: int64(hi), lo: lo}
	if f < 0 {
		low.hi -= int64(x.lo) // f was too large by 2^64
	}
	high := product(x.hi, f)
	mid, carry := bits.Add64(uint64(low.hi), high.lo, 0)
	return int192{hi: high.hi + low.hi>>63 + int64(carry), mid: mid, lo: low.lo} // low's sign goes on above it
}

// int192 is a signed integer in two's complement.
type int192 struct {
	hi      int64
	mid, lo uint64
}

// add is x + y.
func (x int192) add(y int192) int192 {
	lo, carry := bits.Add64(x.lo, y.lo, 0)
	mid, carry := bits.Add64(x.mid, y.mid, carry)
	return int192{hi: x.hi + y.hi + int64(carry), mid: mid, lo: lo}
}

// sign is -1, 0 or +1.
func (x int192) sign() int { return sign(x.hi, x.mid|x.lo) }

// sign is the sign of a number with the given upper word and all lower ones or-ed.
func sign(hi int64, rest uint64) int {
	switch {
	case hi < 0:
		return -1
	case hi > 0 || rest > 0:
		return 1
	default:
		return 0
	}
}
