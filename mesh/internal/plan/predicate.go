package plan

import (
	"math"
	"math/bits"

	"gonum.org/v1/gonum/spatial/r2"
)

// perMM is the number of grid steps in a millimetre.
const perMM = 1 / Grid

// span is the longest side, in grid steps, that the rectangle can have: the widest bounds and the
// widest margin on both sides. The predicates are exact up to here:
//
//   - Twice the area of a triangle within a square of side s is at most s*s = 4.84e18, less than
//     2^63 = 9.22e18. The sum in orient may overflow on the way, but it is exact modulo 2^64
//     and its true value fits, so the result is right.
//   - A squared distance is at most 2*s*s = 9.68e18, less than 2^64 = 1.84e19.
//   - The determinant in inCircle is the sum of three products of the two, at most
//     6*s^4 = 1.41e38, less than 2^127 = 1.70e38.
const span = 2 * (MaxCoordinate + maxMargin) * perMM

// point is a point of the grid, in grid steps. All of the largest rectangle fits into 32 bits.
type point struct{ x, y int32 }

func finite(v r2.Vec) bool {
	return !math.IsNaN(v.X-v.X) && !math.IsNaN(v.Y-v.Y)
}

// snap rounds to the grid. The coordinates must not exceed MaxCoordinate by more than a margin.
func snap(v r2.Vec) point {
	return point{int32(math.Round(v.X * perMM)), int32(math.Round(v.Y * perMM))}
}

// vec is the point in mm: the float64 nearest to the decimal number.
func (p point) vec() r2.Vec {
	return r2.Vec{X: float64(p.x) / perMM, Y: float64(p.y) / perMM}
}

// orient is twice the area of the triangle abc: positive if c is to the left of the line from a
// to b, 0 if it is on it. Exact for points within span of each other.
func orient(a, b, c point) int64 {
	return (int64(b.x)-int64(a.x))*(int64(c.y)-int64(a.y)) -
		(int64(b.y)-int64(a.y))*(int64(c.x)-int64(a.x))
}

// inCircle tells whether d lies strictly inside the circle through the counter-clockwise triangle
// abc. Exact for points within span of each other.
func inCircle(a, b, c, d point) bool {
	ax, ay := int64(a.x)-int64(d.x), int64(a.y)-int64(d.y)
	bx, by := int64(b.x)-int64(d.x), int64(b.y)-int64(d.y)
	cx, cy := int64(c.x)-int64(d.x), int64(c.y)-int64(d.y)
	hi, lo := mul(bx*cy-by*cx, uint64(ax*ax)+uint64(ay*ay))
	h, l := mul(cx*ay-cy*ax, uint64(bx*bx)+uint64(by*by))
	lo, carry := bits.Add64(lo, l, 0)
	hi, _ = bits.Add64(hi, h, carry)
	h, l = mul(ax*by-ay*bx, uint64(cx*cx)+uint64(cy*cy))
	lo, carry = bits.Add64(lo, l, 0)
	hi, _ = bits.Add64(hi, h, carry)
	return int64(hi) > 0 || hi == 0 && lo > 0
}

// mul is the product of a signed and an unsigned number in 128 bits, two's complement.
func mul(a int64, b uint64) (hi, lo uint64) {
	hi, lo = bits.Mul64(uint64(a), b)
	return hi - b&uint64(a>>63), lo
}

// scale is d*num/den rounded to the nearest integer, halves away from zero, for 0 <= num <= den and
// den > 0.
func scale(d int64, num, den uint64) int64 {
	size := uint64(max(d, -d))
	hi, lo := bits.Mul64(size, num)
	lo, carry := bits.Add64(lo, den/2, 0)
	q, _ := bits.Div64(hi+carry, lo, den)
	if d < 0 {
		return -int64(q)
	}
	return int64(q)
}
