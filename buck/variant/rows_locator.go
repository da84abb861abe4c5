package variant

func locatorRows() []row {
	one := func(name, fallback string, allowed Range, doc string, into func(*Variant) any) row {
		return row{
			Key:  Key{Path: "locator." + name, Kind: Length, Default: fallback, Range: allowed, Doc: doc, Source: practice},
			into: into,
		}
	}
	return []row{
		one("fit", `"0.05 mm"`, Range{Max: 2}, "gap between the template and the blade's face, its spine and the handle's front",
			func(v *Variant) any { return &v.Spec.Locator.Fit }),
		one("clearance", `"0.2 mm"`, Range{Max: 2}, "gap between a window and its piece, all round; 0.1 mm is tight, 0.2 mm loose",
			func(v *Variant) any { return &v.Spec.Locator.Clearance }),
		one("thickness", `"2 mm"`, Range{Min: 1, Max: 10}, "thickness of the template's plate",
			func(v *Variant) any { return &v.Spec.Locator.Thickness }),
		one("wall", `"2.4 mm"`, Range{Min: 0.8, Max: 10}, "thickness of the hooks over the spine",
			func(v *Variant) any { return &v.Spec.Locator.Wall }),
		one("hook", `"3 mm"`, Range{Min: 0.5, Max: 20}, "how far the hooks reach down from the template's plate",
			func(v *Variant) any { return &v.Spec.Locator.Hook }),
		one("text", `"5 mm"`, Range{Min: 4, Max: 20}, "height of the capitals engraved in the template",
			func(v *Variant) any { return &v.Spec.Locator.Text }),
	}
}
