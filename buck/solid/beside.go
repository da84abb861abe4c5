package solid

import (
	"math"

	"formbuck/buck"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// knifeLines are the lines that part the blade and what is beside it, within the box: its outline, the
// handle's, the grind line, and beyond the outline the lines from the grind line's ends that part
// what is beside the bevel from what is beside the flat.
func knifeLines(k *buck.Knife, box r2.Box, tol float64) []relief.Line {
	lines := clipped(k.Plan.Outline.Flatten(tol), true, box)
	lines = append(lines, clipped(k.Plan.Handle.Flatten(tol), true, box)...)
	for _, l := range partingLines(k, r2.Norm(box.Size()), tol) {
		lines = append(lines, clipped(l, false, box)...)
	}
	return lines
}

// zoneLines are the lines that part the blade's zones or along which they bend, within the box.
func zoneLines(k *buck.Knife, box r2.Box, tol float64) (lines []relief.Line) {
	for _, l := range groundLines(k, tol) {
		lines = append(lines, clipped(l, false, box)...)
	}
	return lines
}

// groundLines are the grind line, a little longer than it is, and where the bevel bends.
func groundLines(k *buck.Knife, tol float64) (lines [][]r2.Vec) {
	if l := k.GrindLine(tol, overshoot); len(l) > 0 {
		lines = append(lines, l)
	}
	for _, l := range k.PlungeLines() {
		lines = append(lines, l[:])
	}
	return append(lines, k.RidgeLines()...)
}

// partingLines are those lines, and from the grind line's ends the ones between what is beside the bevel and beside the
// flat, as far as reach from the end; none of these if that is nothing.
func partingLines(k *buck.Knife, reach, tol float64) [][]r2.Vec {
	lines := groundLines(k, tol)
	if reach > 0 && len(lines) > 0 {
		ends := k.GrindLine(tol, 0)
		lines = append(lines, beside(k, ends[0], reach+overshoot), beside(k, ends[len(ends)-1], reach+overshoot))
	}
	return lines
}

// beside is the line from an end of the grind line outwards, as far as reach, along which what lies
// beside the bevel meets what lies beside the flat. It is straight but for its beginning, and found
// on circles round the end, each of three times the radius of the one before.
func beside(k *buck.Knife, end r2.Vec, reach float64) []r2.Vec {
	line := []r2.Vec{end}
	var towards r2.Vec
	for radius := 0.03; ; radius *= 3 {
		p, ok := parting(k, end, min(radius, reach), towards)
		if ok {
			line = append(line, p)
			towards = r2.Sub(p, end)
		}
		if radius >= reach {
			return line
		}
	}
}

// parting is the point of a circle, beside the knife, at which the zone that the blade would be in
// changes: of several the one that is the nearest to a direction.
func parting(k *buck.Knife, centre r2.Vec, radius float64, towards r2.Vec) (best r2.Vec, found bool) {
	const steps = 48
	at := func(turn float64) r2.Vec {
		sin, cos := math.Sincos(2 * math.Pi * turn / steps)
		return r2.Add(centre, r2.Scale(radius, r2.Vec{X: cos, Y: sin}))
	}
	look := func(turn float64) (on buck.Zone, beside bool) {
		if p := at(turn); !k.Holds(p) {
			return k.Blade(p), true
		}
		return on, false
	}
	last, wasBeside := look(0)
	for i := range steps {
		low, high, on, from := float64(i), float64(i+1), last, wasBeside
		if last, wasBeside = look(high); !from || !wasBeside || last == on {
			continue
		}
		for range 30 {
			if mid := (low + high) / 2; k.Blade(at(mid)) == on {
				low = mid
			} else {
				high = mid
			}
		}
		p := at(low)
		if !found || r2.Dot(towards, r2.Sub(p, best)) > 0 {
			best, found = p, true
		}
	}
	return best, found
}
