package twin

import (
	"math"

	"formbuck/buck/pieces"

	"github.com/deadsy/sdfx/sdf"
	"github.com/deadsy/sdfx/vec/v2"
	"github.com/deadsy/sdfx/vec/v3"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// sheetStep is the distance, in mm, of the lines along the draw, and of the places asked for on them.
const sheetStep = 0.05

// Ramp is RampUnder what passes by brute force, let down at 45 degrees beside its cliffs.
func Ramp(r *pieces.RampPiece) (sdf.SDF3, error) {
	low := r2.Sub(r.Head.Min, r2.Vec{Y: 2})
	if r.Grip {
		return RampUnder(r, gripSheet(r.Knife, r2.Sub(low, r2.Vec{Y: 4}), r2.Add(r.Head.Max, r2.Vec{X: 6, Y: 6}), sheetStep, r.CantDeg).at)
	}
	return RampUnder(r, newSheet(r.Knife, low, r.Head.Max.Y+2, sheetStep, r.CantDeg).at)
}

// RampUnder is the head's box with its drafted sides below what passes, raised, less the handle, the room
// of the boss and of the drain, and the blade grown by fit and gap. Of a split ramp it is the right half.
//
// What passes is given over a point of the draw's axes. Box, handle, room and outline are exact; the surface is a height divided by sqrt 2, the normal of
// its steepest slope of 45 degrees, and the blade's face one divided by that of the bevel.
func RampUnder(r *pieces.RampPiece, passes func(q r2.Vec) float64) (sdf.SDF3, error) {
	k := r.Knife
	body := sdf.Intersect3D(head(r), sides(r, passes))
	tall := tallOf(r)
	handle, err := polygon(k.Plan.Handle)
	if err != nil {
		return nil, err
	}
	outline, err := polygon(k.Plan.Outline)
	if err != nil {
		return nil, err
	}
	switch {
	case r.Grip:
		body = sdf.Difference3D(body, handleUnder(r, handle))
		body = sdf.Difference3D(body, bladeAhead(outline, handle))
		guard, err := polygon(k.Plan.Guard)
		if err != nil {
			return nil, err
		}
		if guard != nil {
			body = sdf.Difference3D(body, prism(guard, 0, tall))
		}
	case handle != nil:
		body = sdf.Difference3D(body, prism(handle, r.Fit, tall))
	}
	room := sdf.Line2D(r.Boss.Length-r.Boss.Width, r.Boss.Width/2)
	body = sdf.Difference3D(body, placed(prism(room, 0, tall), r.Boss.Centre, 0, r.Boss.AngleDeg))
	if r.Drain != nil {
		corners := make([]v2.Vec, 0, 4)
		for _, p := range r.Drain.Room() {
			corners = append(corners, v2.Vec(p))
		}
		room, err := sdf.Polygon2D(corners)
		if err != nil {
			return nil, err
		}
		body = sdf.Difference3D(body, prism(room, 0, tall))
	}
	if body, err = trimmedOff(body, r, outline, tall); err != nil {
		return nil, err
	}
	if !r.Grip {
		body = sdf.Difference3D(body, sdf.Intersect3D(under(r, outline), within(k, r.Gap, body.BoundingBox())))
	}
	if r.Split {
		upper := field{box: everywhere, at: func(p r3.Vec) float64 { return -p.Z }}
		body = sdf.Intersect3D(body, upper)
	}
	return body, nil
}

// overlap is by how much, in mm, what a trim takes beside the steel goes into it: where both ended at one place, a sheet
// without thickness would be left between them. It is a fifth of the tolerance.
const overlap = 0.002

// trimmedOff is a body without the parts of the plan that the ramp does without.
func trimmedOff(body sdf.SDF3, r *pieces.RampPiece, outline sdf.SDF2, tall float64) (sdf.SDF3, error) {
	for _, t := range r.Trims {
		corners := make([]v2.Vec, 0, len(t.Loop))
		for _, p := range t.Loop {
			corners = append(corners, v2.Vec(p))
		}
		loop, err := sdf.Polygon2D(corners)
		if err != nil {
			return nil, err
		}
		gone := prism(loop, 0, tall)
		if t.Beside {
			steel := under(r, outline)
			gone = sdf.Intersect3D(gone, field{box: everywhere, at: func(p r3.Vec) float64 { return -steel.Evaluate(v3.Vec(p)) - overlap }})
		}
		body = sdf.Difference3D(body, gone)
	}
	return body, nil
}

// tallOf is more than half the height of the piece.
func tallOf(r *pieces.RampPiece) float64 {
	if r.Grip {
		return r.Knife.Spec.Handle.Thickness + 2*r.Rise
	}
	return r.Knife.Spec.Blade.Thickness + 2*r.Rise
}

// fillerSlope is the steepest, as a tangent, that a filler's surface falls.
const fillerSlope = 2

// handleUnder is the handle raised by the gap and grown by the fit: a plate whose edge is rounded by a true arc, told from
// its outline. Beyond a long side of the head it goes on as it is straight across.
func handleUnder(r *pieces.RampPiece, handle sdf.SDF2) sdf.SDF3 {
	m := r.Knife.Spec.Handle
	foot := m.Thickness/2 - m.Rounding + r.Gap
	return field{box: everywhere, at: func(p r3.Vec) float64 {
		q := r2.Vec{X: p.X, Y: p.Y}
		aside := handle.Evaluate(v2.Vec(r.Across(q))) - r.Fit
		in, z := min(max(r.Fit-handle.Evaluate(v2.Vec(q)), 0), m.Rounding), math.Abs(p.Z)-foot
		over := z - m.Rounding
		if in < m.Rounding && z > 0 {
			over = math.Hypot(m.Rounding-in, z) - m.Rounding
		} else if in < m.Rounding {
			over = -in
		}
		return max(aside, over)
	}}
}

// bladeAhead is the plan of the steel that is not under the handle, at every height; a hair into the handle, so that
// nothing is left between the two, and a little off the outline, since along the handle's sides both are one.
func bladeAhead(outline, handle sdf.SDF2) sdf.SDF3 {
	return field{box: everywhere, at: func(p r3.Vec) float64 {
		q := v2.Vec{X: p.X, Y: p.Y}
		return max(outline.Evaluate(q)+0.02, -flatness-handle.Evaluate(q))
	}}
}

// head is the prism of the head with its widest sides.
func head(r *pieces.RampPiece) sdf.SDF3 {
	skirt, tall := r.Skirt(), tallOf(r)
	b := r2.Box{
		Min: r2.Vec{X: r.Head.Min.X, Y: r.Head.Min.Y - skirt},
		Max: r2.Vec{X: r.Head.Max.X + skirt, Y: r.Head.Max.Y + skirt},
	}
	size := r2.Sub(b.Max, b.Min)
	box, err := sdf.Box3D(v3.Vec{X: size.X, Y: size.Y, Z: 2 * tall}, 0)
	if err != nil {
		return nil
	}
	middle := r2.Scale(0.5, r2.Add(b.Min, b.Max))
	turned := sdf.Transform3D(box, sdf.Translate3d(v3.Vec{X: middle.X, Y: middle.Y}))
	return placed(turned, r2.Vec{}, 0, r.CantDeg)
}

// sides is the space between the surface and its mirror, and between the drafted sides.
func sides(r *pieces.RampPiece, passes func(q r2.Vec) float64) sdf.SDF3 {
	draft := max(math.Tan(sdf.DtoR(r.DraftDeg)), 2e-3)
	steep := 1.0
	if r.Grip {
		steep = fillerSlope
	}
	return field{box: everywhere, at: func(p r3.Vec) float64 {
		q := r2.Rotate(r2.Vec{X: p.X, Y: p.Y}, -sdf.DtoR(r.CantDeg), r2.Vec{})
		in := r2.Vec{X: min(q.X, r.Head.Max.X), Y: min(max(q.Y, r.Head.Min.Y), r.Head.Max.Y)}
		out := r2.Norm(r2.Sub(q, in))
		if out == 0 {
			out = max(q.X-r.Head.Max.X, r.Head.Min.Y-q.Y, q.Y-r.Head.Max.Y)
		}
		above := math.Abs(p.Z) - passes(in) - r.Rise
		return max(above/math.Hypot(1, steep), (above+out/draft)/math.Sqrt(1+steep*steep+1/(draft*draft)))
	}}
}

// under is the plan of the steel grown by the fit, at every height. Beyond a long side of the head the
// piece stands on what the head stands on straight across.
func under(r *pieces.RampPiece, outline sdf.SDF2) sdf.SDF3 {
	return field{box: everywhere, at: func(p r3.Vec) float64 {
		return outline.Evaluate(v2.Vec(r.Across(r2.Vec{X: p.X, Y: p.Y}))) - r.Fit
	}}
}

// within is the space between both faces of the blade raised by the gap. It goes on beside the blade.
func within(k *pieces.Buck, gap float64, box sdf.Box3) sdf.SDF3 {
	top := stock(k, gap)
	if ground := bevel(k, gap, box); ground != nil {
		top = sdf.Intersect3D(top, ground)
	}
	return field{box: everywhere, at: func(p r3.Vec) float64 {
		return top.Evaluate(v3.Vec{X: p.X, Y: p.Y, Z: math.Abs(p.Z)})
	}}
}
