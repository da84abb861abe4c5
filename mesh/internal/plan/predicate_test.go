package plan_test

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"formbuck/mesh/internal/plan"
)

// far is the coordinate of the corners of the largest rectangle, in grid steps.
const far = int32(plan.Span / 2)

type quad [4][2]int32

// nearLine are four points on a line, the last two off by a step at most.
func nearLine(rnd *rand.Rand) quad {
	dx, dy := rnd.Int32N(2000)-1000, rnd.Int32N(2000)-1000
	m, n := rnd.Int32N(500000), rnd.Int32N(500000)
	x, y := rnd.Int32N(1000), rnd.Int32N(1000)
	return quad{
		{x, y},
		{x + m*dx, y + m*dy},
		{x - n*dx + rnd.Int32N(3) - 1, y - n*dy + rnd.Int32N(3) - 1},
		{x + n*dx + rnd.Int32N(3) - 1, y + n*dy + rnd.Int32N(3) - 1},
	}
}

// nearCircle are four points of a circle with 324 points of the grid on it, the last moved by a
// step at most. The radius is a product of primes of the form 4k+1, each the long side of a
// Pythagorean triangle.
func nearCircle(rnd *rand.Rand) quad {
	turns := [][2]int64{{3, 4}, {5, 12}, {8, 15}, {20, 21}, {12, 35}, {9, 40}}
	var q quad
	for i := range q {
		x, y := int64(15), int64(0) // radius 15*5*13*17*29*37*41
		for _, t := range turns {
			u, v := t[0], t[1]
			if rnd.IntN(2) == 0 {
				u, v = v, u
			}
			if rnd.IntN(2) == 0 {
				u = -u
			}
			x, y = x*u-y*v, x*v+y*u
		}
		q[i] = [2]int32{int32(x), int32(y)}
	}
	q[3][0] += rnd.Int32N(3) - 1
	q[3][1] += rnd.Int32N(3) - 1
	return q
}

// corner are points next to the corners of the largest rectangle.
func corner(rnd *rand.Rand) quad {
	var q quad
	for i := range q {
		for k := range q[i] {
			q[i][k] = (far - rnd.Int32N(2)) * (1 - 2*rnd.Int32N(2))
		}
	}
	return q
}

func anywhere(rnd *rand.Rand) quad {
	var q quad
	for i := range q {
		for k := range q[i] {
			q[i][k] = rnd.Int32N(2*(far/2)) - far/2
		}
	}
	return q
}

func tiny(rnd *rand.Rand) quad {
	var q quad
	for i := range q {
		for k := range q[i] {
			q[i][k] = rnd.Int32N(5) - 2
		}
	}
	return q
}

var families = []struct {
	name string
	make func(*rand.Rand) quad
}{
	{"near a line", nearLine},
	{"near a circle", nearCircle},
	{"corners", corner},
	{"anywhere", anywhere},
	{"tiny", tiny},
}

// The predicates agree with whole numbers of any size, in all cases that a sign can have.
func TestPredicates(t *testing.T) {
	for _, f := range families {
		t.Run(f.name, func(t *testing.T) {
			rnd := rand.New(rand.NewPCG(3, 4))
			var signs [3]int
			var circle [2]int
			for range 20000 {
				q := f.make(rnd)
				sign := area2(q[0], q[1], q[2]).Sign()
				signs[sign+1]++
				if got := plan.Orient(q[0], q[1], q[2]); got != sign {
					t.Fatalf("orient %v: %d, want %d", q, got, sign)
				}
				if sign < 0 {
					q[0], q[1] = q[1], q[0]
				}
				want := inside(q[0], q[1], q[2], q[3])
				if want {
					circle[1]++
				} else {
					circle[0]++
				}
				if got := plan.InCircle(q[0], q[1], q[2], q[3]); got != want {
					t.Fatalf("in circle %v: %v, want %v", q, got, want)
				}
			}
			if signs[0] == 0 || signs[2] == 0 || circle[0] == 0 || circle[1] == 0 {
				t.Errorf("the family tests too little: signs %v, in circle %v", signs, circle)
			}
		})
	}
}

// In float64 some of these go wrong: the test above is not won by luck.
func TestFloatsWouldNotDo(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	wrong := 0
	for range 20000 {
		q := nearCircle(rnd)
		if area2(q[0], q[1], q[2]).Sign() <= 0 {
			continue
		}
		if naiveInCircle(q) != inside(q[0], q[1], q[2], q[3]) {
			wrong++
		}
	}
	if wrong < 100 {
		t.Errorf("float64 gets %d of them wrong", wrong)
	}
}

func naiveInCircle(q quad) bool {
	var x, y, l [3]float64
	for i := range x {
		x[i], y[i] = float64(q[i][0])-float64(q[3][0]), float64(q[i][1])-float64(q[3][1])
		l[i] = x[i]*x[i] + y[i]*y[i]
	}
	return l[0]*(x[1]*y[2]-y[1]*x[2])+l[1]*(x[2]*y[0]-y[2]*x[0])+l[2]*(x[0]*y[1]-y[0]*x[1]) > 0
}

// The rounded crossing is within half a step of the true one in x and in y, and there is one if
// and only if each line has the ends of the other strictly on its two sides.
func TestCrossing(t *testing.T) {
	for _, f := range families {
		t.Run(f.name, func(t *testing.T) {
			rnd := rand.New(rand.NewPCG(7, 8))
			count := 0
			for range 20000 {
				q := f.make(rnd)
				a, b, c, d := q[0], q[1], q[2], q[3]
				oc, od := area2(a, b, c), area2(a, b, d)
				want := oc.Sign()*od.Sign() < 0 && area2(c, d, a).Sign()*area2(c, d, b).Sign() < 0
				p, got := plan.Crossing(a, b, c, d)
				if got != want {
					t.Fatalf("crossing %v: %v, want %v", q, got, want)
				}
				if !got {
					continue
				}
				count++
				u := new(big.Rat).SetFrac(oc, new(big.Int).Sub(oc, od))
				for k := range p {
					at := new(big.Rat).SetInt64(int64(d[k]) - int64(c[k]))
					at.Mul(at, u)
					at.Sub(at, new(big.Rat).SetInt64(int64(p[k])-int64(c[k])))
					if at.Abs(at).Cmp(big.NewRat(1, 2)) > 0 {
						t.Fatalf("crossing %v at %v: off by %v", q, p, at)
					}
				}
			}
			if count < 100 {
				t.Errorf("only %d crossings", count)
			}
		})
	}
}
