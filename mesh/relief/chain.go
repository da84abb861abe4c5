package relief

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// thinned are the pieces of the feet with as few points as they need: where a foot crosses a side of
// a triangle that is part of no line it needs no point, unless it bends there.
func (w *work) thinned(feet [][2]footing) [][2]footing {
	if len(feet) == 0 {
		return nil
	}
	c := chainer{
		work: w, at: make(map[[2]int]joint, len(feet)), feet: feet, done: make([]bool, len(feet)), room: make([]footing, 0, len(feet)+1),
	}
	for i, f := range feet {
		for n := range f {
			j := c.at[f[n].edge]
			c.at[f[n].edge] = joint{j.count + 1, j.sum + i}
		}
	}
	out := make([][2]footing, 0, len(feet))
	for i, f := range feet { // from the points that must stay
		for n := range f {
			if !c.done[i] && c.stays(f[n]) {
				out = simplified(out, c.chain(i, n))
			}
		}
	}
	for i := range feet { // and round what is left
		if !c.done[i] {
			out = simplified(out, c.chain(i, 0))
		}
	}
	return out
}

// chainer strings pieces of feet together.
type chainer struct {
	*work
	feet [][2]footing
	at   map[[2]int]joint // on a side, or at a corner
	done []bool
	room []footing
}

// joint is how many pieces of feet end at a place, and the sum of their numbers.
type joint struct{ count, sum int }

// stays tells whether a point must stay where it is: at a corner, on a line, or where a foot ends or
// two meet.
func (c *chainer) stays(f footing) bool {
	return f.edge[0] == f.edge[1] || c.at[f.edge].count != 2 || c.plan.Lined(f.edge[0], f.edge[1])
}

// chain is the foot from end n of piece i on, to the next point that must stay, or all round. It holds until the next.
func (c *chainer) chain(i, n int) []footing {
	c.room = append(c.room[:0], c.feet[i][n])
	for {
		c.done[i] = true
		next := c.feet[i][1-n]
		c.room = append(c.room, next)
		if c.stays(next) {
			return c.room
		}
		j := c.at[next.edge].sum - i
		if c.done[j] {
			return c.room
		}
		n = 0
		if c.feet[j][1].edge == next.edge {
			n = 1
		}
		i = j
	}
}

// simplified adds the pieces of a chain to a list, each as long as no point of the foot that it passes is off it.
func simplified(out [][2]footing, chain []footing) [][2]footing {
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
