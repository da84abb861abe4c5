package variant

import "formbuck/buck/measures"

// layoutRows are what the sheath around the buck is laid out by.
func layoutRows() []row {
	return append(layoutLengths(),
		row{
			Key: Key{
				Path: "layout.stretch", Kind: Share, Default: `"3 %"`, Range: Range{Max: 15},
				Doc: "by which the blank is longer along the extrusion, since reheated sheet shrinks that way",
				// 3 % along the extrusion and half a percent of growth across it, for reheated extruded acrylic;
				// limits for extruded PVC are 2.2 to 2.4 %.
				Source: "a fabricator's note on extruded acrylic, 2006: up to 3 %",
			},
			into: func(v *Variant) any { return &v.Spec.Layout.StretchPercent },
		},
		row{
			Key: Key{
				Path: "layout.extrusion", Kind: Choice, Default: `"along"`, Choices: []string{measures.Along, measures.Across},
				Doc: "how the blank's extrusion lies on the knife: along it or across", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Layout.Extrusion },
		},
		row{
			Key: Key{
				Path: "layout.flare_angle", Kind: Angle, Default: `"15 deg"`, Range: Range{Min: 1, Max: 45},
				Doc: "by which the mouth's flare opens on each side", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Layout.FlareDeg },
		},
		row{
			Key: Key{
				Path: "layout.holes", Kind: Text, Unset: "none", Example: `"snap 60 -32 5"`,
				Doc:    "holes through the flat rim of both halves for other mounts: name, x and y in the blade's frame and diameter in mm, with semicolons between them",
				Source: given,
			},
			into: func(v *Variant) any { return &v.Spec.Layout.Holes },
			usable: func(text string) string {
				if text == "" {
					return "without holes leave the key out"
				}
				_, err := measures.ParseHoles(text)
				return wordsOf(err)
			},
		},
		row{
			Key: Key{
				Path: "layout.no_eyelets", Kind: Text, Unset: "none", Example: `"spine 40 60"`,
				Doc:    "where no part of an eyelet's flange may lie: edge or spine, from one x to another in mm, with semicolons between them",
				Source: given,
			},
			into: func(v *Variant) any { return &v.Spec.Layout.NoEyelets },
			usable: func(text string) string {
				if text == "" {
					return "without such places leave the key out"
				}
				_, err := measures.ParseNoEyelets(text)
				return wordsOf(err)
			},
		},
	)
}

func layoutLengths() []row {
	one := func(name, fallback string, allowed Range, source, doc string, into func(*measures.Layout) *float64) row {
		return row{
			Key:  Key{Path: "layout." + name, Kind: Length, Default: fallback, Range: allowed, Doc: doc, Source: source},
			into: func(v *Variant) any { return into(&v.Spec.Layout) },
		}
	}
	return []row{
		one("pitch", `"32 mm"`, Range{Min: 8, Max: 120}, practice,
			"the most from one eyelet to the next, along their line; they are spaced evenly",
			func(l *measures.Layout) *float64 { return &l.Pitch }),
		one("clearance", `"0.5 mm"`, Range{Max: 10}, practice,
			"gap between an eyelet's flange, or its die, and where the two sheets begin to part",
			func(l *measures.Layout) *float64 { return &l.Clearance }),
		// An edge must not reach metal: 3 to 4 mm of sheet before it.
		one("edge_guard", `"4 mm"`, Range{Max: 40}, practice,
			"least sheet between the cutting edge and an eyelet's hole, so that the edge cannot reach the eyelet",
			func(l *measures.Layout) *float64 { return &l.EdgeGuard }),
		one("rim", `"2 mm"`, Range{Max: 30}, practice,
			"least sheet outside an eyelet's flange; no less than 1.25 hole diameters from the hole's centre in any case",
			func(l *measures.Layout) *float64 { return &l.Rim }),
		one("smooth", `"80 mm"`, Range{Max: 300}, practice,
			"least radius of the trim line's hollows; narrower ones are filled, and none is tighter than the cutter reaches",
			func(l *measures.Layout) *float64 { return &l.Smooth }),
		one("corner", `"3 mm"`, Range{Max: 20}, practice,
			"radius of the two corners at the mouth",
			func(l *measures.Layout) *float64 { return &l.Corner }),
		one("thumb", "0", Range{Max: 60}, practice,
			"radius of a relief for the thumb in the mouth, on the spine's side; 0: none",
			func(l *measures.Layout) *float64 { return &l.Thumb }),
		one("thumb_depth", `"6 mm"`, Range{Above: true, Max: 40}, practice,
			"how deep that relief reaches into the sheath",
			func(l *measures.Layout) *float64 { return &l.ThumbDepth }),
		one("flare", "0", Range{Max: 40}, practice,
			"length along the blade over which the mouth is flared; no eyelet's flange lies on it; 0: none",
			func(l *measures.Layout) *float64 { return &l.Flare }),
		one("handling", `"25 mm"`, Range{Max: 200}, practice,
			"sheet all round the sheath by which the blank is held; 25 to 40 mm is usual",
			func(l *measures.Layout) *float64 { return &l.Handling }),
	}
}
