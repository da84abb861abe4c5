// Package witness measures what formbuck wrote, from its files alone: print files (STL), drawings (DXF) and answers (JSON).
// It shares no code with what it judges and takes the straight way where that takes the quick one: heights are read off
// triangles on a grid, the formed sheet is a ball rolled over every cell, what passes is looked at cell by cell.
//
// Lengths are mm, in the blade's axes; heights are taken from the middle plane, on either face upwards.
package witness

import (
	"encoding/binary"
	"fmt"
	"math"
)

// Triangle is one triangle of a print file.
type Triangle [3][3]float64

// STL reads a binary STL.
func STL(data []byte) ([]Triangle, error) {
	const head, each = 84, 50
	if len(data) < head {
		return nil, fmt.Errorf("%d bytes are no binary STL", len(data))
	}
	n := int(binary.LittleEndian.Uint32(data[80:]))
	if len(data) != head+n*each {
		return nil, fmt.Errorf("%d triangles do not take %d bytes", n, len(data))
	}
	all := make([]Triangle, n)
	for i := range all {
		at := data[head+i*each+12:]
		for v := range 3 {
			for c := range 3 {
				all[i][v][c] = float64(math.Float32frombits(binary.LittleEndian.Uint32(at[(3*v+c)*4:])))
			}
		}
	}
	return all, nil
}

// Body is what a print file holds: whether it is closed, in how many bodies, and how much.
type Body struct {
	Open   int // sides of triangles that no other triangle has, or more than one
	Bodies int
	Volume float64 // mm3
}

// Measure goes through the sides of all triangles.
func Measure(all []Triangle) Body {
	ends := map[[3]float64]int{}
	var sets []int
	find := func(i int) int {
		for sets[i] != i {
			i = sets[i]
		}
		return i
	}
	number := func(p [3]float64) int {
		i, ok := ends[p]
		if !ok {
			i = len(sets)
			ends[p] = i
			sets = append(sets, i)
		}
		return i
	}
	sides := map[[2]int]int{}
	var b Body
	for _, t := range all {
		v := [3]int{number(t[0]), number(t[1]), number(t[2])}
		for i := range 3 {
			sides[[2]int{v[i], v[(i+1)%3]}]++
			sets[find(v[i])] = find(v[(i+1)%3])
		}
		a, c, d := t[0], t[1], t[2]
		b.Volume += (a[0]*(c[1]*d[2]-c[2]*d[1]) - a[1]*(c[0]*d[2]-c[2]*d[0]) + a[2]*(c[0]*d[1]-c[1]*d[0])) / 6
	}
	for s, n := range sides {
		if n != 1 || sides[[2]int{s[1], s[0]}] != 1 {
			b.Open++
		}
	}
	for i := range sets {
		if find(i) == i {
			b.Bodies++
		}
	}
	return b
}
