package mesh_test

import (
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"formbuck/mesh"
)

// limit is the largest grid coordinate.
const limit = 1<<60 - 1

// coordinate draws from the whole range, from small numbers and from numbers that differ little, so
// that every stage of the predicates comes up.
func coordinate() *rapid.Generator[int64] {
	return rapid.OneOf(rapid.Int64Range(-limit, limit), rapid.Int64Range(-3, 3),
		rapid.Int64Range(limit-3, limit), rapid.Int64Range(-limit, -limit+3), rapid.Int64Range(1<<40-2, 1<<40+2))
}

func points(t *rapid.T, n int) [][3]int64 {
	out := make([][3]int64, n)
	for i := range out {
		for k := range 3 {
			out[i][k] = coordinate().Draw(t, "x")
		}
	}
	return out
}

// bigDet is the sign of the determinant of rows p-o.
func bigDet(o [3]int64, rows ...[3]int64) int {
	var d [3][3]*big.Int
	for i := range d {
		for k := range d[i] {
			d[i][k] = new(big.Int).Sub(big.NewInt(rows[i][k]), big.NewInt(o[k]))
		}
	}
	sum := new(big.Int)
	for k := range 3 {
		l, m := (k+1)%3, (k+2)%3
		minor := new(big.Int).Sub(new(big.Int).Mul(d[1][l], d[2][m]), new(big.Int).Mul(d[1][m], d[2][l]))
		sum.Add(sum, minor.Mul(minor, d[0][k]))
	}
	return sum.Sign()
}

func TestPredicatesAgainstBigIntegers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := points(t, 4)
		want := bigDet(p[0], p[1], p[2], p[3])
		if got := mesh.AboveInts(p[0], p[1], p[2], p[3]); got != want {
			t.Fatalf("above %v: %d, want %d", p, got, want)
		}
		if got := mesh.AboveExactInts(p[0], p[1], p[2], p[3]); got != want {
			t.Fatalf("above without filter %v: %d, want %d", p, got, want)
		}
		for axis := range 3 {
			normal := p[0]
			normal[axis]++
			want := bigDet(p[0], p[1], p[2], normal)
			if got := mesh.TurnInts(p[0], p[1], p[2], axis); got != want {
				t.Fatalf("turn %v about %d: %d, want %d", p[:3], axis, got, want)
			}
		}
	})
}

// Points in a common plane, or one step beside it, which no floating-point filter can tell.
func TestAboveNearPlane(t *testing.T) {
	small := rapid.Int64Range(-1<<28, 1<<28)
	rapid.Check(t, func(t *rapid.T) {
		var p [4][3]int64
		i, j := small.Draw(t, "i"), small.Draw(t, "j")
		for k := range 3 {
			u, v := small.Draw(t, "u"), small.Draw(t, "v")
			p[0][k] = small.Draw(t, "o")
			p[1][k], p[2][k] = p[0][k]+u, p[0][k]+v
			p[3][k] = p[0][k] + i*u + j*v
		}
		if got := mesh.AboveInts(p[0], p[1], p[2], p[3]); got != 0 {
			t.Fatalf("%v: %d in the plane", p, got)
		}
		p[3][rapid.IntRange(0, 2).Draw(t, "axis")] += int64(1 - 2*rapid.IntRange(0, 1).Draw(t, "way"))
		if got, want := mesh.AboveInts(p[0], p[1], p[2], p[3]), bigDet(p[0], p[1], p[2], p[3]); got != want {
			t.Fatalf("%v: %d beside the plane, want %d", p, got, want)
		}
	})
}

func TestWideProduct(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := coordinate().Draw(t, "a"), coordinate().Draw(t, "b"), coordinate().Draw(t, "c")
		want := big.NewInt(a)
		want.Mul(want, big.NewInt(b)).Mul(want, big.NewInt(c))
		if got := mesh.TimesInts(a, b, c); got.Cmp(want) != 0 {
			t.Fatalf("%d * %d * %d = %d, want %d", a, b, c, got, want)
		}
	})
}

// Points in line, or one step beside the line.
func TestTurnNearLine(t *testing.T) {
	small := rapid.Int64Range(-1<<29, 1<<29)
	rapid.Check(t, func(t *rapid.T) {
		var p [3][3]int64
		i := small.Draw(t, "i")
		axis := rapid.IntRange(0, 2).Draw(t, "axis")
		for k := range 3 {
			u := small.Draw(t, "u")
			p[0][k] = small.Draw(t, "o")
			p[1][k], p[2][k] = p[0][k]+u, p[0][k]+i*u
		}
		if got := mesh.TurnInts(p[0], p[1], p[2], axis); got != 0 {
			t.Fatalf("%v: %d in line", p, got)
		}
		p[2][(axis+1)%3] += int64(1 - 2*rapid.IntRange(0, 1).Draw(t, "way"))
		normal := p[0]
		normal[axis]++
		if got, want := mesh.TurnInts(p[0], p[1], p[2], axis), bigDet(p[0], p[1], p[2], normal); got != want {
			t.Fatalf("%v: %d beside the line, want %d", p, got, want)
		}
	})
}
