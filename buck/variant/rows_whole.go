package variant

func wholeRows() []row {
	one := func(name, fallback string, allowed Range, doc string, into func(*Variant) any) row {
		return row{
			Key:  Key{Path: "whole." + name, Kind: Length, Default: fallback, Range: allowed, Doc: doc, Source: practice},
			into: into,
		}
	}
	return []row{
		one("bed", `"220 mm"`, Range{Min: 50, Max: 2000}, "the longest that the printer's bed takes; a template or a whole printed buck that is longer is cut in two",
			func(v *Variant) any { return &v.Spec.Whole.Bed }),
		one("pin", `"4 mm"`, Range{Min: 1.5, Max: 12}, "diameter of the pins that join the two parts of a whole buck",
			func(v *Variant) any { return &v.Spec.Whole.Pin }),
		one("pin_fit", `"0.15 mm"`, Range{Max: 1}, "by which the pins' holes are wider, on every side: printed holes come out small",
			func(v *Variant) any { return &v.Spec.Whole.PinFit }),
		one("pin_depth", `"12 mm"`, Range{Min: 3, Max: 60}, "how deep a pin goes into either part",
			func(v *Variant) any { return &v.Spec.Whole.PinDepth }),
	}
}
