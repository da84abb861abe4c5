package variant

import (
	"math/big"
	"slices"

	"formbuck/buck/measures"
)

func topRows() []row {
	return []row{
		{
			Key: Key{
				Path: "name", Kind: Text, Example: `"thistle"`, Unset: "the file's name without its ending",
				Doc: "name of the variant; the names of its files begin with it",
			},
			into:   func(v *Variant) any { return &v.Spec.Name },
			usable: faultOfName,
		},
		{
			Key: Key{
				Path: "base", Kind: Text, Example: `"thistle.toml"`, Unset: "the file stands for itself",
				Doc: "variant file that this one builds on: whatever is not given here is as it is there; its path is seen from this file",
			},
			into:   func(v *Variant) any { return &v.Base },
			usable: faultOfBase,
		},
		{
			Key: Key{
				Path: "hands", Kind: List, Choices: handNames(),
				Default: `["right", "left", "both", "plain"]`,
				Doc:     "hands to make pieces for; which face the boss of each is on, carry tells",
				Source:  practice,
			},
			into: func(v *Variant) any { return &v.Spec.Hands },
		},
		{
			Key: Key{
				Path: "carry", Kind: Choice, Default: `"hip"`, Choices: carryNames(),
				Doc: "how the sheath is carried, tip down on the hip with the edge to the rear (hip) or to the front (forward), or along the belt with the edge down, in front (horizontal) or at the back (behind), " +
					"its handle to the hand's side. The boss is on the face that looks to the body: for the right hand the left one (hip, horizontal) or the right one (forward, behind)",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Carry },
		},
	}
}

func handNames() []string {
	var names []string
	for _, hand := range measures.Hands() {
		names = append(names, string(hand))
	}
	return names
}

func carryNames() []string {
	var names []string
	for _, carry := range measures.Carries() {
		names = append(names, string(carry))
	}
	return names
}

func drawingRows() []row {
	return []row{
		{
			Key: Key{
				Path: "drawing.file", Kind: Text, Required: true, Example: `"thistle.dxf"`,
				Doc: "the knife's plan in DXF, its path seen from the variant file",
			},
			into:   func(v *Variant) any { return &v.Drawing.File },
			usable: faultOfDrawingFile,
		},
		{
			Key: Key{
				Path: "drawing.units", Kind: Choice, Choices: []string{"mm", "cm", "m", "in", "ft"},
				Example: `"mm"`, Unset: "as the drawing's header says",
				Doc: "what one unit of the drawing is",
			},
			into: func(v *Variant) any { return &v.Drawing.Units },
		},
		{
			Key: Key{
				Path: "drawing.tip", Kind: Direction, Range: Range{Min: -360, Max: 360},
				Example: `"right"`, Unset: "found from the drawing",
				Doc: "where the tip points in the drawing: a word, or an angle from the x axis towards y",
			},
			into: func(v *Variant) any { return &v.Drawing.TipDeg },
		},
		{
			Key: Key{
				Path: "drawing.edge", Kind: Direction, Range: Range{Min: -360, Max: 360},
				Example: `"down"`, Unset: "found from the drawing",
				Doc: "where the cutting edge faces in the drawing",
			},
			into: func(v *Variant) any { return &v.Drawing.EdgeDeg },
		},
		{
			Key: Key{
				Path: "drawing.join_gap", Kind: Length, Default: `"0.05 mm"`, Range: Range{Max: 1},
				Doc:    "widest gap between two line ends that is closed without asking",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Drawing.JoinGap },
		},
	}
}

func layerRows() []row {
	layer := func(role, doc string, into func(*Layers) *string) row {
		return row{
			Key: Key{
				Path: "drawing.layers." + role, Kind: Text, Example: `"` + role + `"`,
				Unset: "the layer named " + role, Doc: doc,
			},
			into:   func(v *Variant) any { return into(&v.Drawing.Layers) },
			usable: faultOfLayer,
		}
	}
	rows := []row{
		layer("outline", "layer of the knife's outline", func(l *Layers) *string { return &l.Outline }),
		layer("handle", "layer of the handle's outline or front", func(l *Layers) *string { return &l.Handle }),
		layer("grind", "layer of the grind line, heel to tip", func(l *Layers) *string { return &l.Grind }),
		layer("throat", "layer of the line where the sheath's mouth lies", func(l *Layers) *string { return &l.Throat }),
		layer("edge", "layer of a line or point beside the cutting edge", func(l *Layers) *string { return &l.Edge }),
		layer("tip", "layer of a line or point at the tip", func(l *Layers) *string { return &l.Tip }),
	}
	rows = append(rows, layer("guard", "layer of lines across the knife at the ends of a guard or bolster, or its outline", func(l *Layers) *string { return &l.Guard }))
	rows = append(rows, layer("swedge", "layer of the line at which a swedge begins, a false edge ground down to the spine", func(l *Layers) *string { return &l.Swedge }))
	rows[0].Unset = "the layer named outline, else the one with the largest closed line"
	return rows
}

func bladeRows() []row { return slices.Concat(stockRows(), grindRows(), swedgeRows()) }

func stockRows() []row {
	return []row{
		{
			Key: Key{
				Path: "blade.thickness", Kind: Length, Required: true, Example: "3.2",
				Range: Range{Above: true, Max: 25},
				Doc:   "thickness of the blade's stock at the heel",
			},
			into: func(v *Variant) any { return &v.Spec.Blade.Thickness },
		},
		{
			Key: Key{
				Path: "blade.tip_thickness", Kind: Length, Range: Range{Above: true, Max: 25},
				Example: "3.2", Unset: "as blade.thickness",
				Doc: "thickness at the tip; less than blade.thickness is a distal taper",
			},
			into:   func(v *Variant) any { return &v.Spec.Blade.TipThickness },
			reckon: func(n numbers) *big.Rat { return n.times(1, 1, "blade.thickness") },
		},
		{
			Key: Key{
				Path: "blade.edge_thickness", Kind: Length, Range: Range{Max: 5},
				Example: "0.4", Unset: "0.4 mm, at most half of blade.tip_thickness",
				Doc: "thickness behind the edge, before it is sharpened", Source: practice,
			},
			into:   func(v *Variant) any { return &v.Spec.Blade.EdgeThickness },
			reckon: func(n numbers) *big.Rat { return atMost(4, 10, n.times(1, 2, "blade.tip_thickness")) },
		},
	}
}

func grindRows() []row {
	return []row{
		{
			Key: Key{
				Path: "blade.grind", Kind: Choice, Default: `"flat"`,
				Choices: []string{string(measures.Flat), string(measures.Hollow), string(measures.Convex)},
				Doc:     "how the blade falls from the grind line to the edge",
				Source:  practice,
			},
			into: func(v *Variant) any { return &v.Spec.Blade.Grind },
		},
		{
			Key: Key{
				Path: "blade.edges", Kind: Count, Default: "1", Range: Range{Min: 1, Max: 2},
				Doc:    "cutting edges: 2 for a dagger, whose spine is an edge, too, with a grind line of its own",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Blade.Edges },
		},
		{
			Key: Key{
				Path: "blade.grind_width", Kind: Length, Default: "0", Range: Range{Max: 150},
				Doc:    "from the edge to the grind line, where none is drawn; 0: six tenths of the blade's width at the heel, half of it with two edges",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Blade.GrindWidth },
		},
		{
			Key: Key{
				Path: "blade.plunge", Kind: Length, Default: "0", Range: Range{Max: 600},
				Doc:    "from the tip back to where the bevel begins, where no grind line is drawn; 0: where the outline tells",
				Source: given,
			},
			into: func(v *Variant) any { return &v.Spec.Blade.Plunge },
		},
		{
			Key: Key{
				Path: "blade.wheel_radius", Kind: Length, Range: Range{Min: 5, Max: 1000},
				Example: `"5 in"`, Unset: "none",
				Doc: "radius of the contact wheel; a hollow grind needs it, others do not use it",
			},
			into: func(v *Variant) any { return &v.Spec.Blade.WheelRadius },
		},
		{
			Key: Key{
				Path: "blade.bulge", Kind: Length, Range: Range{Above: true, Max: 5},
				Example: "0.3", Unset: "none",
				Doc: "how far the grind stands over its chord at mid bevel; a convex grind needs it, others do not use it",
			},
			into: func(v *Variant) any { return &v.Spec.Blade.Bulge },
		},
	}
}

func swedgeRows() []row {
	return []row{{
		Key: Key{
			Path: "swedge.thickness", Kind: Length, Range: Range{Max: 25},
			Example: "1.6", Unset: "half of blade.tip_thickness",
			Doc: "thickness that a swedge leaves at the spine; it counts where the drawing has a line for one", Source: practice,
		},
		into:   func(v *Variant) any { return &v.Spec.Swedge.Thickness },
		reckon: func(n numbers) *big.Rat { return n.times(1, 2, "blade.tip_thickness") },
	}}
}

func handleRows() []row {
	return []row{
		{
			Key: Key{
				Path: "handle.thickness", Kind: Length, Required: true, Example: "22",
				Range: Range{Above: true, Max: 100},
				Doc:   "thickness of the handle, over both faces",
			},
			into: func(v *Variant) any { return &v.Spec.Handle.Thickness },
		},
		{
			Key: Key{
				Path: "handle.rounding", Kind: Length, Range: Range{Max: 50},
				Example: "8", Unset: "8 mm, at most 0.8 of half of handle.thickness",
				Doc: "radius of the handle's rounded edge, all round", Source: practice,
			},
			into:   func(v *Variant) any { return &v.Spec.Handle.Rounding },
			reckon: func(n numbers) *big.Rat { return atMost(8, 1, n.times(4, 10, "handle.thickness")) },
		},
		{
			Key: Key{
				Path: "handle.front", Kind: Length, Default: "0", Range: Range{Max: 600},
				Doc:    "from the tip back to the handle's front, where it is not drawn; 0: not given",
				Source: given,
			},
			into: func(v *Variant) any { return &v.Spec.Handle.Front },
		},
		{
			Key: Key{
				Path: "handle.drawn", Kind: YesNo, Default: "true",
				Doc:    "no: the outline is the blade alone; the handle begins where the outline ends, or at handle.front",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Handle.Drawn },
		},
	}
}

func guardRows() []row {
	return []row{
		{
			Key: Key{
				Path: "guard.thickness", Kind: Length, Default: "0", Range: Range{Max: 100},
				Doc:    "thickness, over both faces, of a guard or bolster ahead of the handle; 0: there is none, or the handle's thickness is its own, too",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Guard.Thickness },
		},
		{
			Key: Key{
				Path: "guard.from", Kind: Length, Default: "0", Range: Range{Max: 600},
				Doc:    "from the tip back to the guard's front, where it is not drawn; 0: not given",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Guard.From },
		},
		{
			Key: Key{
				Path: "guard.to", Kind: Length, Default: "0", Range: Range{Max: 600},
				Doc:    "from the tip back to the guard's back; 0: it reaches back to the handle's front",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Guard.To },
		},
	}
}

func throatRows() []row {
	return []row{{
		Key: Key{
			Path: "throat.depth", Kind: Length, Default: `"10 mm"`, Range: Range{Min: -150, Max: 100},
			Doc: "how far the sheath laps over the handle, where no throat line is drawn; 10 to 25 mm is usual; " +
				"below 0: how far ahead of the handle it ends, and -2 where handle.drawn is no",
			Source: practice,
		},
		choose: func(words map[string]string) string {
			if words["handle.drawn"] == "no" {
				return `"-2 mm"`
			}
			return ""
		},
		into: func(v *Variant) any { return &v.Spec.Throat.Depth },
	}}
}
