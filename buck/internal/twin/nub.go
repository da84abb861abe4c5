package twin

import (
	"math"

	"formbuck/buck/pieces"

	"github.com/deadsy/sdfx/sdf"
)

// Nub is a loose nub: one cone, its distance exact everywhere.
func Nub(n *pieces.NubPiece) (sdf.SDF3, error) { return cone(*n, 0) }

// cone is a nub's cone, carried on by the depth below its base.
func cone(n pieces.NubPiece, depth float64) (sdf.SDF3, error) {
	rise := math.Tan(sdf.DtoR(90 - n.AngleDeg/2)) // of the flank, from the base
	tall := n.Base/2*rise + depth
	c, err := sdf.Cone3D(tall, tall/rise, 0, 0)
	if err != nil {
		return nil, err
	}
	return placed(c, n.Centre, n.BaseZ-depth+tall/2, 0), nil
}
