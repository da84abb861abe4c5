package buck

// Layout is what the sheath around the buck is laid out by: where its eyelets, its trim line and its
// blank come from, beside the eyelet's own diameters.
type Layout struct {
	Pitch     float64 // the most from one eyelet to the next, along their line
	Clearance float64 // between flange or die and where the sheets begin to part
	EdgeGuard float64 // sheet between the cutting edge and an eyelet's hole
	Rim       float64 // least sheet outside a flange
	Smooth    float64 // least radius of the trim line's hollows
	Corner    float64 // radius of the corners at the mouth
	Cutter    float64 // diameter of the cutter that trims
	Finish    float64 // what the rough pass leaves to the finishing one
	Handling  float64 // sheet all round that is there to hold the blank by

	StretchPercent float64 // by which a blank is longer along the extrusion: reheated sheet shrinks that way
	Extrusion      string  // how the sheet was extruded, seen on the knife: Along or Across
}

// The ways of a sheet's extrusion.
const (
	Along  = "along"  // from butt to tip
	Across = "across" // from edge to spine
)

// EdgeDistance is the least from an eyelet's centre to the sheath's edge, in mm: the flange with the rim
// outside it, or 1.25 diameters of the hole (common practice, no source; sheet metal takes 2, FAA AC
// 43.13-1B, from secondary pages).
func (s Spec) EdgeDistance() float64 {
	return max(s.Eyelet.Flange/2+s.Layout.Rim, 1.25*s.Eyelet.Hole)
}
