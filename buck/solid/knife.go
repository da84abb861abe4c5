package solid

import (
	"formbuck/buck"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Knife meshes the bare knife, both faces, within tol mm; 0 means Tolerance.
func Knife(k *buck.Knife, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	chord := chordShare * tol
	outline := k.Plan.Outline.Flatten(chord)
	handle := k.Plan.Handle.Flatten(chord)
	lines := []relief.Line{{Points: outline, Closed: true}}
	if len(handle) > 0 {
		lines = append(lines, relief.Line{Points: handle, Closed: true})
	}
	lines = append(lines, clipped(k.GrindLine(chord, overshoot), false, near(lines))...)
	return build(relief.Body{Lines: lines, Spans: func(p r2.Vec) []relief.Span {
		on := k.ZoneAt(p)
		if on == buck.Beside {
			return nil
		}
		half := func(p r2.Vec) float64 { return k.HalfOn(on, p) }
		return []relief.Span{{Low: negative(half), High: half}}
	}}, tol)
}
