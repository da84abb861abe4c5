// Package measures holds what all rooms of the buck share: the measures of a variant, hands and faces, faults of measures, and
// the few formulas that need no more than these.
//
// Frame: right-handed, millimetres and degrees. x runs from the butt to the tip, y from the edge
// to the spine, z out of the knife's right face; the flat middle of the knife is z = 0 and the
// origin is where the throat line crosses the blade's axis.
package measures

// Spec is every measure that one variant of a knife needs beside its drawing. All lengths are in
// mm, all angles in degrees. The zero value is not usable; package variant fills the defaults.
type Spec struct {
	Name     string
	Hands    []Hand // the hands to make, in the order given; empty means all four
	Carry    Carry  // "": Hip
	Blade    Blade
	Swedge   Swedge
	Handle   Handle
	Guard    Guard
	Throat   Throat
	Sheet    Sheet
	Print    Print
	Tape     Tape
	Plate    Plate
	Clip     Clip
	Screw    Screw
	Hole     Hole
	Eyelet   Eyelet
	Standoff Standoff
	Ramp     Ramp
	Drain    Drain
	Nub      Nub
	Locator  Locator
	Whole    Whole
	Layout   Layout
	Mill     Mill
	Fixture  Fixture
}

// Grind is how the blade falls from the grind line to the edge.
type Grind string

// The grinds.
const (
	Flat   Grind = "flat"
	Hollow Grind = "hollow"
	Convex Grind = "convex"
)

// Blade is the blade stock and its grind.
type Blade struct {
	Thickness     float64 // stock at the heel
	TipThickness  float64 // stock at the tip (distal taper, linear from the heel)
	EdgeThickness float64 // behind the edge, before sharpening
	Grind         Grind
	Edges         int     // 1, or 2: the spine is an edge, too
	GrindWidth    float64 // from edge to grind line, where the drawing has no grind line; 0: six tenths of the blade's width at the heel
	Plunge        float64 // distance from the tip back to where the bevel begins, where the drawing has no grind line; 0: not given
	WheelRadius   float64 // of the contact wheel, for a hollow grind
	Bulge         float64 // of a convex grind over its chord, at mid bevel
}

// Swedge is a false edge: a grind that comes down to the spine, where the drawing has a line for it.
type Swedge struct {
	Thickness float64 // that it leaves at the spine
}

// Handle is the handle over the whole of its plan outline.
type Handle struct {
	Thickness float64 // full thickness, both faces
	Rounding  float64 // radius of the rounded edge all round
	Front     float64 // distance from the tip back to the handle's front, where the drawing does not show it; 0: not given
	Drawn     string  // "no": the drawing shows the blade alone; the handle begins where its outline ends, or at Front
}

// Guard is what stands out ahead of the handle, a guard or a bolster.
type Guard struct {
	Thickness float64 // full, both faces; 0: there is none
	From, To  float64 // distances from the tip back to its front and its back, where the drawing does not show it; 0: not given
}

// Throat is where the sheath's mouth lies.
type Throat struct {
	Depth float64 // how far the sheath laps over the handle, where the drawing has no throat line; below 0: how far it ends ahead of it
}

// Sheet is the thermoforming sheet.
type Sheet struct {
	Thickness     float64 // before forming
	BossThickness float64 // over the boss, thinned by the draw
	ShrinkPercent float64 // linear, from the hot sheet to the cold one
}

// Ball is the radius, in mm, of the ball that the sheet's inner face comes down along beside what it
// is formed over: the press makes no foot sharper, outside, than the sheet is thick, and the inner
// face lies a thickness below that.
func (s Sheet) Ball() float64 { return 2 * s.Thickness }

// Tape is the tape on the blade's faces.
type Tape struct {
	Layers    int
	Thickness float64 // of one layer
	TipGap    float64 // how far before the tip it stops
}

// Total is the thickness of all layers on one face, in mm.
func (t Tape) Total() float64 { return float64(t.Layers) * t.Thickness }

// Plate is the pill-shaped steel plate with two threaded posts that lies in the boss.
type Plate struct {
	Length, Width, Thickness float64
	PostSpacing              float64 // centre to centre, along the plate
	PostDiameter             float64
}

// Clip is the belt clip that is screwed to the posts.
type Clip struct {
	Length, Width float64 // its footprint, centred over the boss, long side along the mount axis
	Thickness     float64 // where the screws go through
	Clearance     float64 // between the clip and what lies under it
}

// Hole is the post hole and the drill that makes it.
type Hole struct {
	Diameter      float64
	PointAngleDeg float64 // of the drill, included
	SinkDiameter  float64 // of its countersink in the sheath's outer face; 0: none
	SinkAngleDeg  float64 // included
}

// Eyelet is the eyelet of the sheath's rim.
type Eyelet struct {
	Hole, Flange, Die float64 // diameters
}

// Placement is where a piece sits, beside where it would sit by itself, and how much play it has.
type Placement struct {
	X, Y    float64 // offset along and across the blade
	CantDeg float64 // turn about z, from +x towards +y seen on the right face; mirrored with the piece
	Fit     float64 // clearance added to (or, negative, taken from) its mating surfaces
}

// Standoff is the mount boss: it leaves the cavity that takes the plate.
type Standoff struct {
	Placement
	SideClearance float64 // round the plate, per side
	Clearance     float64 // between plate and blade face
	Glue          float64 // gap under the piece
	DraftDeg      float64 // of its walls, from vertical
	EdgeRadius    float64 // of its upper edge
	Height        float64 // above z = 0, stated by the user; 0: computed
	Mark          string  // "yes": engrave the variant's name and the hand in the underside
	More          []Mount // further bosses on the same faces
}

// Mount is a further boss: where it sits, and what of it is not as that of the first. Its x and y are
// those of its middle, in the blade's frame.
type Mount struct {
	Name string // small letters and digits
	Placement
	Height float64 // as Standoff.Height
	Plate  Plate   // its own
}

// Ramp is the throat draw ramp.
type Ramp struct {
	Placement
	Clearance float64 // running clearance over what passes
	Grace     float64 // how deep a bind on one face may be and ask for no ramp
	Lock      float64 // by how much both halves together must open over the lock; 0: none is kept
	Lap       float64 // how far its cheeks lap over the blade
	Wall      float64 // least printable wall
	Glue      float64 // gap under the cheeks
	DraftDeg  float64 // of its sides
	Split     Split
	Mark      string // "yes": engrave the variant's name in the underside of a cheek
}

// Split is whether the ramp is made in one piece or one per face.
type Split string

// The ways to split: auto makes one piece when it can be slid on from the edge.
const (
	SplitAuto   Split = "auto"
	SplitNever  Split = "never"
	SplitAlways Split = "always"
)

// Drain is the tip drain insert.
type Drain struct {
	Placement
	Diameter float64 // at its narrow end, over the tip
	TaperDeg float64 // per side; it widens outwards
	Length   float64 // beyond the tip; 0: far enough to pass the trim line
	Lap      float64 // how far it reaches back over the tip
}

// Nub is the self-centring hole nub.
type Nub struct {
	Placement
	AngleDeg float64 // included
	Base     float64 // diameter; 0: the hole less Margin
	Margin   float64 // by which the base stays under the hole's diameter
	Holes    string  // further holes that want a loose nub, see ParseHoles
}

// Locator is the template that shows where the pieces are glued.
type Locator struct {
	Fit       float64 // gap between the template and the knife
	Clearance float64 // between a window and its piece, all round
	Thickness float64 // of the plate
	Wall      float64 // thickness of the hooks
	Hook      float64 // how far the hooks reach down from the plate
	Text      float64 // height of its capitals
}

// Whole is how a buck is printed in one body with its knife.
type Whole struct {
	Bed      float64 // the longest that the printer's bed takes; a longer buck is cut in two
	Pin      float64 // diameter of the pins that join the two
	PinFit   float64 // by which their holes are wider, on every side
	PinDepth float64 // how deep they go into either part
}

// Screw is what the clip is screwed to the posts with.
type Screw struct {
	Diameter   float64 // of the thread
	Washer     float64 // thickness under the head; 0: none
	Lengths    string  // that are in stock, under the head, see ParseLengths
	PostHeight float64 // of the posts over the plate
}
