package profile

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// sameWithin is how near two pieces lie, in mm, to be one drawn twice.
const sameWithin = 0.005

// dropDuplicates leaves out segments that are drawn a second time, in either direction, by another
// strand. A closed strand goes as a whole or not at all; an open one falls apart where a segment goes.
func dropDuplicates(in []strand) (out []strand, dropped int) {
	if len(in) < 2 {
		return in, 0
	}
	d := newDuplicates(in)
	out = make([]strand, 0, len(in))
	for _, closed := range []bool{true, false} {
		for i := range in {
			if in[i].closed == closed {
				d.mark(in, i)
			}
		}
	}
	for i := range in {
		s := in[i]
		twice := d.twice[d.first[i] : d.first[i]+len(s.path)]
		n := 0
		for _, t := range twice {
			if t {
				n++
			}
		}
		switch {
		case n == 0 || s.closed && n < len(twice):
			out = append(out, s)
			continue
		case n < len(twice):
			out = appendRest(out, s, twice)
		}
		dropped += n
	}
	return out, dropped
}

// appendRest adds what is left of an open strand as strands of their own.
func appendRest(out []strand, s strand, twice []bool) []strand {
	from := 0
	for k := 0; k <= len(twice); k++ {
		if k < len(twice) && !twice[k] {
			continue
		}
		if k > from {
			part := s
			part.path = s.path[from:k:k]
			out = append(out, part)
		}
		from = k + 1
	}
	return out
}

// duplicates finds segments by the middle between their ends.
type duplicates struct {
	in    []strand
	first []int  // index of each strand's first segment
	twice []bool // by segment
	owner []int32
	head  []int32
	next  []int32
}

func newDuplicates(in []strand) *duplicates {
	d := &duplicates{in: in, first: make([]int, len(in))}
	n := 0
	for i := range in {
		d.first[i] = n
		n += len(in[i].path)
	}
	size := 16
	for size < 2*n {
		size *= 2
	}
	d.twice, d.owner, d.next = make([]bool, n), make([]int32, n), make([]int32, n)
	d.head = make([]int32, size)
	for i := range d.head {
		d.head[i] = -1
	}
	return d
}

// mark enters the segments of strand i, after marking those that an earlier strand has.
func (d *duplicates) mark(in []strand, i int) {
	for k, s := range in[i].path {
		d.twice[d.first[i]+k] = d.has(s, int32(i))
	}
	for k, s := range in[i].path {
		at := d.first[i] + k
		d.owner[at] = int32(i)
		x, y := d.cell(s)
		h := d.hash(x, y)
		d.next[at], d.head[h] = d.head[h], int32(at)
	}
}

// cell is where the middle between the ends lies on a grid of four times sameWithin.
func (d *duplicates) cell(s Segment) (x, y float64) {
	const size = 4 * sameWithin
	return math.Floor((s.A.X + s.B.X) / 2 / size), math.Floor((s.A.Y + s.B.Y) / 2 / size)
}

func (d *duplicates) hash(x, y float64) int {
	h := uint64(int64(x))*0x9E3779B97F4A7C15 ^ uint64(int64(y))*0xC2B2AE3D27D4EB4F
	h ^= h >> 31
	h *= 0xBF58476D1CE4E5B9
	return int((h >> 32) & uint64(len(d.head)-1))
}

// has reports whether an entered segment of another strand is the same as s. At most crowd segments
// of one place are looked at.
func (d *duplicates) has(s Segment, strand int32) bool {
	const size = 4 * sameWithin
	mx, my := (s.A.X+s.B.X)/2, (s.A.Y+s.B.Y)/2
	x0, x1 := math.Floor((mx-sameWithin)/size), math.Floor((mx+sameWithin)/size)
	y0, y1 := math.Floor((my-sameWithin)/size), math.Floor((my+sameWithin)/size)
	for x := x0; x <= x1; x++ {
		for y := y0; y <= y1; y++ {
			n := 0
			for at := d.head[d.hash(x, y)]; at >= 0 && n < 4*crowd; at = d.next[at] {
				n++
				o := d.owner[at]
				if o != strand && sameSegment(s, d.in[o].path[int(at)-d.first[o]]) {
					return true
				}
			}
		}
	}
	return false
}

// sameSegment reports whether two segments lie on each other, in either direction.
func sameSegment(a, b Segment) bool {
	within := func(p, q r2.Vec) bool { return r2.Norm2(r2.Sub(p, q)) <= sameWithin*sameWithin }
	if !within(a.A, b.A) || !within(a.B, b.B) {
		b = b.Reversed()
		if !within(a.A, b.A) || !within(a.B, b.B) {
			return false
		}
	}
	return within(a.At(0.5), b.At(0.5)) && within(a.At(0.25), b.At(0.25))
}
