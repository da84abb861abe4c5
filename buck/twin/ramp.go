package twin

import (
	"math"

	"formbuck/buck"

	"github.com/deadsy/sdfx/sdf"
	"github.com/deadsy/sdfx/vec/v2"
	"github.com/deadsy/sdfx/vec/v3"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// sheetStep is the distance, in mm, of the lines along the draw, and of the places asked for on them.
const sheetStep = 0.05

// Ramp is RampUnder what passes by brute force, let down at 45 degrees beside its cliffs.
func Ramp(r *buck.RampPiece) (sdf.SDF3, error) {
	low := r2.Sub(r.Head.Min, r2.Vec{Y: 2})
	return RampUnder(r, newSheet(r.Knife, low, r.Head.Max.Y+2, sheetStep, r.CantDeg).at)
}

// RampUnder is the head's box with its drafted sides below what passes, raised, less the handle, the room
// of the boss, and the blade grown by fit and gap. Of a split ramp it is the right half.
//
// What passes is given over a point of the draw's axes. Box, handle, room and outline are exact; the surface is a height divided by sqrt 2, the normal of
// its steepest slope of 45 degrees, and the blade's face one divided by that of the bevel.
func RampUnder(r *buck.RampPiece, passes func(q r2.Vec) float64) (sdf.SDF3, error) {
	k := r.Knife
	body := sdf.Intersect3D(head(r), sides(r, passes))
	handle, err := polygon(k.Plan.Handle)
	if err != nil {
		return nil, err
	}
	outline, err := polygon(k.Plan.Outline)
	if err != nil {
		return nil, err
	}
	tall := r.Knife.Spec.Blade.Thickness + 2*r.Rise
	if handle != nil {
		body = sdf.Difference3D(body, prism(handle, r.Fit, tall))
	}
	room := sdf.Line2D(r.Boss.Length-r.Boss.Width, r.Boss.Width/2)
	body = sdf.Difference3D(body, placed(prism(room, 0, tall), r.Boss.Centre, 0, r.Boss.AngleDeg))
	body = sdf.Difference3D(body, sdf.Intersect3D(under(r, outline), within(k, r.Gap, body.BoundingBox())))
	if r.Split {
		upper := field{box: everywhere, at: func(p r3.Vec) float64 { return -p.Z }}
		body = sdf.Intersect3D(body, upper)
	}
	return body, nil
}

// head is the prism of the head with its widest sides.
func head(r *buck.RampPiece) sdf.SDF3 {
	skirt, tall := r.Skirt(), r.Knife.Spec.Blade.Thickness+2*r.Rise
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
func sides(r *buck.RampPiece, passes func(q r2.Vec) float64) sdf.SDF3 {
	draft := max(math.Tan(sdf.DtoR(r.DraftDeg)), 2e-3)
	return field{box: everywhere, at: func(p r3.Vec) float64 {
		q := r2.Rotate(r2.Vec{X: p.X, Y: p.Y}, -sdf.DtoR(r.CantDeg), r2.Vec{})
		in := r2.Vec{X: min(q.X, r.Head.Max.X), Y: min(max(q.Y, r.Head.Min.Y), r.Head.Max.Y)}
		out := r2.Norm(r2.Sub(q, in))
		if out == 0 {
			out = max(q.X-r.Head.Max.X, r.Head.Min.Y-q.Y, q.Y-r.Head.Max.Y)
		}
		above := math.Abs(p.Z) - passes(in) - r.Rise
		return max(above/math.Sqrt2, (above+out/draft)/math.Sqrt(2+1/(draft*draft)))
	}}
}

// under is the plan of the steel grown by the fit, at every height. Beyond a long side of the head the
// piece stands on what the head stands on straight across.
func under(r *buck.RampPiece, outline sdf.SDF2) sdf.SDF3 {
	return field{box: everywhere, at: func(p r3.Vec) float64 {
		return outline.Evaluate(v2.Vec(r.Across(r2.Vec{X: p.X, Y: p.Y}))) - r.Fit
	}}
}

// within is the space between both faces of the blade raised by the gap. It goes on beside the blade.
func within(k *buck.Knife, gap float64, box sdf.Box3) sdf.SDF3 {
	top := stock(k, gap)
	if ground := bevel(k, gap, box); ground != nil {
		top = sdf.Intersect3D(top, ground)
	}
	return field{box: everywhere, at: func(p r3.Vec) float64 {
		return top.Evaluate(v3.Vec{X: p.X, Y: p.Y, Z: math.Abs(p.Z)})
	}}
}
