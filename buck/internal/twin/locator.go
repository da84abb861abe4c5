package twin

import (
	"formbuck/buck/pieces"

	"github.com/deadsy/sdfx/sdf"
	"github.com/deadsy/sdfx/vec/v2"
	"github.com/deadsy/sdfx/vec/v3"
	"gonum.org/v1/gonum/spatial/r2"
)

// Locator is a plate less the windows, each the piece's outline offset by the clearance, with the bridge
// and the hooks put on, less the knife's outline and the handle's offset by the fit. The letters are left out: it is the template before it is engraved.
// All are extruded polygons: exact, but for edges between them.
func Locator(l *pieces.LocatorPiece) (sdf.SDF3, error) {
	outline, err := polygon(l.Knife.Plan.Outline)
	if err != nil {
		return nil, err
	}
	handle, err := polygon(l.Knife.Plan.Handle)
	if err != nil {
		return nil, err
	}
	plate := slab(l.Plate, l.UnderZ, l.TopZ)
	var bridge sdf.SDF3
	if b := l.Bridge(); b.Max.X > b.Min.X {
		bridge = slab(b, l.BridgeZ, l.TopZ)
	}
	for _, w := range l.Windows {
		hole, err := corners(w.Foot)
		if err != nil {
			return nil, err
		}
		through := prism(hole, l.Clearance, 50)
		plate = sdf.Difference3D(plate, through)
		if !w.Under && bridge != nil {
			bridge = sdf.Difference3D(bridge, through)
		}
	}
	parts := []sdf.SDF3{plate}
	if l.BridgeZ > l.UnderZ && bridge != nil {
		parts = append(parts, bridge)
	}
	for _, h := range l.Hooks {
		parts = append(parts, sdf.Difference3D(slab(h, l.HookZ, l.TopZ), prism(outline, l.Fit, 50)))
	}
	body := sdf.Union3D(parts...)
	if handle != nil {
		body = sdf.Difference3D(body, prism(handle, l.Fit, 50))
	}
	return body, nil
}

// slab is a box of the plan between two heights.
func slab(b r2.Box, low, high float64) sdf.SDF3 {
	size := r2.Sub(b.Max, b.Min)
	box, err := sdf.Box3D(v3.Vec{X: size.X, Y: size.Y, Z: high - low}, 0)
	if err != nil {
		return nil
	}
	middle := r2.Scale(0.5, r2.Add(b.Min, b.Max))
	return placed(box, middle, (low+high)/2, 0)
}

// corners is a polygon as a distance in the plan.
func corners(points []r2.Vec) (sdf.SDF2, error) {
	list := make([]v2.Vec, len(points))
	for i, p := range points {
		list[i] = v2.Vec(p)
	}
	return sdf.Polygon2D(list)
}
