package relief_test

import (
	"math"
	"slices"
	"testing"

	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// keyed is a dome on both sides of z = 0 with a lattice over part of it, a slot between two jaws and a foot all round,
// with keys of its heights or without.
func keyed(top, slot int) relief.Body {
	dome := func(p r2.Vec) float64 { return 2 - r2.Norm2(p)/20 + 0.3*math.Abs(math.Sin(p.X)) }
	neg := func(p r2.Vec) float64 { return -dome(p) }
	return relief.Body{
		Lines: []relief.Line{box(-9, -9, 9, 9), box(-2, -3, 4, 3), {Points: []r2.Vec{{X: -9, Y: 1}, {X: 9, Y: 1}}}},
		Spans: func(p r2.Vec) []relief.Span {
			switch {
			case !inBox(p, -9, -9, 9, 9):
				return nil
			case inBox(p, -2, -3, 4, 3):
				return []relief.Span{
					{Low: neg, High: flat(-0.5), LowKey: -top, HighKey: -slot},
					{Low: flat(0.5), High: dome, LowKey: slot, HighKey: top},
				}
			}
			return []relief.Span{{Low: neg, High: dome, LowKey: -top, HighKey: top}}
		},
		Lattice: &relief.Lattice{DX: 0.5, DY: 0.5, AngleDeg: 3},
	}
}

// Keys save work; the mesh is the same to the last bit.
func TestKeysChangeNothing(t *testing.T) {
	with, without := build(t, keyed(1, 2), 0.02), build(t, keyed(0, 0), 0.02)
	if len(with.Triangles) < 500 {
		t.Errorf("only %d triangles", len(with.Triangles))
	}
	if !slices.Equal(with.Vertices, without.Vertices) || !slices.Equal(with.Triangles, without.Triangles) {
		t.Errorf("%d triangles with keys, %d without", len(with.Triangles), len(without.Triangles))
	}
}
