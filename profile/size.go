package profile

import (
	"cmp"
	"fmt"
	"math"

	"formbuck/profile/dxf"
)

// Lengths that a knife may have, and that most have, in mm; common practice, no source. What is
// outside the first, or wider than half its length, is no knife unless that is said to be meant.
const (
	shortKnife, longKnife = 40, 600
	shortUsual, longUsual = 80, 400
	usualKnife            = 200
	widestShare           = 0.5
)

// sizeSlack is how far beyond a limit, as a share, a size still is within: rounding of units.
const sizeSlack = 1e-6

// size is the loop's length along its long axis, and its width across, in mm.
func (l Loop) size() (long, wide float64) {
	b := Frame{AngleDeg: l.longAxisDeg()}.path(Path(l)).Bounds()
	return max(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y), min(b.Max.X-b.Min.X, b.Max.Y-b.Min.Y)
}

// knifeLong reports whether a length in mm is a knife's.
func knifeLong(mm float64) bool {
	return mm >= shortKnife*(1-sizeSlack) && mm <= longKnife*(1+sizeSlack)
}

// usual reports whether a length in mm is one that most knives have.
func usual(mm float64) bool { return mm >= shortUsual && mm <= longUsual }

// sizeFault refuses an outline that is no knife's, with the mistake that is likely; where it is said to be
// meant it warns. Where there is no outline, the layer's extent tells, if another unit makes it a knife's.
func (r *reader) sizeFault(used *bucket) {
	what := ""
	if p := r.profile; len(p.Outline) > 0 {
		long, wide := p.Outline.size()
		switch {
		case !knifeLong(long):
			what = fmt.Sprintf("the outline is %s long (units %s, %s), which is no knife: %s", figureOf(long), p.Units, p.UnitsBy, r.mistake(long))
		case wide > widestShare*long*(1+sizeSlack):
			what = fmt.Sprintf("the outline is %s long and %s wide, wider than half its length, which is no knife: is it a sheet's frame or another part? name the layer of the knife's outline (drawing.layers.outline)",
				figureOf(long), figureOf(wide))
		}
	} else if used != nil {
		long := used.extent()
		if _, ok := betterUnit(long, p.Scale); ok && !knifeLong(long) {
			what = fmt.Sprintf("layer %s is %s long (units %s, %s), which is no knife: %s", used.name, figureOf(long), p.Units, p.UnitsBy, r.mistake(long))
		}
	}
	switch {
	case what == "":
	case r.options.Unfinished:
		r.warn(0, "%s", what)
	default:
		r.faults = append(r.faults, &dxf.Fault{File: r.profile.File, Class: dxf.ImplausibleSize, What: what})
	}
}

// extent is the longest side of the box of what is on a layer, in mm.
func (b *bucket) extent() float64 {
	if len(b.strands) == 0 {
		return 0
	}
	box := b.strands[0].path.Bounds()
	for _, s := range b.strands[1:] {
		x := s.path.Bounds()
		box = grow(grow(box, x.Min), x.Max)
	}
	return max(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y)
}

// mistake says what is likely to be wrong with a length that is no knife's.
func (r *reader) mistake(long float64) string {
	if u, ok := betterUnit(long, r.profile.Scale); ok {
		return fmt.Sprintf("drawn in %s? state drawing.units = %q", unitWords[u], u)
	}
	return cmp.Or(scaleOf(long), "draw it 1:1, and state drawing.units if they are wrong")
}

// scaleOf says at which scale a length in mm that is no knife's may be drawn; empty where none is likely.
func scaleOf(long float64) string {
	for _, times := range []float64{10, 5, 4, 20, 100} {
		switch {
		case long > longKnife && usual(long/times):
			return fmt.Sprintf("drawn %.0f times as large? draw it 1:1", times)
		case long < shortKnife && usual(long*times):
			return fmt.Sprintf("drawn at 1:%.0f? draw it 1:1", times)
		}
	}
	return ""
}

// unitWords are the units that a knife is drawn in, in words.
var unitWords = map[dxf.Units]string{
	dxf.Millimetres: "millimetres", dxf.Inches: "inches", dxf.Centimetres: "centimetres", dxf.Metres: "metres", dxf.Feet: "feet",
}

// knifeUnits are those units, the likeliest first.
var knifeUnits = []dxf.Units{dxf.Millimetres, dxf.Inches, dxf.Centimetres, dxf.Metres, dxf.Feet}

// betterUnit is the unit, other than the one with the given scale, in which a length that was read as so many mm comes
// nearest to what most knives have; false where it is a knife's in none.
func betterUnit(mm, scale float64) (best dxf.Units, ok bool) {
	off := math.Inf(1)
	for _, u := range knifeUnits {
		long := mm / scale * u.MM()
		if d := math.Abs(math.Log(long / usualKnife)); u.MM() != scale && knifeLong(long) && usual(long) && d < off {
			best, off, ok = u, d, true
		}
	}
	return best, ok
}

// figureOf is a length in mm for a message.
func figureOf(mm float64) string { return fmt.Sprintf("%.4g mm", mm) }
