// Package solid turns the pieces of a forming buck, and the knife itself, into meshes. It is the one
// place where what package buck computes meets how package mesh describes a solid.
//
// Meshes are in the blade's frame, on the right face; the left face's piece is the mirror in z = 0.
package solid

import (
	"math"
	"slices"

	"formbuck/buck/knives"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Tolerance is how close, in mm, a mesh comes to its piece where the caller asks for nothing else. Our own, no source.
const Tolerance = 0.01

// chordShare is the share of the tolerance that the chords of a line may take. Where a surface bends
// both ways the chords of the lines along it and across it add up. Our own, no source.
const chordShare = 0.4

// Marks of lines and heights: which lines bend which surfaces. Of a piece with jaws, upper are the
// surfaces that the sheet comes to lie on and lower those that lie on the blade.
const (
	upper relief.Marks = 1 << iota
	lower
)

// bending are the lines, bending only the surfaces with the marks.
func bending(m relief.Marks, lines ...relief.Line) []relief.Line {
	marked := slices.Clone(lines)
	for i := range marked {
		marked[i].Bends = m
	}
	return marked
}

// build meshes a body.
func build(b relief.Body, tol float64) (*mesh.Mesh, error) {
	return relief.Build(b, relief.Options{Tolerance: tol})
}

func tolerance(tol float64) float64 {
	if tol <= 0 {
		return Tolerance
	}
	return tol
}

// near is the box of the lines, a little wider.
func near(lines []relief.Line) r2.Box {
	box := r2.Box{
		Min: r2.Vec{X: math.Inf(1), Y: math.Inf(1)},
		Max: r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)},
	}
	for _, l := range lines {
		for _, p := range l.Points {
			box.Min = r2.Vec{X: min(box.Min.X, p.X), Y: min(box.Min.Y, p.Y)}
			box.Max = r2.Vec{X: max(box.Max.X, p.X), Y: max(box.Max.Y, p.Y)}
		}
	}
	return box
}

// overshoot is how far, in mm, a line is led beyond what it ends on, so that it surely crosses it. Our own, no source.
const overshoot = 0.05

// Keys of heights. What lies on the blade has one for each zone of it and another where it is engraved.
const (
	topKey = 1 + iota // the surface that the sheet comes to lie on
	floorKey
	zoneKey
)

// keyOf is the key of what lies on a zone of the knife, by so much deeper for a mark.
func keyOf(on knives.Zone, deep float64) int {
	if deep > 0 {
		return zoneKey + 2*int(on) + 1
	}
	return zoneKey + 2*int(on)
}

// level is a constant height.
func level(z float64) relief.Height { return func(r2.Vec) float64 { return z } }

// negative is a height mirrored in z = 0.
func negative(h relief.Height) relief.Height {
	return func(p r2.Vec) float64 { return -h(p) }
}

// mirrored is a span mirrored in z = 0.
func mirrored(s relief.Span) relief.Span {
	return relief.Span{
		Low: negative(s.High), LowMarks: s.HighMarks, LowKey: -s.HighKey,
		High: negative(s.Low), HighMarks: s.LowMarks, HighKey: -s.LowKey,
	}
}
