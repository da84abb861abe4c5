package twin

import (
	"math"

	"formbuck/buck/knives"
	"formbuck/buck/pieces"

	"github.com/deadsy/sdfx/sdf"
	"github.com/deadsy/sdfx/vec/v2"
	"github.com/deadsy/sdfx/vec/v3"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Standoff is a revolved profile of top, edge radius and drafted wall, drawn out along the pill's
// axis, with a cone for each nub, less the space below the underside.
//
// Top, edge, wall and cones are exact within the edge radius of the surface. The underside is exact
// where the blade is flat: a half space. On the bevel it is the height above the blade's face, put at
// the gap and divided by the steepest slope's normal, so the distance there is between
// 1/sqrt(1+slope^2) of the true one and all of it.
func Standoff(s *pieces.StandoffPiece) (sdf.SDF3, error) {
	wall, err := boss(s)
	if err != nil {
		return nil, err
	}
	parts := []sdf.SDF3{wall}
	for _, n := range s.Nubs {
		c, err := cone(n, beyond)
		if err != nil {
			return nil, err
		}
		parts = append(parts, c)
	}
	body := sdf.Difference3D(sdf.Union3D(parts...), seat(s, wall.BoundingBox()))
	if s.Chamfer > 0 {
		body = sdf.Difference3D(body, chamfer(s, wall.BoundingBox()))
	}
	return body, nil
}

// chamfer is the space below a slope of 45 degrees that leaves the underside at the chamfer's width within where wall
// and underside meet. Over a sloping underside the distance there is within what the slope makes of it.
func chamfer(s *pieces.StandoffPiece, box sdf.Box3) sdf.SDF3 {
	steep := 0.0
	if !s.Flat {
		steep, _ = slope(s.Knife, box)
	}
	n := math.Sqrt2 * math.Hypot(1, steep)
	tan := math.Tan(sdf.DtoR(s.DraftDeg))
	return field{box: everywhere, at: func(p r3.Vec) float64 {
		q := r2.Vec{X: p.X, Y: p.Y}
		under := s.Underside(s.Knife.Blade(q), q)
		corner := (s.TopZ - under) * tan // of wall and underside, from the pill
		return (p.Z - under + corner - s.Top.Distance(q) - s.Chamfer) / n
	}}
}

// boss is the pill without its nubs, down to below the middle plane. Its profile is the wall and the
// top moved inwards by the edge radius, grown by it again: that rounds the edge to a true arc.
func boss(s *pieces.StandoffPiece) (sdf.SDF3, error) {
	r, draft := s.EdgeRadius, sdf.DtoR(s.DraftDeg)
	at := func(z float64) float64 { return s.Top.Width/2 + (s.TopZ-z)*math.Tan(draft) - r/math.Cos(draft) }
	top, foot := s.TopZ-r, -1.0
	profile, err := sdf.Polygon2D([]v2.Vec{{X: -at(foot), Y: foot}, {X: at(foot), Y: foot}, {X: at(top), Y: top}, {X: -at(top), Y: top}})
	if err != nil {
		return nil, err
	}
	round, err := sdf.Revolve3D(sdf.Offset2D(profile, r))
	if err != nil {
		return nil, err
	}
	long := sdf.Elongate3D(round, v3.Vec{X: s.Top.Length - s.Top.Width})
	return placed(long, s.Top.Centre, 0, s.Top.AngleDeg), nil
}

// seat is the space below the underside: below the blade's face raised by the gap. The underside goes
// on as it is where the piece stands out beside the blade.
func seat(s *pieces.StandoffPiece, box sdf.Box3) sdf.SDF3 {
	face := stock(s.Knife, s.Gap)
	if s.Flat {
		return face
	}
	if ground := bevel(s.Knife, s.Gap, box); ground != nil {
		return sdf.Intersect3D(face, ground)
	}
	return face
}

// stock is the half space below the face of the unground stock raised by the gap: as thick as given
// before the heel, tapering from there to the tip. The nearer of two planes is exact.
func stock(k *pieces.Buck, gap float64) sdf.SDF3 {
	b := k.Spec.Blade
	full := plane(0, b.Thickness/2+gap)
	if b.TipThickness == b.Thickness {
		return full
	}
	a := (b.TipThickness - b.Thickness) / 2 / (k.Plan.Tip.X - k.Plan.Heel.X)
	return sdf.Intersect3D(full, plane(a, b.Thickness/2+gap-a*k.Plan.Heel.X))
}

// bevel is the space below the ground face raised by the gap, everything where there is no bevel; nil
// if there is none over the box.
func bevel(k *pieces.Buck, gap float64, box sdf.Box3) sdf.SDF3 {
	steep, ground := slope(k, box)
	if !ground {
		return nil
	}
	n := math.Hypot(1, steep)
	return field{box: everywhere, at: func(p r3.Vec) float64 {
		q := r2.Vec{X: p.X, Y: p.Y}
		on := k.Blade(q)
		if on == knives.OnFlat {
			return math.Inf(-1)
		}
		return (p.Z - k.HalfOn(on, q) - gap) / n
	}}
}

// slope is the steepest slope of the bevel over the box, felt on a grid, and whether there is bevel.
func slope(k *pieces.Buck, box sdf.Box3) (steepest float64, any bool) {
	const step, feel = 0.25, 1e-4
	for x := box.Min.X; x <= box.Max.X; x += step {
		for y := box.Min.Y; y <= box.Max.Y; y += step {
			p := r2.Vec{X: x, Y: y}
			on := k.Blade(p)
			if on == knives.OnFlat {
				continue
			}
			h := k.HalfOn(on, p)
			dx := k.HalfOn(on, r2.Vec{X: x + feel, Y: y}) - h
			dy := k.HalfOn(on, r2.Vec{X: x, Y: y + feel}) - h
			steepest, any = max(steepest, math.Hypot(dx, dy)/feel), true
		}
	}
	return steepest, any
}
