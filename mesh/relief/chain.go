package relief

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// thinned are the pieces of the feet with as few points as they need: where a foot crosses a side of
// a triangle that is part of no line it needs no point, unless it bends there.
func (w *work) thinned(feet [][2]footing) [][2]footing {
	c := chainer{work: w, at: make(map[[2]int][]int), feet: feet, done: make([]bool, len(feet))}
	for i, f := range feet {
		for n := range f {
			c.at[f[n].edge] = append(c.at[f[n].edge], i)
		}
	}
	var out [][2]footing
	for i, f := range feet { // from the points that must stay
		for n := range f {
			if !c.done[i] && c.stays(f[n]) {
				out = append(out, simplified(c.chain(i, n))...)
			}
		}
	}
	for i := range feet { // and round what is left
		if !c.done[i] {
			out = append(out, simplified(c.chain(i, 0))...)
		}
	}
	return out
}

// chainer strings pieces of feet together.
type chainer struct {
	*work
	feet [][2]footing
	at   map[[2]int][]int // the pieces that end on a side, or at a corner
	done []bool
}

// stays tells whether a point must stay where it is: at a corner, on a line, or where a foot ends or
// two meet.
func (c *chainer) stays(f footing) bool {
	return f.edge[0] == f.edge[1] || len(c.at[f.edge]) != 2 || c.plan.Lined(f.edge[0], f.edge[1])
}

// chain is the foot from end n of piece i on, to the next point that must stay, or all round.
func (c *chainer) chain(i, n int) []footing {
	chain := []footing{c.feet[i][n]}
	for {
		c.done[i] = true
		next := c.feet[i][1-n]
		chain = append(chain, next)
		if c.stays(next) {
			return chain
		}
		at := c.at[next.edge]
		j := at[0] + at[1] - i
		if c.done[j] {
			return chain
		}
		n = 0
		if c.feet[j][1].edge == next.edge {
			n = 1
		}
		i = j
	}
}

// simplified are the pieces of a chain, each as long as no point of the foot that it passes is off it.
func simplified(chain []footing) [][2]footing {
	var out [][2]footing
	for from := 0; from+1 < len(chain); {
		to := from + 1
		for to+1 < len(chain) && chain[to+1].edge != chain[from].edge && straight(chain[from:to+2]) {
			to++
		}
		out = append(out, [2]footing{chain[from], chain[to]})
		from = to
	}
	return out
}

// straight tells whether the points between the first and the last lie on a line with them: within
// half of what points are taken for one by, in plan, so that the foot passes no point of the plan on
// another side than it did, and as closely in height.
func straight(chain []footing) bool {
	a, b := chain[0], chain[len(chain)-1]
	along := r2.Sub(b.at, a.at)
	for _, f := range chain[1 : len(chain)-1] {
		u := r2.Dot(r2.Sub(f.at, a.at), along) / r2.Norm2(along)
		if _, off := onSide(a.at, b.at, f.at); off > nearby/2 || math.Abs(f.z-(1-u)*a.z-u*b.z) > nearby/2 {
			return false
		}
	}
	return true
}
