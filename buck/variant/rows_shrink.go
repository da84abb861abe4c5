package variant

// shrinkRows are the two shrinkages, which are never merged: the sheet shrinks from the hot sheet to the
// cold one, and the print from the hot plastic to the cold piece.
func shrinkRows() []row {
	return []row{
		{
			Key: Key{
				Path: "sheet.shrink", Kind: Share, Default: `"0.4 %"`, Range: Range{Max: 5},
				Doc: "how much the formed sheet shrinks as it cools: the boss is made longer and wider by as much, and the tip needs as much more room",
				// 0.4 % mould shrinkage of rigid PVC; contraction from setting at about 85 C to room
				// temperature, 61e-6 / K over 65 K, gives 0.397 %.
				Source: "0.4 % for rigid PVC (published data of rigid PVC; contraction from 85 to 20 C gives the same)",
			},
			into: func(v *Variant) any { return &v.Spec.Sheet.ShrinkPercent },
		},
		{
			Key: Key{
				Path: "print.shrink", Kind: Share, Default: "0", Range: Range{Max: 5},
				Doc: "how much a print shrinks as it cools, where the printer's own settings do not make up for it: print files are scaled up by as much; 0.2 to 0.3 is usual for polylactide, 0.5 to 0.8 for styrene plastics",
				// 0 leaves the files as large as the pieces: most printing set-ups make up for shrink
				// themselves, and doing it twice is worse than not at all.
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Print.ShrinkPercent },
		},
		{
			Key: Key{
				Path: "print.bed_chamfer", Kind: Length, Default: "0", Range: Range{Max: 0.8},
				Doc:    "chamfer of 45 degrees round the glue face of standoffs, against first layers that are pressed wide on the bed; 0.2 to 0.4 mm is usual",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Print.BedChamfer },
		},
	}
}
