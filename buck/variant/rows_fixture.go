package variant

import (
	"formbuck/buck/fixture/register"
	"formbuck/buck/measures"
)

// Where the fits come from.
const (
	limits = "ISO 286-1:2010, limits of holes and shafts"
	atEnds = "common practice, no source; measure your own"
)

// fixtureRows are how the pair lies on the mill, and what it lies on.
func fixtureRows() []row {
	return append(append(registerRows(), plateOfFixture()...), row{
		Key: Key{
			Path: "fixture.plate", Kind: Text, Unset: "none: places and zero are the sheath's own", Example: `"hunter-plate/plate.toml"`,
			Doc:    "file of a plate that formbuck fixture made: eyelets, pins, trim line, blank and zero are taken from it",
			Source: given,
		},
		into: func(v *Variant) any { return &v.Spec.Fixture.Plate }, usable: faultOfPlate,
	},
		fixtureLength(Key{
			Path: "cradle.fit", Default: `"0.15 mm"`, Range: Range{Max: 2},
			Doc: "gap between the handle and a printed cradle, all round", Source: practice,
		}, func(f *measures.Fixture) *float64 { return &f.CradleFit }),
	)
}

func faultOfPlate(file string) string { return faultOfFile(file, ".toml", "a plate's file") }

// fixtureText is a row of a text, or of a choice where there are choices.
func fixtureText(k Key, into func(*measures.Fixture) *string, usable func(string) string) row {
	k.Path = "fixture." + k.Path
	return row{Key: k, into: func(v *Variant) any { return into(&v.Spec.Fixture) }, usable: usable}
}

func fixtureLength(k Key, into func(*measures.Fixture) *float64) row {
	k.Kind = Length
	return row{Key: k, into: func(v *Variant) any { return into(&v.Spec.Fixture) }}
}

// faultOfClass says why a text is no class of tolerance.
func faultOfClass(class string) string {
	_, err := register.Class(class).Of(6)
	return wordsOf(err)
}

func registerRows() []row {
	return []row{
		fixtureText(Key{
			Path: "register", Kind: Choice, Default: `"drawing"`, Choices: measures.Registers(),
			Doc:    "how the pair lies on the mill, the buck in it: on pins through two of the knife's holes, the handle in a printed cradle, through a printed guide on the same pins, laid out by the drawing, or from a punched mark by hand. What each can be off is part of every eyelet's margin",
			Source: practice,
		}, func(f *measures.Fixture) *string { return &f.Register }, nil),
		fixtureText(Key{
			Path: "holes", Kind: Text, Unset: "the two farthest apart behind the mouth", Example: `"1 2"`,
			Doc: "the knife's two holes that take pins, by their numbers in the drawing's order", Source: given,
		}, func(f *measures.Fixture) *string { return &f.Holes }, func(text string) string {
			_, err := measures.ParsePair(text)
			return wordsOf(err)
		}),
		fixtureText(Key{
			Path: "hole_fit", Kind: Text, Default: `"H11"`,
			Doc: "class of tolerance of these holes; a reamed hole is H7 to H9", Source: limits + "; that a drilled hole is within H11: " + practice,
		}, func(f *measures.Fixture) *string { return &f.HoleFit }, faultOfClass),
		fixtureText(Key{
			Path: "pin_fit", Kind: Text, Default: `"h8"`,
			Doc: "class of tolerance of the pins in them", Source: limits + "; parallel pins of ISO 2338 are h8 or m6 (from memory)",
		}, func(f *measures.Fixture) *string { return &f.PinFit }, faultOfClass),
		fixtureLength(Key{
			Path: "fixture.pin", Range: Range{Above: true, Max: 30}, Unset: "as wide as the hole that each goes into", Example: `"6 mm"`,
			Doc: "diameter of these pins", Source: given,
		}, func(f *measures.Fixture) *float64 { return &f.Pin }),
		fixtureLength(Key{
			Path: "fixture.drawing_fit", Default: `"0.5 mm"`, Range: Range{Max: 5},
			Doc: "by which a pair that is laid out by its drawing at 1:1 may be off, at either end", Source: atEnds,
		}, func(f *measures.Fixture) *float64 { return &f.DrawingFit }),
		fixtureLength(Key{
			Path: "fixture.hand_fit", Default: `"1 mm"`, Range: Range{Max: 5},
			Doc: "the same where it is laid by hand to punched marks; 0.5 to 1 mm is usual", Source: atEnds,
		}, func(f *measures.Fixture) *float64 { return &f.HandFit }),
		fixtureLength(Key{
			Path: "fixture.guide_fit", Default: `"0.1 mm"`, Range: Range{Max: 1},
			Doc: "gap between a drill or a pin and its hole in a printed guide or pattern, all round; 0.05 to 0.1 mm is usual", Source: practice,
		}, func(f *measures.Fixture) *float64 { return &f.GuideFit }),
		fixtureLength(Key{
			Path: "fixture.bushing", Default: "0", Range: Range{Max: 20},
			Doc: "diameter of the bushings that are pressed into a printed guide; 0: none, the drill runs in the print", Source: practice,
		}, func(f *measures.Fixture) *float64 { return &f.Bushing }),
		fixtureLength(Key{
			Path: "fixture.pattern_offset", Default: "0", Range: Range{Min: -5, Max: 10},
			Doc: "by which a printed trim pattern is smaller than the trim line: 0 for a bearing as wide as its cutter, more for a wider bearing, below 0 for what a saw leaves", Source: practice,
		}, func(f *measures.Fixture) *float64 { return &f.PatternOffset }),
	}
}

// plateOfFixture are the rows of the plate to be made.
func plateOfFixture() []row {
	return []row{
		fixtureText(Key{
			Path: "stock", Kind: Text, Unset: "as large as needed, 12 mm thick", Example: `"350 x 320 x 12"`,
			Doc: "length, width and thickness in mm of what the plate is made from", Source: practice,
		}, func(f *measures.Fixture) *string { return &f.Stock }, func(text string) string {
			_, err := measures.ParseStock(text)
			return wordsOf(err)
		}),
		fixtureText(Key{
			Path: "material", Kind: Choice, Default: `"aluminium"`, Choices: []string{measures.Aluminium, measures.Acetal, measures.MDF},
			Doc: "what the plate is made of, for speeds and feeds", Source: practice,
		}, func(f *measures.Fixture) *string { return &f.Material }, nil),
		fixtureLength(Key{
			Path: "fixture.support", Default: `"8 mm"`, Range: Range{Min: 4, Max: 30},
			Doc: "diameter of the supports under the pair's flat rim", Source: practice,
		}, func(f *measures.Fixture) *float64 { return &f.Support }),
		fixtureLength(Key{
			Path: "fixture.margin", Default: `"3 mm"`, Range: Range{Max: 30},
			Doc: "how far within the supports' outline every hole lies that is drilled, so that no thrust tips the pair", Source: practice,
		}, func(f *measures.Fixture) *float64 { return &f.Margin }),
	}
}
