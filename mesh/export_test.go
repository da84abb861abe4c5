package mesh

import "math/big"

// AboveInts is above for integer coordinates.
func AboveInts(a, b, c, d [3]int64) int {
	return above((*point)(&a), (*point)(&b), (*point)(&c), (*point)(&d))
}

// AboveExactInts is above without its filter.
func AboveExactInts(a, b, c, d [3]int64) int {
	o := (*point)(&a)
	return sidedExact((*point)(&b).minus(o), (*point)(&c).minus(o), (*point)(&d).minus(o))
}

// TurnInts is turn for integer coordinates.
func TurnInts(a, b, c [3]int64, axis int) int {
	return turn((*point)(&a), (*point)(&b), (*point)(&c), axis)
}

// TimesInts is (a * b) * c through the wide integers.
func TimesInts(a, b, c int64) *big.Int {
	x := product(a, b).times(c)
	n := big.NewInt(x.hi)
	n.Lsh(n, 64).Add(n, new(big.Int).SetUint64(x.mid))
	return n.Lsh(n, 64).Add(n, new(big.Int).SetUint64(x.lo))
}
