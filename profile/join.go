package profile

import (
	"gonum.org/v1/gonum/spatial/r2"
)

// chain is a row of joined strands.
type chain struct {
	path   Path
	owner  []int32 // strand of each segment; nil: all are of strand first
	first  int32
	closed bool
}

// strandAt is the strand that segment i came from.
func (c *chain) strandAt(i int) int32 {
	if c.owner == nil {
		return c.first
	}
	return c.owner[i]
}

// joined is what the strands of one layer make together.
type joined struct {
	strands    []strand
	loops      []chain
	open       []chain
	branches   []branchAt
	widest     float64 // gap that was closed, mm
	duplicates int
}

// branchAt is an end that lies with others that are joined already.
type branchAt struct {
	strand int32
	at     r2.Vec
}

// join makes chains of strands whose ends lie within the gap.
func join(in []strand, gap float64) *joined {
	j := &joined{}
	j.strands, j.duplicates = dropDuplicates(in)
	at := make([]r2.Vec, 0, 2*len(j.strands))
	open := make([]int32, 0, len(j.strands))
	for i := range j.strands {
		s := &j.strands[i]
		if s.closed {
			j.loops = append(j.loops, chain{path: s.path, first: int32(i), closed: true})
			continue
		}
		open = append(open, int32(i))
		at = append(at, s.path.Start(), s.path.End())
	}
	if len(open) == 0 {
		return j
	}
	short := func(i int) bool {
		s := &j.strands[open[i/2]]
		return len(s.path) == 1 && s.path.Length() <= 2*gap
	}
	partner, branches := matchEnds(at, gap, short)
	for _, e := range branches {
		j.branches = append(j.branches, branchAt{strand: open[e/2], at: at[e]})
	}
	for e, p := range partner {
		if p > int32(e) {
			j.widest = max(j.widest, r2.Norm(r2.Sub(at[e], at[p])))
		}
	}
	j.follow(open, at, partner)
	return j
}

// follow walks from end to partner: first the rows with a free end, then the rings.
func (j *joined) follow(open []int32, at []r2.Vec, partner []int32) {
	done := make([]bool, len(open))
	walk := func(e int32, closed bool) {
		c := chain{closed: closed, first: open[e/2]}
		for {
			k := e / 2
			done[k] = true
			c.take(&j.strands[open[k]], open[k], e&1 == 1)
			e = partner[e^1]
			if e < 0 || done[e/2] {
				break
			}
		}
		c.close()
		if c.closed {
			j.loops = append(j.loops, c)
		} else {
			j.open = append(j.open, c)
		}
	}
	for e := range at {
		if partner[e] < 0 && !done[e/2] {
			walk(int32(e), false)
		}
	}
	for k := range open {
		if !done[k] {
			walk(int32(2*k), true)
		}
	}
}

// take appends a strand, backwards where its end came first.
func (c *chain) take(s *strand, index int32, backwards bool) {
	from := len(c.path)
	n := len(s.path)
	for i := range s.path {
		if backwards {
			c.path = append(c.path, s.path[n-1-i].Reversed())
		} else {
			c.path = append(c.path, s.path[i])
		}
		c.owner = append(c.owner, index)
	}
	if from > 0 {
		meet(&c.path[from-1].B, &c.path[from].A)
	}
}

// close brings the ends of a ring together.
func (c *chain) close() {
	if c.closed {
		meet(&c.path[len(c.path)-1].B, &c.path[0].A)
	}
}

// meet moves two points to the middle between them.
func meet(a, b *r2.Vec) {
	if *a != *b {
		m := r2.Scale(0.5, r2.Add(*a, *b))
		*a, *b = m, m
	}
}
