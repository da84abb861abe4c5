package measures

// Layout is what the sheath around the buck is laid out by: where its eyelets, its trim line and its
// blank come from, beside the eyelet's own diameters.
type Layout struct {
	Pitch     float64 // the most from one eyelet to the next, along their line
	Clearance float64 // between flange or die and where the sheets begin to part
	EdgeGuard float64 // sheet between the cutting edge and an eyelet's hole
	Rim       float64 // least sheet outside a flange
	Smooth    float64 // least radius of the trim line's hollows
	Corner    float64 // radius of the corners at the mouth
	Handling  float64 // sheet all round that is there to hold the blank by

	Thumb      float64 // radius of the relief for the thumb in the mouth, on the spine's side; 0: none
	ThumbDepth float64
	Flare      float64 // length of the mouth's flare along the blade; 0: none
	FlareDeg   float64 // by which it opens on each side
	Holes      string  // through the flat rim, for other mounts, see ParseHoles
	NoEyelets  string  // where none may stand, see ParseNoEyelets

	StretchPercent float64 // by which a blank is longer along the extrusion: reheated sheet shrinks that way
	Extrusion      string  // how the sheet was extruded, seen on the knife: Along or Across
}

// Mill is what the sheath's programs are written for: the tools, how they are driven, and what holds the work.
// Speeds and feeds of 0 are taken from material and tool.
type Mill struct {
	Units    string // Millimetres or Inches
	Material string // Alloy or PVC

	Cutter    float64 // diameter of the cutter that trims
	Flutes    int
	Flute     float64 // length of the cutter's flutes
	Allowance float64 // what the rough pass leaves to the finishing one
	Depth     float64 // most that a pass takes down; 0: half of the cutter's diameter
	Bite      float64 // how far the cutter goes into the board
	Speed     int     // of the cutter, turns per minute
	Feed      float64 // mm/min
	Plunge    float64 // straight down, mm/min

	DrillSpeed int     // turns per minute
	DrillFeed  float64 // mm/min
	Peck       float64 // 0: half of the drill's diameter where a hole is deeper than the drill is wide
	Through    float64 // by which a drill's full width passes the sheet

	Safe        float64 // at which rapids cross, over whatever is highest
	Rapid       float64 // of the machine, mm/min, for times alone
	MaxFeed     float64 // that the machine does, mm/min
	MaxSpeed    int     // of its spindle, turns per minute
	ToolChange  string  // ByM6 or ByHand
	Dialect     string  // FullDialect or PlainDialect
	Hold        string  // Clamps or Vacuum
	Board       float64 // thickness of the board under the sheet
	Clamp       float64 // side of the pads on the blank's corners; 0: none
	ClampHeight float64
	PinHeight   float64 // with nut and washer
	Washer      float64 // diameter; 0: none
}

// The units of programs.
const (
	Millimetres = "mm"
	Inches      = "inch"
)

// How a program names its tool: by T and M6, or in its head alone, for a machine that knows no M6.
const (
	ByM6   = "m6"
	ByHand = "none"
)

// Which words a program is written in: all of RS-274 that serves it, or those that small open controllers read, too.
const (
	FullDialect  = "full"
	PlainDialect = "plain"
)

// What holds the work on the mill.
const (
	Clamps = "clamps"
	Vacuum = "vacuum" // or tape, under all of the rim
)

// The sheets that speeds and feeds are known of.
const (
	Alloy = "alloy" // of PVC and acrylic
	PVC   = "pvc"   // rigid
)

// The ways of a sheet's extrusion.
const (
	Along  = "along"  // from butt to tip
	Across = "across" // from edge to spine
)

// FlareGain is by how much the mouth's flare stands out on each side, in mm.
func (l Layout) FlareGain() float64 { return l.Flare * TanDeg(l.FlareDeg) }

// EdgeDistance is the least from an eyelet's centre to the sheath's edge, in mm: the flange with the rim
// outside it, or 1.25 diameters of the hole (common practice, no source; sheet metal takes 2, FAA AC
// 43.13-1B, from secondary pages).
func (s Spec) EdgeDistance() float64 {
	return max(s.Eyelet.Flange/2+s.Layout.Rim, 1.25*s.Eyelet.Hole)
}

// Thickest is the thickness in mm of the handle or of a guard, whichever is more.
func (s Spec) Thickest() float64 { return max(s.Handle.Thickness, s.Guard.Thickness) }
