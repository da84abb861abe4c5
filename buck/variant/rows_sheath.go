package variant

import (
	"math/big"

	"formbuck/buck/measures"
)

func sheetRows() []row {
	return []row{
		{
			Key: Key{
				Path: "sheet.thickness", Kind: Length, Default: `"2 mm"`, Range: Range{Min: 0.4, Max: 6.5},
				Doc: "thickness of the sheet before forming",
				// Stocked gauges run from 0.028 in (0.71 mm) to 0.187 in (4.75 mm).
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Sheet.Thickness },
		},
		{
			Key: Key{
				Path: "sheet.boss_thickness", Kind: Length, Range: Range{Above: true, Max: 6.5},
				Example: "1.8", Unset: "0.9 of sheet.thickness",
				Doc: "thickness of the sheet over the boss's top",
				// Foam holds the sheet on the top first, so that it keeps its gauge but for what slips off
				// as the wall is drawn: the mean over all that is drawn bounds that from below, 0.90 for a
				// pill of 50 x 16 mm that stands 4 mm high and is fed from a ring 20 mm wide.
				Source: "common practice, no source; between the areal draw ratio's mean (Thermoforming Quarterly 24(4), SPE, 2005) and the gauge",
			},
			into:   func(v *Variant) any { return &v.Spec.Sheet.BossThickness },
			reckon: func(n numbers) *big.Rat { return n.times(9, 10, "sheet.thickness") },
		},
	}
}

func tapeRows() []row {
	return []row{
		{
			Key: Key{
				Path: "tape.layers", Kind: Count, Default: "2", Range: Range{Max: 20},
				Doc: "layers of tape on each face of the blade", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Tape.Layers },
		},
		{
			Key: Key{
				Path: "tape.thickness", Kind: Length, Default: `"0.14 mm"`, Range: Range{Above: true, Max: 2},
				Doc:    "thickness of one layer: a tenth of ten layers measured under pressure, as ASTM D3652 does",
				Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Tape.Thickness },
		},
		{
			Key: Key{
				Path: "tape.tip_gap", Kind: Length, Default: `"12 mm"`, Range: Range{Max: 150},
				Doc:    "how far before the tip the tape stops, so that the bare tip is held from rattling",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Tape.TipGap },
		},
	}
}

func plateRows() []row {
	return []row{
		{
			Key: Key{
				Path: "plate.length", Kind: Length, Default: `"42 mm"`, Range: Range{Above: true, Max: 150},
				Doc: "length of the plate, end to end", Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Plate.Length },
		},
		{
			Key: Key{
				Path: "plate.width", Kind: Length, Default: `"12 mm"`, Range: Range{Above: true, Max: 60},
				Doc: "width of the plate", Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Plate.Width },
		},
		{
			Key: Key{
				Path: "plate.thickness", Kind: Length, Default: `"1.5 mm"`, Range: Range{Above: true, Max: 10},
				Doc: "thickness of the plate without its posts", Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Plate.Thickness },
		},
		{
			Key: Key{
				Path: "plate.post_spacing", Kind: Length, Default: `"30 mm"`, Range: Range{Above: true, Max: 150},
				Doc: "distance of the two posts, centre to centre", Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Plate.PostSpacing },
		},
		{
			Key: Key{
				Path: "plate.post_diameter", Kind: Length, Default: `"6 mm"`, Range: Range{Above: true, Max: 20},
				Doc:    "diameter of a post; hole.diameter is usually 0.2 to 0.4 mm wider",
				Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Plate.PostDiameter },
		},
	}
}

func clipRows() []row {
	return []row{
		{
			Key: Key{
				Path: "clip.length", Kind: Length, Default: `"60 mm"`, Range: Range{Above: true, Max: 200},
				Doc: "length of the clip's footprint, along the boss and centred over it", Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Clip.Length },
		},
		{
			Key: Key{
				Path: "clip.width", Kind: Length, Default: `"14 mm"`, Range: Range{Above: true, Max: 100},
				Doc: "width of the clip's footprint, across the boss", Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Clip.Width },
		},
		{
			Key: Key{
				Path: "clip.thickness", Kind: Length, Default: `"1.6 mm"`, Range: Range{Above: true, Max: 12},
				Doc: "thickness of the clip where its screws go through", Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Clip.Thickness },
		},
		{
			Key: Key{
				Path: "clip.clearance", Kind: Length, Default: `"1 mm"`, Range: Range{Max: 20},
				Doc:    "gap between the clip and what lies under it: the bare handle, and the formed sheath, where it leans up to the boss's top, too",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Clip.Clearance },
		},
	}
}

func screwRows() []row {
	return []row{
		{
			Key: Key{
				Path: "screw.diameter", Kind: Length, Default: `"0.164 in"`, Range: Range{Above: true, Max: 12},
				Doc:    "diameter of the screws' thread; 0.164 in is number 8, whose posts are threaded 32 to the inch",
				Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Screw.Diameter },
		},
		{
			Key: Key{
				Path: "screw.washer", Kind: Length, Default: "0", Range: Range{Max: 10},
				Doc: "thickness of the washers under the screws' heads; 0: none", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Screw.Washer },
		},
		{
			Key: Key{
				Path: "screw.lengths", Kind: Text, Default: `"3/16 in, 1/4 in, 5/16 in, 3/8 in, 1/2 in"`,
				Doc: "lengths under the head of the screws in stock, with commas between them", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Screw.Lengths },
			usable: func(text string) string {
				_, err := measures.ParseLengths(text)
				return wordsOf(err)
			},
		},
		{
			Key: Key{
				Path: "screw.post_height", Kind: Length, Range: Range{Above: true, Max: 40},
				Example: "3.0", Unset: "sheet.boss_thickness and clip.thickness less 0.4 mm, so that the screws draw both together",
				Doc:    "height of the plate's threaded posts over the plate, measured",
				Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Screw.PostHeight },
			reckon: func(n numbers) *big.Rat {
				sheet, clip := n["sheet.boss_thickness"], n["clip.thickness"]
				if sheet == nil || clip == nil {
					return nil
				}
				high := new(big.Rat).Add(sheet, clip)
				if high.Sub(high, big.NewRat(2, 5)); high.Cmp(big.NewRat(1, 10)) < 0 {
					return big.NewRat(1, 10)
				}
				return high
			},
		},
	}
}

func holeRows() []row {
	return []row{
		{
			Key: Key{
				Path: "hole.diameter", Kind: Length, Default: `"1/4 in"`, Range: Range{Above: true, Max: 25},
				Doc: "diameter of a post hole, and of its drill", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Hole.Diameter },
		},
		{
			Key: Key{
				Path: "hole.point_angle", Kind: Angle, Default: `"118 deg"`, Range: Range{Min: 60, Max: 170},
				Doc:    "included angle of the drill's point: 118 for general use, 135 for hard metals, 60 to 90 for plastics",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Hole.PointAngleDeg },
		},
		{
			Key: Key{
				Path: "hole.sink", Kind: Length, Default: "0", Range: Range{Max: 40},
				Doc: "diameter of the post holes' countersink in the sheath's outer face; 0: none", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Hole.SinkDiameter },
		},
		{
			Key: Key{
				Path: "hole.sink_angle", Kind: Angle, Default: `"82 deg"`, Range: Range{Min: 60, Max: 120},
				Doc:    "included angle of that countersink: 82 for inch screws, 90 for metric ones; mixed they touch on an edge alone",
				Source: "ASME B18.3 and B18.6.3 (82 deg), ISO 10642 (90 deg), from memory",
			},
			into: func(v *Variant) any { return &v.Spec.Hole.SinkAngleDeg },
		},
	}
}

func eyeletRows() []row {
	return []row{
		{
			Key: Key{
				Path: "eyelet.hole", Kind: Length, Default: `"1/4 in"`, Range: Range{Above: true, Max: 25},
				Doc: "diameter of an eyelet's hole in the rim", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Eyelet.Hole },
		},
		{
			Key: Key{
				Path: "eyelet.flange", Kind: Length, Default: `"9.5 mm"`, Range: Range{Above: true, Max: 40},
				Doc: "diameter of the eyelet's flange, measured: sizes by name mean little", Source: measured,
			},
			into: func(v *Variant) any { return &v.Spec.Eyelet.Flange },
		},
		{
			Key: Key{
				Path: "eyelet.die", Kind: Length, Range: Range{Above: true, Max: 60},
				Example: "9.5", Unset: "as eyelet.flange",
				Doc: "outer diameter of the setting die", Source: measured,
			},
			into:   func(v *Variant) any { return &v.Spec.Eyelet.Die },
			reckon: func(n numbers) *big.Rat { return n.times(1, 1, "eyelet.flange") },
		},
	}
}
