// Package variant reads a variant file: one knife with its drawing, its measures, the sheet, the
// hardware and the pieces of its forming buck.
//
// The file is TOML 1.0 in UTF-8. Three keys are required; all others have a default:
//
//	[drawing]
//	file = "thistle.dxf"
//
//	[blade]
//	thickness = "1/8 in"
//
//	[handle]
//	thickness = 22
//
// A length is a number of mm or a quantity in quotes, an angle a number of degrees or a quantity in
// quotes (package quantity says what is understood). Keys lists every key with its kind, range,
// default and the default's source; decoding, checking and the starter file all follow that list.
//
// Reading is strict. Nothing is ignored: an unknown key, a misspelt choice, a unit of the wrong
// kind, a value that no knife has, or values that cannot stand together are all refused, every one
// of them at once, each with its place in the file. Checks that need the drawing's geometry are
// package buck's; Variant.Where tells the place of the key to blame.
package variant
