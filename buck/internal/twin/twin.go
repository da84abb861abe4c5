// Package twin builds every piece a second time, as a signed distance, and measures a mesh against it.
//
// A twin shares the piece's measures and nothing else: cones, extruded polygons, revolved profiles
// and half spaces of a general distance-field library take the place of the heights and lines that
// package solid meshes. What has no standard body, the ground face of a blade and the draw envelope,
// is asked of the knife itself, point by point.
//
// Frame: the blade's, right face, millimetres. A distance is negative inside. It is a lower bound of
// the true one: each part is exact or 1-Lipschitz, and the least and greatest of such are
// 1-Lipschitz. Measure therefore never reports it as a deviation: it looks for a point of the twin's
// surface and reports the way there, an upper bound.
package twin

import (
	"errors"
	"math"

	"formbuck/profile"

	"github.com/deadsy/sdfx/sdf"
	"github.com/deadsy/sdfx/vec/v2"
	"github.com/deadsy/sdfx/vec/v3"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// The ways in which nothing can be measured.
var (
	ErrEmptyMesh = errors.New("the mesh has no triangles")
	ErrNoSurface = errors.New("the twin has no surface within the mesh's bounds")
)

// flatness is how far, in mm, a twin's polygons may lie from the arcs of the drawing: a twentieth of
// the finest tolerance that a mesh is measured for.
const flatness = 5e-4

// beyond is how far, in mm, a part is carried past a face that it only shares, so that no two
// surfaces coincide: where they do, the distance is zero within the body.
const beyond = 0.25

// field is a distance given as a function, so that the library's operations take it.
type field struct {
	at  func(p r3.Vec) float64
	box sdf.Box3
}

// Evaluate is the signed distance at p.
func (f field) Evaluate(p v3.Vec) float64 { return f.at(r3.Vec(p)) }

// BoundingBox holds the surface.
func (f field) BoundingBox() sdf.Box3 { return f.box }

// plane is the half space below z = a x + b, exactly.
func plane(a, b float64) sdf.SDF3 {
	n := math.Hypot(a, 1)
	return field{at: func(p r3.Vec) float64 { return (p.Z - a*p.X - b) / n }, box: everywhere}
}

// everywhere stands for the box of what has no bounds.
var everywhere = sdf.Box3{Min: v3.Vec{X: -1e3, Y: -1e3, Z: -1e3}, Max: v3.Vec{X: 1e3, Y: 1e3, Z: 1e3}}

// polygon is a loop of the plan as a distance in the plan. The nil loop holds nothing.
func polygon(l profile.Loop) (sdf.SDF2, error) {
	if len(l) == 0 {
		return nil, nil
	}
	points := l.Flatten(flatness)
	corners := make([]v2.Vec, len(points))
	for i, p := range points {
		corners[i] = v2.Vec(p)
	}
	return sdf.Polygon2D(corners)
}

// prism is the plan's shape grown by d and extruded to both sides of z = 0, half mm each.
func prism(s sdf.SDF2, d, half float64) sdf.SDF3 {
	return sdf.Extrude3D(sdf.Offset2D(s, d), 2*half)
}

// placed turns a body about z by deg and moves its origin to (at, z).
func placed(s sdf.SDF3, at r2.Vec, z, deg float64) sdf.SDF3 {
	move := sdf.Translate3d(v3.Vec{X: at.X, Y: at.Y, Z: z})
	return sdf.Transform3D(s, move.Mul(sdf.RotateZ(sdf.DtoR(deg))))
}
