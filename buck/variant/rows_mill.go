package variant

import (
	"math/big"
	"slices"

	"formbuck/buck/measures"
)

// Where speeds and feeds come from that are not given; buck/program states them in every program's head.
const (
	drilled = "Mechanical Engineer's Data Handbook (Carvill), table 5.7.5, rigid PVC: drilling at 2.5 m/s, 0.05 to 0.13 mm per revolution"
	cut     = "Mechanical Engineer's Data Handbook (Carvill), table 5.7.5, rigid PVC: milling at 5 m/s; a community book on light milling machines: 0.127 to 0.254 mm per tooth in plastics"
)

// millRows are what the sheath's programs are written for.
func millRows() []row {
	return append(append([]row{
		{
			Key: Key{
				Path: "mill.units", Kind: Choice, Default: `"mm"`, Choices: []string{measures.Millimetres, measures.Inches},
				Doc: "units of the programs", Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Mill.Units },
		},
		{
			Key: Key{
				Path: "mill.material", Kind: Choice, Default: `"alloy"`, Choices: []string{measures.Alloy, measures.PVC},
				Doc:    "what the sheet is, for speeds and feeds: an alloy of PVC and acrylic, or rigid PVC",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Mill.Material },
		},
	}, millCutter()...), slices.Concat(millDrill(), millMachine(), millHold())...)
}

// millLength is a row of a length.
func millLength(name, fallback string, allowed Range, source, doc string, into func(*measures.Mill) *float64) row {
	return row{
		Key:  Key{Path: "mill." + name, Kind: Length, Default: fallback, Range: allowed, Doc: doc, Source: source},
		into: func(v *Variant) any { return into(&v.Spec.Mill) },
	}
}

// millFeed is a row of a feed.
func millFeed(name, fallback string, allowed Range, source, doc string, into func(*measures.Mill) *float64) row {
	return row{
		Key:  Key{Path: "mill." + name, Kind: Feed, Default: fallback, Range: allowed, Doc: doc, Source: source},
		into: func(v *Variant) any { return into(&v.Spec.Mill) },
	}
}

// millSpeed is a row of the speed of a spindle.
func millSpeed(name, fallback string, allowed Range, source, doc string, into func(*measures.Mill) *int) row {
	return row{
		Key:  Key{Path: "mill." + name, Kind: Speed, Default: fallback, Range: allowed, Doc: doc, Source: source},
		into: func(v *Variant) any { return into(&v.Spec.Mill) },
	}
}

// millCount is a row of a whole number.
func millCount(name, fallback string, allowed Range, source, doc string, into func(*measures.Mill) *int) row {
	return row{
		Key:  Key{Path: "mill." + name, Kind: Count, Default: fallback, Range: allowed, Doc: doc, Source: source},
		into: func(v *Variant) any { return into(&v.Spec.Mill) },
	}
}

func millCutter() []row {
	return []row{
		millLength("cutter", `"1/4 in"`, Range{Above: true, Max: 25}, practice,
			"diameter of the cutter that trims",
			func(m *measures.Mill) *float64 { return &m.Cutter }),
		millCount("flutes", "2", Range{Min: 1, Max: 8}, practice,
			"flutes of the cutter; one is easier on a light machine",
			func(m *measures.Mill) *int { return &m.Flutes }),
		{
			Key: Key{
				Path: "mill.flute_length", Kind: Length, Range: Range{Above: true, Max: 150}, Example: `"1 in"`, Unset: "four times mill.cutter",
				Doc: "flute length of the cutter, which has to cover the formed walls at the mouth", Source: practice,
			},
			into:   func(v *Variant) any { return &v.Spec.Mill.Flute },
			reckon: func(n numbers) *big.Rat { return n.times(4, 1, "mill.cutter") },
		},
		millLength("allowance", `"0.4 mm"`, Range{Max: 5}, practice,
			"stock that the roughing pass leaves for the finishing pass",
			func(m *measures.Mill) *float64 { return &m.Allowance }),
		millLength("depth", "0", Range{Max: 25}, practice,
			"depth of cut of one pass; 0: half of the cutter's diameter",
			func(m *measures.Mill) *float64 { return &m.Depth }),
		millLength("bite", `"0.3 mm"`, Range{Above: true, Max: 5}, practice,
			"how far the cutter goes into the board below the sheet",
			func(m *measures.Mill) *float64 { return &m.Bite }),
		millSpeed("speed", "0", Range{Max: 60000}, cut,
			"speed of the cutter; 0: chosen from sheet and cutter",
			func(m *measures.Mill) *int { return &m.Speed }),
		millFeed("feed", "0", Range{Max: 20000}, cut,
			"feed of the cutter; 0: chosen from sheet and cutter",
			func(m *measures.Mill) *float64 { return &m.Feed }),
		millFeed("plunge", "0", Range{Max: 20000}, practice,
			"feed of the cutter straight down; 0: a third of mill.feed",
			func(m *measures.Mill) *float64 { return &m.Plunge }),
	}
}

func millDrill() []row {
	return []row{
		millSpeed("drill_speed", "0", Range{Max: 60000}, drilled,
			"speed of the drills; 0: chosen from sheet and drill",
			func(m *measures.Mill) *int { return &m.DrillSpeed }),
		millFeed("drill_feed", "0", Range{Max: 20000}, drilled,
			"feed of the drills; 0: chosen from sheet and drill",
			func(m *measures.Mill) *float64 { return &m.DrillFeed }),
		millLength("peck", "0", Range{Max: 25}, practice,
			"peck depth of the drills; 0: half of the diameter, in holes deeper than that",
			func(m *measures.Mill) *float64 { return &m.Peck }),
		millLength("through", `"1 mm"`, Range{Above: true, Max: 10}, "1 to 1.5 mm; 1.27 mm in a worked guide to drill points",
			"how far the drill's full diameter goes beyond the sheet",
			func(m *measures.Mill) *float64 { return &m.Through }),
	}
}

// millMachine are what the machine does, and the words it is told in.
func millMachine() []row {
	return []row{
		millLength("safe", `"5 mm"`, Range{Min: 1, Max: 100}, practice,
			"clearance height for rapid moves, over the highest of work, pins and clamps",
			func(m *measures.Mill) *float64 { return &m.Safe }),
		millFeed("rapid", `"3000 mm/min"`, Range{Min: 50, Max: 60000}, practice,
			"rapid rate of the machine; only times depend on it",
			func(m *measures.Mill) *float64 { return &m.Rapid }),
		millFeed("max_feed", `"5000 mm/min"`, Range{Min: 50, Max: 60000}, practice,
			"highest feed of the machine",
			func(m *measures.Mill) *float64 { return &m.MaxFeed }),
		millSpeed("max_speed", `"24000 rpm"`, Range{Min: 500, Max: 100000}, practice,
			"highest speed of its spindle",
			func(m *measures.Mill) *int { return &m.MaxSpeed }),
		{
			Key: Key{
				Path: "mill.dialect", Kind: Choice, Default: `"full"`, Choices: []string{measures.FullDialect, measures.PlainDialect},
				Doc: "words of the programs: full for controllers that read RS-274; plain for small open ones, " +
					"without canned cycles, path tolerance and tool changes",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Mill.Dialect },
		},
		{
			Key: Key{
				Path: "mill.tool_change", Kind: Choice, Default: `"m6"`, Choices: []string{measures.ByM6, measures.ByHand},
				Doc:    "how a program names its tool: by T and M6, or in its head alone, for a machine that knows no M6; plain programs: none",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Mill.ToolChange },
			choose: func(words map[string]string) string {
				if words["mill.dialect"] == measures.PlainDialect {
					return `"none"`
				}
				return ""
			},
		},
	}
}

// millHold are what holds the work.
func millHold() []row {
	return []row{
		{
			Key: Key{
				Path: "mill.hold", Kind: Choice, Default: `"clamps"`, Choices: []string{measures.Clamps, measures.Vacuum},
				Doc:    "what holds the work: clamps, and washers on the pins; or vacuum, or tape, under all of the rim, of waste and sheath",
				Source: practice,
			},
			into: func(v *Variant) any { return &v.Spec.Mill.Hold },
		},
		millLength("board", `"25 mm"`, Range{Min: 1, Max: 200}, practice,
			"thickness of the spoilboard under the sheet",
			func(m *measures.Mill) *float64 { return &m.Board }),
		millLength("clamp", `"12 mm"`, Range{Max: 100}, practice,
			"side of the clamps' pads on the blank's four corners; 0: none, so that mill.hold has to hold the work",
			func(m *measures.Mill) *float64 { return &m.Clamp }),
		millLength("clamp_height", `"15 mm"`, Range{Above: true, Max: 100}, practice,
			"height of the clamps over the board",
			func(m *measures.Mill) *float64 { return &m.ClampHeight }),
		millLength("pin_height", `"8 mm"`, Range{Above: true, Max: 60}, practice,
			"height of the pins over the board, with nut and washer",
			func(m *measures.Mill) *float64 { return &m.PinHeight }),
		{
			Key: Key{
				Path: "mill.washer", Kind: Length, Range: Range{Max: 60}, Example: `"9.5 mm"`, Unset: "as eyelet.flange",
				Doc: "diameter of the washers on the pins that hold the sheath down; 0: none, so that mill.hold has to hold the work", Source: practice,
			},
			into:   func(v *Variant) any { return &v.Spec.Mill.Washer },
			reckon: func(n numbers) *big.Rat { return n.times(1, 1, "eyelet.flange") },
		},
	}
}

// millBounds hold rates to what the machine does.
func millBounds() []bound {
	var all []bound
	for _, path := range []string{"mill.feed", "mill.plunge", "mill.drill_feed"} {
		all = append(all, bound{small: one(path), large: one("mill.max_feed"), why: "the machine does not feed so fast"})
	}
	for _, path := range []string{"mill.speed", "mill.drill_speed"} {
		all = append(all, bound{small: one(path), large: one("mill.max_speed"), why: "the spindle does not turn so fast"})
	}
	return all
}
