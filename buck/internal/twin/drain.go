package twin

import (
	"formbuck/buck/pieces"

	"github.com/deadsy/sdfx/sdf"
	"github.com/deadsy/sdfx/vec/v3"
)

// Drain is a truncated cone along the tip's bisector, less the blade's outline grown by the play and
// extruded to the slit's height. Cone and outline are exact (the outline but for its flattening);
// outside an edge that faces of the angle a form, the distance is at least sin(a/2) of the true one.
func Drain(d *pieces.DrainPiece) (sdf.SDF3, error) {
	long := d.To - d.From
	plug, err := sdf.Cone3D(long, d.Radius, d.Radius+d.Slope*long, 0)
	if err != nil {
		return nil, err
	}
	lay := sdf.Translate3d(v3.Vec{X: (d.From + d.To) / 2}).Mul(sdf.RotateY(sdf.DtoR(90)))
	plug = placed(sdf.Transform3D(plug, lay), d.Tip, 0, d.AxisDeg)
	outline, err := polygon(d.Knife.Plan.Outline)
	if err != nil {
		return nil, err
	}
	return sdf.Difference3D(plug, prism(outline, d.Play, d.Slit)), nil
}
