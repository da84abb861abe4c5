package solid

import (
	"math"
	"slices"

	"formbuck/buck/knives"
	"formbuck/buck/pieces"
	"formbuck/mesh/relief"

	"gonum.org/v1/gonum/spatial/r2"
)

// filler is a ramp that stands on the handle: its cheeks lie over the facets of the handle's rounded edge.
type filler struct {
	*pieces.RampPiece
	handle handle
	chord  float64
}

// body is the filler as heights over regions of the plan.
func (f *filler) body() relief.Body {
	r, k := f.RampPiece, f.Knife
	outline, leaves := leaving(r, grown(f.handle.outline, r.Fit, f.chord), true)
	lines := rampLines(r, leaves)
	box := near(lines)
	lines = append(lines, bending(lower, clipped(outline, true, box)...)...)
	for _, ring := range f.rings() {
		with, _ := leaving(r, ring, false)
		lines = append(lines, bending(lower, clipped(with, false, box)...)...)
	}
	lines = append(lines, clipped(k.Plan.Outline.Flatten(f.chord), true, box)...)
	if g := k.Plan.Guard; len(g) > 0 {
		lines = append(lines, clipped(g.Flatten(f.chord), true, box)...)
	}
	if r.Fit > 0 { // to where the blade begins
		lines = append(lines, clipped(f.handle.outline, true, box)...)
	}
	for _, room := range rooms(r, f.chord) {
		lines = append(lines, clipped(room.Points, room.Closed, box)...)
	}
	first, dx, dy := r.Nodes()
	return relief.Body{
		Lines: lines, Spans: f.spans,
		Lattice: &relief.Lattice{Origin: first, AngleDeg: r.CantDeg, DX: dx, DY: dy, Bends: upper},
	}
}

func (f *filler) spans(p r2.Vec) []relief.Span {
	switch f.BaseAt(p) {
	case pieces.Steel:
		cheek := relief.Span{
			Low: f.under, LowMarks: lower, LowKey: keyOf(knives.OnHandle, 0),
			High: f.Surface, HighMarks: upper, HighKey: topKey,
		}
		if f.Split {
			return []relief.Span{cheek}
		}
		return []relief.Span{mirrored(cheek), cheek}
	case pieces.Gap:
		return []relief.Span{besideBlade(f.RampPiece, f.Surface, topKey)}
	default:
		return nil
	}
}

// under is the cheeks' underside at p.
func (f *filler) under(p r2.Vec) float64 { return f.handle.edge.height(-f.Inside(p)) + f.Gap }

// rings are the lines along which the facets of the underside meet, in so far as they are that far from all of the
// handle's outline.
func (f *filler) rings() (lines [][]r2.Vec) {
	const close = 1e-3 // mm
	in := slices.Clone(f.handle.outline)
	slices.Reverse(in)
	for _, d := range f.handle.edge.rings {
		if d == 0 {
			continue // the outline itself
		}
		var ring []r2.Vec
		if deep := -d - f.Fit; deep > 0 {
			ring = grown(in, deep, f.chord)
		} else {
			ring = grown(f.handle.outline, -deep, f.chord)
		}
		var line []r2.Vec
		for _, p := range append(ring, ring[0]) {
			if math.Abs(f.Inside(p)+d) <= close {
				line = append(line, p)
				continue
			}
			if len(line) > 1 {
				lines = append(lines, line)
			}
			line = nil
		}
		if len(line) > 1 {
			lines = append(lines, line)
		}
	}
	return lines
}
