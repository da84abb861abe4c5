package solid

import (
	"math"
	"slices"

	"formbuck/buck/knives"
	"formbuck/buck/pieces"
	"formbuck/mesh"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// Knife meshes the bare knife, both faces, within tol mm; 0 means Tolerance.
func Knife(k *pieces.Buck, tol float64) (*mesh.Mesh, error) {
	tol = tolerance(tol)
	chord := chordShare * tol
	outline := k.Plan.Outline.Flatten(chord)
	h := handleOf(k, tol)
	lines := []relief.Line{{Points: outline, Closed: true}}
	if len(h.outline) > 0 {
		lines = append(lines, relief.Line{Points: h.outline, Closed: true})
		lines = append(lines, h.rings()...)
	}
	lines = append(lines, zoneLines(k, near(lines), chord)...)
	return build(relief.Body{Lines: lines, Spans: func(p r2.Vec) []relief.Span {
		on := k.ZoneAt(p)
		half := func(p r2.Vec) float64 { return k.HalfOn(on, p) }
		switch on {
		case knives.Beside:
			return nil
		case knives.OnHandle:
			half = h.half
		}
		return []relief.Span{{Low: negative(half), LowKey: -keyOf(on, 0), High: half, HighKey: keyOf(on, 0)}}
	}}, tol)
}

// handle is a handle whose rounded edge is facetted along its outline.
type handle struct {
	*pieces.Buck
	outline []r2.Vec
	edge    edge
}

func handleOf(k *pieces.Buck, tol float64) handle {
	m := k.Spec.Handle
	return handle{
		Buck:    k,
		outline: k.Plan.Handle.Flatten(roundShare * tol),
		edge:    edgeOf(m.Thickness/2, m.Rounding, 0, chordShare*tol),
	}
}

// half is the half thickness at p.
func (h handle) half(p r2.Vec) float64 { return h.edge.height(-h.inside(p)) }

// inside is how far p lies inside the handle's outline, told from the rounding; no more than its radius.
func (h handle) inside(p r2.Vec) float64 {
	full, r := h.Spec.Handle.Thickness/2, h.Spec.Handle.Rounding
	if r == 0 {
		return 0
	}
	sin := min(max((h.HandleHalf(p)-full)/r+1, 0), 1)
	return r * (1 - math.Sqrt(1-sin*sin))
}

// rings are the lines inside the outline at which the facets of the edge meet, so far as they are that
// far from all of the outline.
func (h handle) rings() []relief.Line {
	const near = 1e-3 // mm
	in := slices.Clone(h.outline)
	slices.Reverse(in)
	var lines []relief.Line
	for _, d := range h.edge.rings {
		if d == 0 {
			continue // the outline itself
		}
		ring := grown(in, -d, chordShare*Tolerance)
		joined := false
		for _, p := range append(ring, ring[0]) {
			if math.Abs(h.inside(p)+d) > near {
				joined = false
				continue
			}
			if !joined {
				lines = append(lines, relief.Line{})
			}
			l := &lines[len(lines)-1]
			l.Points = append(l.Points, p)
			joined = true
		}
	}
	return lines
}
