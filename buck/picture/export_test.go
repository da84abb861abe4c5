package picture

import "image/color"

// LengthText, Encode and Decode open the package's own words and tones to its tests.
func LengthText(mm float64) string { return lengthText(mm) }

// Encode turns linear light into an sRGB byte.
func Encode(v float32) uint8 { return newTones().encode(v) }

// Decode turns an sRGB byte into linear light.
func Decode(v uint8) float32 { return newTones().decode(color.NRGBA{R: v}).r }
