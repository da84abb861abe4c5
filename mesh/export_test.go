package mesh

import "math/big"

// pointOf is a point of integer coordinates.
func pointOf(a [3]int64) *point { return &point{a[0], a[1], a[2]} }

// AboveInts is above for integer coordinates.
func AboveInts(a, b, c, d [3]int64) int {
	return above(pointOf(a), pointOf(b), pointOf(c), pointOf(d))
}

// AboveExactInts is above without its filter.
func AboveExactInts(a, b, c, d [3]int64) int {
	o := pointOf(a)
	return sidedExact(pointOf(b).minus(o), pointOf(c).minus(o), pointOf(d).minus(o))
}

// TurnInts is turn for integer coordinates.
func TurnInts(a, b, c [3]int64, axis int) int {
	return turn(pointOf(a), pointOf(b), pointOf(c), axis)
}

// TimesInts is (a * b) * c through the wide integers.
func TimesInts(a, b, c int64) *big.Int {
	x := product(a, b).times(c)
	n := big.NewInt(x.hi)
	n.Lsh(n, 64).Add(n, new(big.Int).SetUint64(x.mid))
	return n.Lsh(n, 64).Add(n, new(big.Int).SetUint64(x.lo))
}

// CellsMeet tells whether the cells of two boxes meet, on a grid over a third one that holds both.
func CellsMeet(all, a, b [6]float32) bool {
	on := newCeller((*box)(&all))
	x, y := on.cell((*box)(&a)), on.cell((*box)(&b))
	return x.meets(&y)
}
