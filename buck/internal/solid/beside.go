package solid

import (
	"formbuck/buck/pieces"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// knifeLines are the lines that part the blade and what is beside it, within the box: its outline, the
// handle's, the grind line, and beyond the outline the lines from the grind line's ends that part
// what is beside the bevel from what is beside the flat.
func knifeLines(k *pieces.Buck, box r2.Box, tol float64) []relief.Line {
	lines := clipped(k.Plan.Outline.Flatten(tol), true, box)
	lines = append(lines, clipped(k.Plan.Handle.Flatten(tol), true, box)...)
	for _, l := range partingLines(k, r2.Norm(box.Size()), tol) {
		lines = append(lines, clipped(l, false, box)...)
	}
	return lines
}

// zoneLines are the lines that part the blade's zones or along which they bend, within the box.
func zoneLines(k *pieces.Buck, box r2.Box, tol float64) (lines []relief.Line) {
	for _, l := range groundLines(k, tol) {
		lines = append(lines, clipped(l, false, box)...)
	}
	return lines
}

// groundLines are the grind lines, a little longer than they are, and where the bevel bends.
func groundLines(k *pieces.Buck, tol float64) (lines [][]r2.Vec) {
	lines = append(lines, k.GrindLines(tol, overshoot)...)
	if g := k.Plan.Guard; len(g) > 0 {
		lines = append(lines, closed(g.Flatten(tol)))
	}
	for _, l := range k.PlungeLines() {
		lines = append(lines, l[:])
	}
	return append(lines, k.RidgeLines()...)
}

// closed is a row of points back to the first.
func closed(points []r2.Vec) []r2.Vec { return append(points, points[0]) }

// partingLines are those lines, and from the grind line's ends the ones between what is beside the bevel and beside the
// flat, as far as reach from the end; none of these if that is nothing.
func partingLines(k *pieces.Buck, reach, tol float64) [][]r2.Vec {
	lines := groundLines(k, tol)
	if reach > 0 && len(lines) > 0 {
		lines = append(lines, k.PartingLines(reach+overshoot)...)
	}
	return lines
}
