package variant_test

import (
	"fmt"
	"strings"
	"testing"

	"formbuck/buck/measures"
	"formbuck/buck/variant"

	"github.com/google/go-cmp/cmp"
)

// least is the smallest variant file.
const least = `drawing.file = "knife.dxf"
blade.thickness = 3.2
handle.thickness = 22
`

func decode(text string) (*variant.Variant, error) {
	return variant.Decode("knife.toml", strings.NewReader(text))
}

func mustDecode(t *testing.T, text string) *variant.Variant {
	t.Helper()
	v, err := decode(text)
	if err != nil {
		t.Fatalf("%v in:\n%s", err, text)
	}
	return v
}

// leastSpec is what the smallest file stands for.
func leastSpec() measures.Spec {
	return measures.Spec{
		Name:  "knife",
		Hands: []measures.Hand{measures.Right, measures.Left, measures.Both, measures.Plain},
		Carry: measures.Hip,
		Blade: measures.Blade{
			Thickness: 3.2, TipThickness: 3.2, EdgeThickness: 0.4, Grind: measures.Flat, Edges: 1,
		},
		Swedge: measures.Swedge{Thickness: 1.6},
		Handle: measures.Handle{Thickness: 22, Rounding: 8, Drawn: "yes"},
		Throat: measures.Throat{Depth: 10},
		Sheet:  measures.Sheet{Thickness: 2, BossThickness: 1.8, ShrinkPercent: 0.4},
		Tape:   measures.Tape{Layers: 2, Thickness: 0.14, TipGap: 12},
		Plate:  measures.Plate{Length: 42, Width: 12, Thickness: 1.5, PostSpacing: 30, PostDiameter: 6},
		Clip:   measures.Clip{Length: 60, Width: 14, Thickness: 1.6, Clearance: 1},
		Screw:  measures.Screw{Diameter: 4.1656, Lengths: "3/16 in, 1/4 in, 5/16 in, 3/8 in, 1/2 in", PostHeight: 3},
		Hole:   measures.Hole{Diameter: 6.35, PointAngleDeg: 118, SinkAngleDeg: 82},
		Eyelet: measures.Eyelet{Hole: 6.35, Flange: 9.5, Die: 9.5},
		Standoff: measures.Standoff{
			SideClearance: 0.3, Clearance: 0.4, Glue: 0.1, DraftDeg: 5, EdgeRadius: 1, Mark: "yes",
		},
		Ramp: measures.Ramp{
			Clearance: 0.2, Grace: 0.01, Lap: 5, Wall: 0.8, Glue: 0.1, DraftDeg: 5, Split: measures.SplitAuto, Mark: "yes",
		},
		Drain: measures.Drain{Diameter: 5, TaperDeg: 3, Lap: 8},
		Nub:   measures.Nub{AngleDeg: 120, Margin: 1},
		Locator: measures.Locator{
			Fit: 0.05, Clearance: 0.2, Thickness: 2, Wall: 2.4, Hook: 3, Text: 5,
		},
		Whole: measures.Whole{Bed: 220, Pin: 4, PinFit: 0.15, PinDepth: 12},
		Layout: measures.Layout{
			Pitch: 32, Clearance: 0.5, EdgeGuard: 4, Rim: 2, Smooth: 80, Corner: 3, ThumbDepth: 6, FlareDeg: 15,
			Handling: 25, StretchPercent: 3, Extrusion: measures.Along,
		},
		Mill: measures.Mill{
			Units: measures.Millimetres, Material: measures.Alloy, Cutter: 6.35, Flutes: 2, Flute: 25.4, Allowance: 0.4, Bite: 0.3, Through: 1,
			Safe: 5, Rapid: 3000, MaxFeed: 5000, MaxSpeed: 24000, ToolChange: measures.ByM6, Dialect: measures.FullDialect, Hold: measures.Clamps, Board: 25, Clamp: 12, ClampHeight: 15, PinHeight: 8, Washer: 9.5,
		},
		Fixture: measures.Fixture{
			Register: measures.ByDrawing, HoleFit: "H11", PinFit: "h8", CradleFit: 0.15, DrawingFit: 0.5, HandFit: 1, GuideFit: 0.1,
			Material: measures.Aluminium, Support: 8, Margin: 3,
		},
	}
}

func TestThreeKeysAreEnough(t *testing.T) {
	v := mustDecode(t, least)
	if diff := cmp.Diff(leastSpec(), v.Spec); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(variant.Drawing{File: "knife.dxf", JoinGap: 0.05}, v.Drawing); diff != "" {
		t.Error(diff)
	}
}

// every sets every key to a value that no other key of its kind has, in all ways of writing.
const every = `
name = "otter 2"
base = "heron.toml"
hands = ["plain", "left"]
carry = "behind"

[drawing]
file = "../plans/Otter.DXF"
units = "in"
tip = "up"
edge = "-10 deg"
join_gap = 0.1
layers = { outline = "A", handle = "B", grind = "C", throat = "D", edge = "E", tip = "F", swedge = "G", guard = "H" }

[blade]
thickness = "4 mm"
tip_thickness = 2.6
edge_thickness = "0.02 in"
grind = "convex"
grind_width = "1 1/2 in"
plunge = "4 in"
edges = 2
wheel_radius = '10"'
bulge = 0.25

[swedge]
thickness = 1.25

[handle]
thickness = "2.5cm"
rounding = 9
front = 1.05e2
drawn = "no"
[guard]
thickness = 14
from = 104
to = 110.5
[throat]
depth = 0x0f
[sheet]
thickness = "0.093 in"
boss_thickness = 2.1
shrink = 0.45
[print]
bed_chamfer = "0.3 mm"
shrink = "0.25 %"
[tape]
layers = 3
thickness = 0.13
tip_gap = 14
[plate]
length = 45
width = 13
thickness = 1.6
post_spacing = 31
post_diameter = 5.5
[clip]
length = 61
width = 16
clearance = 1.25
thickness = 2
[screw]
diameter = 4
washer = 0.5
lengths = "5 mm, 6 mm"
post_height = 2.75
[hole]
diameter = "#-free"
point_angle = "135 deg"
sink = 8.5
sink_angle = 90
[eyelet]
hole = 5.75
flange = 9.25
die = 9.75
[standoff]
x = 1
y = 2
cant = 3
fit = -0.05
side_clearance = 0.35
clearance = 0.45
glue = 0.15
draft = 5.5
edge_radius = 1.1
height = 11.5
mark = "no"
[ramp]
x = -1
y = -2
cant = "-3°"
fit = 0.05
clearance = 0.25
grace = 0.015
lock = 0.35
lap = 5.25
wall = 0.85
glue = 0.12
draft = 6
split = "always"
mark = "no"
[drain]
x = 0.5
y = 0.6
cant = 0.7
fit = 0.01
diameter = 5.6
taper = 3.5
length = 21
lap = 8.5
[nub]
x = 0.1
y = 0.2
cant = 0.3
fit = 0.02
angle = 150
base = 4.5
margin = 0.9
holes = "snap 60 4 5"
[locator]
fit = 0.06
clearance = 0.25
thickness = 2.5
wall = 3
hook = 3.5
text = 6
[whole]
bed = 180
pin = 3
pin_fit = 0.1
pin_depth = 10
[layout]
pitch = 28
clearance = 0.6
edge_guard = 5
rim = 2.2
smooth = 90
corner = 4
thumb = 14
thumb_depth = 5
flare = 6
flare_angle = 20
holes = "snap 60 -32 5"
no_eyelets = "spine 40 60; edge 1 2"
handling = 30
stretch = 2.5
extrusion = "across"
[mill]
units = "inch"
material = "pvc"
cutter = '1/8"'
flutes = 1
flute_length = "15 mm"
allowance = 0.3
depth = 1.5
bite = 0.4
speed = 15000
feed = "75 in"
plunge = 600
drill_speed = 2400
drill_feed = 240
peck = 2.5
through = 1.2
safe = 6
rapid = "100 in"
max_feed = "300 in"
max_speed = 18000
tool_change = "none"
dialect = "plain"
hold = "vacuum"
board = "3/4 in"
clamp = 14
clamp_height = 13
pin_height = 9
washer = 9
[fixture]
register = "cradle"
holes = "2 5"
hole_fit = "H7"
pin_fit = "g6"
pin = "1/4 in"
drawing_fit = 0.4
hand_fit = 0.8
guide_fit = 0.15
bushing = "8 mm"
pattern_offset = 0.5
stock = "300 x 250 x 10"
material = "mdf"
support = 9
margin = 4
plate = "otter/plate.toml"
[cradle]
fit = 0.12
`

func TestEveryKeyReachesItsField(t *testing.T) {
	text := strings.Replace(every, `"#-free"`, `"1/4 in"`, 1)
	v := mustDecode(t, text)
	want := measures.Spec{
		Name:  "otter 2",
		Hands: []measures.Hand{measures.Plain, measures.Left},
		Carry: measures.Behind,
		Blade: measures.Blade{
			Thickness: 4, TipThickness: 2.6, EdgeThickness: 0.508, Grind: measures.Convex,
			GrindWidth: 38.1, Plunge: 101.6, Edges: 2, WheelRadius: 254, Bulge: 0.25,
		},
		Swedge: measures.Swedge{Thickness: 1.25},
		Handle: measures.Handle{Thickness: 25, Rounding: 9, Front: 105, Drawn: "no"},
		Guard:  measures.Guard{Thickness: 14, From: 104, To: 110.5},
		Throat: measures.Throat{Depth: 15},
		Sheet:  measures.Sheet{Thickness: 2.3622, BossThickness: 2.1, ShrinkPercent: 0.45},
		Print:  measures.Print{ShrinkPercent: 0.25, BedChamfer: 0.3},
		Tape:   measures.Tape{Layers: 3, Thickness: 0.13, TipGap: 14},
		Plate:  measures.Plate{Length: 45, Width: 13, Thickness: 1.6, PostSpacing: 31, PostDiameter: 5.5},
		Clip:   measures.Clip{Length: 61, Width: 16, Thickness: 2, Clearance: 1.25},
		Screw:  measures.Screw{Diameter: 4, Washer: 0.5, Lengths: "5 mm, 6 mm", PostHeight: 2.75},
		Hole:   measures.Hole{Diameter: 6.35, PointAngleDeg: 135, SinkDiameter: 8.5, SinkAngleDeg: 90},
		Eyelet: measures.Eyelet{Hole: 5.75, Flange: 9.25, Die: 9.75},
		Standoff: measures.Standoff{
			Placement:     measures.Placement{X: 1, Y: 2, CantDeg: 3, Fit: -0.05},
			SideClearance: 0.35, Clearance: 0.45, Glue: 0.15, DraftDeg: 5.5, EdgeRadius: 1.1, Height: 11.5, Mark: "no",
		},
		Ramp: measures.Ramp{
			Placement: measures.Placement{X: -1, Y: -2, CantDeg: -3, Fit: 0.05},
			Clearance: 0.25, Grace: 0.015, Lock: 0.35, Lap: 5.25, Wall: 0.85, Glue: 0.12, DraftDeg: 6, Split: measures.SplitAlways, Mark: "no",
		},
		Drain: measures.Drain{
			Placement: measures.Placement{X: 0.5, Y: 0.6, CantDeg: 0.7, Fit: 0.01},
			Diameter:  5.6, TaperDeg: 3.5, Length: 21, Lap: 8.5,
		},
		Nub: measures.Nub{
			Placement: measures.Placement{X: 0.1, Y: 0.2, CantDeg: 0.3, Fit: 0.02},
			AngleDeg:  150, Base: 4.5, Margin: 0.9, Holes: "snap 60 4 5",
		},
		Locator: measures.Locator{
			Fit: 0.06, Clearance: 0.25, Thickness: 2.5, Wall: 3, Hook: 3.5, Text: 6,
		},
		Whole: measures.Whole{Bed: 180, Pin: 3, PinFit: 0.1, PinDepth: 10},
		Layout: measures.Layout{
			Pitch: 28, Clearance: 0.6, EdgeGuard: 5, Rim: 2.2, Smooth: 90, Corner: 4,
			Thumb: 14, ThumbDepth: 5, Flare: 6, FlareDeg: 20, Holes: "snap 60 -32 5", NoEyelets: "spine 40 60; edge 1 2",
			Handling: 30, StretchPercent: 2.5, Extrusion: measures.Across,
		},
		Mill: measures.Mill{
			Units: measures.Inches, Material: measures.PVC, Cutter: 3.175, Flutes: 1, Flute: 15, Allowance: 0.3, Depth: 1.5, Bite: 0.4, Speed: 15000,
			Feed: 1905, Plunge: 600, DrillSpeed: 2400, DrillFeed: 240, Peck: 2.5, Through: 1.2,
			Safe: 6, Rapid: 2540, MaxFeed: 7620, MaxSpeed: 18000, ToolChange: measures.ByHand, Dialect: measures.PlainDialect, Hold: measures.Vacuum, Board: 19.05, Clamp: 14, ClampHeight: 13, PinHeight: 9, Washer: 9,
		},
		Fixture: measures.Fixture{
			Register: measures.ByCradle, Holes: "2 5", HoleFit: "H7", PinFit: "g6", Pin: 6.35, CradleFit: 0.12, DrawingFit: 0.4, HandFit: 0.8, GuideFit: 0.15, Bushing: 8, PatternOffset: 0.5,
			Stock: "300 x 250 x 10", Material: measures.MDF, Support: 9, Margin: 4, Plate: "otter/plate.toml",
		},
	}
	if diff := cmp.Diff(want, v.Spec); diff != "" {
		t.Error(diff)
	}
	tip, edge := 90.0, -10.0
	drawing := variant.Drawing{
		File: "../plans/Otter.DXF", Units: "in", TipDeg: &tip, EdgeDeg: &edge, JoinGap: 0.1,
		Layers: variant.Layers{Outline: "A", Handle: "B", Grind: "C", Throat: "D", Edge: "E", Tip: "F", Swedge: "G", Guard: "H"},
	}
	if diff := cmp.Diff(drawing, v.Drawing); diff != "" {
		t.Error(diff)
	}
	if v.Base != "heron.toml" {
		t.Errorf("base %q", v.Base)
	}
	for _, s := range v.Settings() {
		if !s.Given {
			t.Errorf("%s is not set by this test", s.Key.Path)
		}
	}
}

// Defaults that follow from other keys.
func TestDefaultsThatFollow(t *testing.T) {
	for _, c := range []struct {
		more string
		got  func(measures.Spec) float64
		want float64
	}{
		{"blade.tip_thickness = 0.6", func(s measures.Spec) float64 { return s.Blade.EdgeThickness }, 0.3},
		{"sheet.thickness = '0.093 in'", func(s measures.Spec) float64 { return s.Sheet.BossThickness }, 2.12598},
		{"eyelet.flange = 9", func(s measures.Spec) float64 { return s.Eyelet.Die }, 9},
		{"hole.point_angle = 90", func(s measures.Spec) float64 { return s.Nub.AngleDeg }, 120},
		{"hole.point_angle = 118.5", func(s measures.Spec) float64 { return s.Nub.AngleDeg }, 145},
		{"hole.point_angle = 140", func(s measures.Spec) float64 { return s.Nub.AngleDeg }, 145},
		{"hole.point_angle = 150", func(s measures.Spec) float64 { return s.Nub.AngleDeg }, 155},
		{"drawing.tip = 'left'", func(s measures.Spec) float64 { return s.Blade.TipThickness }, 3.2},
	} {
		if got := c.got(mustDecode(t, least+c.more).Spec); got != c.want {
			t.Errorf("%s: got %v, want %v", c.more, got, c.want)
		}
	}
	thin := mustDecode(t, strings.Replace(least, "22", "18", 1))
	if thin.Spec.Handle.Rounding != 7.2 {
		t.Errorf("rounding of an 18 mm handle is %v, want 7.2", thin.Spec.Handle.Rounding)
	}
}

// Worked by hand: 0.9 of 2 mm, 11 + 1 - 1.6 - 1.8 = 8.6 mm of boss above the blade's face.
func TestDemoHeightAboveTheFace(t *testing.T) {
	s := mustDecode(t, least).Spec
	height := s.Handle.Thickness/2 + s.Clip.Clearance - s.Blade.Thickness/2 - s.Sheet.BossThickness
	if fmt.Sprintf("%.12f", height) != "8.600000000000" {
		t.Errorf("got %v, want 8.6", height)
	}
}
