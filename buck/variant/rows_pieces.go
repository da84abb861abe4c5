package variant

import (
	"math/big"

	"formbuck/buck/measures"
)

// placed is what the placement of a piece does, key by key.
type placed struct{ x, y, cant, fit string }

// placementRows are the four keys that every piece has.
func placementRows(piece string, does placed, at func(*Variant) *measures.Placement) []row {
	return []row{
		{
			Key: Key{
				Path: piece + ".x", Kind: Length, Default: "0", Range: Range{Min: -300, Max: 300},
				Doc: does.x, Source: given,
			},
			into: func(v *Variant) any { return &at(v).X },
		},
		{
			Key: Key{
				Path: piece + ".y", Kind: Length, Default: "0", Range: Range{Min: -100, Max: 100},
				Doc: does.y, Source: given,
			},
			into: func(v *Variant) any { return &at(v).Y },
		},
		{
			Key: Key{
				Path: piece + ".cant", Kind: Angle, Default: "0", Range: Range{Min: -180, Max: 180},
				Doc: does.cant, Source: given,
			},
			into: func(v *Variant) any { return &at(v).CantDeg },
		},
		{
			Key: Key{
				Path: piece + ".fit", Kind: Length, Default: "0", Range: Range{Min: -2, Max: 2},
				Doc: does.fit, Source: given,
			},
			into: func(v *Variant) any { return &at(v).Fit },
		},
	}
}

func glueRow(piece string, at func(*Variant) *float64) row {
	return row{
		Key: Key{
			Path: piece + ".glue", Kind: Length, Default: `"0.1 mm"`, Range: Range{Max: 2},
			Doc: "gap under the piece for the glue", Source: practice,
		},
		into: func(v *Variant) any { return at(v) },
	}
}

func markRow(piece, what string, at func(*Variant) *string) row {
	return row{
		Key: Key{
			Path: piece + ".mark", Kind: YesNo, Default: "true",
			Doc: "whether to engrave " + what + ", where there is room", Source: practice,
		},
		into: func(v *Variant) any { return at(v) },
	}
}

func draftRow(piece string, at func(*Variant) *float64) row {
	return row{
		Key: Key{
			Path: piece + ".draft", Kind: Angle, Default: `"5 deg"`, Range: Range{Max: 45},
			Doc: "draft of the walls, from vertical: 0, or 1 deg and more; under 3 deg the cooled sheet grips them",
			// Male forms: "generally 4 deg" (Thermoforming Quarterly 25(1), SPE, 2006); guides of trade
			// formers give 3, 4 to 5, and 5 to 7.
			Source: "4 to 5 deg on a male form (Thermoforming Quarterly 25(1), SPE, 2006, and guides of trade formers)",
		},
		into: func(v *Variant) any { return at(v) },
	}
}

func standoffRows() []row {
	rows := placementRows("standoff", placed{
		x:    "offset along the blade, towards the tip, from just before the handle",
		y:    "offset across the blade, towards the spine, from its middle",
		cant: "turn of the long axis, from the tip's direction towards the spine's",
		fit:  "added to the gap between the underside and the blade; less than 0 is tighter",
	}, func(v *Variant) *measures.Placement { return &v.Spec.Standoff.Placement })
	return append(
		rows,
		row{
			Key: Key{
				Path: "standoff.side_clearance", Kind: Length, Default: `"0.3 mm"`, Range: Range{Max: 5},
				Doc: "gap round the plate, on each side", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Standoff.SideClearance },
		},
		row{
			Key: Key{
				Path: "standoff.clearance", Kind: Length, Default: `"0.4 mm"`, Range: Range{Max: 10},
				Doc: "gap between the plate and the blade's face; 0.3 to 0.5 mm is usual", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Standoff.Clearance },
		},
		glueRow("standoff", func(v *Variant) *float64 { return &v.Spec.Standoff.Glue }),
		draftRow("standoff", func(v *Variant) *float64 { return &v.Spec.Standoff.DraftDeg }),
		row{
			Key: Key{
				Path: "standoff.edge_radius", Kind: Length, Default: `"1 mm"`, Range: Range{Max: 10},
				Doc:    "radius of the upper edge; the sheet's own thickness is kinder to it, where the boss is high enough",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Standoff.EdgeRadius },
		},
		row{
			Key: Key{
				Path: "standoff.height", Kind: Length, Default: "0", Range: Range{Max: 80},
				Doc:    "height of the top over the knife's middle; 0: as the plate and the clip ask",
				Source: given,
			},
			into: func(v *Variant) any { return &v.Spec.Standoff.Height },
		},
		markRow("standoff", "the variant's name and the hand in the underside", func(v *Variant) *string { return &v.Spec.Standoff.Mark }),
	)
}

func rampRows() []row {
	rows := placementRows("ramp", placed{
		x:    "offset of the end towards the tip; the other end is at the handle or the mouth",
		y:    "added to the lap over the blade",
		cant: "turn of the draw from the blade's axis, with which the whole ramp turns",
		fit:  "added to the gaps to the blade's faces, its outline and the handle",
	}, func(v *Variant) *measures.Placement { return &v.Spec.Ramp.Placement })
	return append(
		rows,
		row{
			Key: Key{
				Path: "ramp.clearance", Kind: Length, Default: `"0.2 mm"`, Range: Range{Max: 5},
				Doc: "running clearance over what passes on the way out", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Ramp.Clearance },
		},
		row{
			Key: Key{
				Path: "ramp.grace", Kind: Length, Default: `"0.01 mm"`, Range: Range{Max: 0.05},
				Doc:    "how deep the sheet of one face may bind and be left without a ramp; from 0.05 mm a maker feels it",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Ramp.Grace },
		},
		row{
			Key: Key{
				Path: "ramp.lock", Kind: Length, Default: "0", Range: Range{Max: 0.6},
				Doc:    "lock that the ramp keeps near the handle: by how much both halves together must open to let the full stock past; 0.2 to 0.6 mm is usual, 0: none",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Ramp.Lock },
		},
		row{
			Key: Key{
				Path: "ramp.lap", Kind: Length, Default: `"5 mm"`, Range: Range{Above: true, Max: 50},
				Doc: "how far the cheeks lap over the blade, to be glued", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Ramp.Lap },
		},
		row{
			Key: Key{
				Path: "ramp.wall", Kind: Length, Default: `"0.8 mm"`, Range: Range{Min: 0.2, Max: 10},
				Doc: "least wall that can be printed; two beads of a 0.4 mm nozzle", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Ramp.Wall },
		},
		glueRow("ramp", func(v *Variant) *float64 { return &v.Spec.Ramp.Glue }),
		draftRow("ramp", func(v *Variant) *float64 { return &v.Spec.Ramp.DraftDeg }),
		row{
			Key: Key{
				Path: "ramp.split", Kind: Choice, Default: `"auto"`,
				Choices: []string{string(measures.SplitAuto), string(measures.SplitNever), string(measures.SplitAlways)},
				Doc:     "whether to make one piece for each face; auto: where one for both cannot be slid on from the edge",
				Source:  given,
			},
			into: func(v *Variant) any { return &v.Spec.Ramp.Split },
		},
		markRow("ramp", "the variant's name in the underside of a cheek", func(v *Variant) *string { return &v.Spec.Ramp.Mark }),
	)
}

func drainRows() []row {
	rows := placementRows("drain", placed{
		x:    "offset along the insert's axis, out of the tip",
		y:    "offset across that axis, towards the spine",
		cant: "turn of the axis from the tip's bisector, towards the spine",
		fit:  "added to the slit's play on every side; less than 0 is tighter",
	}, func(v *Variant) *measures.Placement { return &v.Spec.Drain.Placement })
	return append(
		rows,
		row{
			Key: Key{
				Path: "drain.diameter", Kind: Length, Default: `"5 mm"`, Range: Range{Min: 2, Max: 25},
				Doc: "diameter at the narrow end, over the tip; surface tension holds water in a round hole under about 4 mm",
				// Head held in a round hole of diameter w: 4 gamma / (rho g w), 7.4 mm at 4 mm.
				Source: "capillary rise (Jurin's law) at 4 to 5 mm",
			},
			into: func(v *Variant) any { return &v.Spec.Drain.Diameter },
		},
		row{
			Key: Key{
				Path: "drain.taper", Kind: Angle, Default: `"3 deg"`, Range: Range{Max: 30},
				Doc:    "taper on each side; the channel widens outwards",
				Source: "least draft on a male form (guides of trade formers)",
			},
			into: func(v *Variant) any { return &v.Spec.Drain.TaperDeg },
		},
		row{
			Key: Key{
				Path: "drain.length", Kind: Length, Default: "0", Range: Range{Max: 100},
				Doc: "length beyond the tip; 0: far enough to pass the trim line", Source: given,
			},
			into: func(v *Variant) any { return &v.Spec.Drain.Length },
		},
		row{
			Key: Key{
				Path: "drain.lap", Kind: Length, Default: `"8 mm"`, Range: Range{Above: true, Max: 60},
				Doc: "how far the insert reaches back over the tip", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Drain.Lap },
		},
	)
}

func nubRows() []row {
	rows := placementRows("nub", placed{
		x:    "offset of a loose nub along the blade, towards the tip, from where the boss's middle would be",
		y:    "offset of a loose nub across the blade, towards the spine",
		cant: "turn; a nub is round, so that nothing changes",
		fit:  "taken from the base on every side; less than 0 is wider",
	}, func(v *Variant) *measures.Placement { return &v.Spec.Nub.Placement })
	return append(
		rows,
		row{
			Key: Key{
				Path: "nub.angle", Kind: Angle, Range: Range{Min: 60, Max: 175}, Example: `"120 deg"`,
				Unset:  "120 deg for a hole.point_angle up to 118, 145 deg up to 140, else 5 deg more than it",
				Doc:    "included angle of the nub, larger than the drill's, so that the drill's tip lands first",
				Source: "starter angles for drills of 118 and of 135 to 140 deg (Today's Machining World, October 2006)",
			},
			into:   func(v *Variant) any { return &v.Spec.Nub.AngleDeg },
			reckon: func(n numbers) *big.Rat { return nubAngle(n["hole.point_angle"]) },
		},
		row{
			Key: Key{
				Path: "nub.base", Kind: Length, Default: "0", Range: Range{Max: 25},
				Doc: "diameter of the base; 0: hole.diameter less nub.margin", Source: given,
			},
			into: func(v *Variant) any { return &v.Spec.Nub.Base },
		},
		row{
			Key: Key{
				Path: "nub.margin", Kind: Length, Default: `"1 mm"`, Range: Range{Above: true, Max: 20},
				Doc: "how much the base is under hole.diameter, so that the drill takes all of the dimple", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Nub.Margin },
		},
		row{
			Key: Key{
				Path: "nub.holes", Kind: Text, Example: `"snap 60 4 5; loop 80 4 5 left"`, Unset: "none",
				Doc: "further holes that want a loose nub: name, x and y on the blade and diameter in mm, and the face where it is not the right, with semicolons between them",
			},
			into: func(v *Variant) any { return &v.Spec.Nub.Holes },
			usable: func(text string) string {
				if text == "" {
					return "without holes leave the key out"
				}
				_, err := measures.ParseHoles(text)
				return wordsOf(err)
			},
		},
	)
}

// nubAngle is the nub's angle for a drill's, both in degrees.
func nubAngle(point *big.Rat) *big.Rat {
	switch {
	case point == nil:
		return nil
	case point.Cmp(big.NewRat(118, 1)) <= 0:
		return big.NewRat(120, 1)
	case point.Cmp(big.NewRat(140, 1)) <= 0:
		return big.NewRat(145, 1)
	default:
		return new(big.Rat).Add(point, big.NewRat(5, 1))
	}
}
