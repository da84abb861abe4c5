package profile

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"formbuck/profile/dxf"
)

// statedUnits is what one drawing unit is: as asked, or as the header says; Unitless where neither tells.
// The phrase says which.
func statedUnits(d *dxf.Drawing, asked string) (unit dxf.Units, by string, err error) {
	if asked != "" {
		u, ok := dxf.ParseUnits(asked)
		if !ok {
			return 0, "", dxf.Faults{{File: d.File, Class: dxf.NoUnits, What: fmt.Sprintf("unit %q is none of mm, cm, m, in, ft", asked)}}
		}
		return u, "as asked for", nil
	}
	if d.Units.MM() > 0 {
		return d.Units, "$INSUNITS of the drawing", nil
	}
	return dxf.Unitless, "", nil
}

// guessUnits finds the units of a drawing that states none from the length of what is in it, in drawing
// units: those in which it is a knife's, where that is one alone or the drawing hints at it.
func guessUnits(d *dxf.Drawing, long float64) (dxf.Units, string, error) {
	inches := knifeLong(long * dxf.Inches.MM())
	switch {
	case long == 0:
		return dxf.Millimetres, "not stated; nothing to measure", nil
	case knifeLong(long):
		return dxf.Millimetres, fmt.Sprintf("not stated; taken as mm because %.4g mm can be a knife and %.4g in cannot", long, long), nil
	case inches && d.Measure == dxf.Imperial:
		return dxf.Inches, fmt.Sprintf("not stated; taken as inches because $MEASUREMENT is imperial and %.4g in can be a knife", long), nil
	}
	return 0, "", unitsFault(d, long)
}

// unitsFault says which units would make a knife of a drawing that states none, the likeliest first; where none would, in
// which it comes nearest to one.
func unitsFault(d *dxf.Drawing, long float64) error {
	units := slices.DeleteFunc(slices.Clone(knifeUnits), func(u dxf.Units) bool { return u == dxf.Feet })
	off := func(u dxf.Units) float64 { return math.Abs(math.Log(long * u.MM() / usualKnife)) }
	slices.SortStableFunc(units, func(a, b dxf.Units) int { return cmp.Compare(off(a), off(b)) })
	what := fmt.Sprintf("the drawing states no units and is %.4g units long", long)
	n := 0
	for _, u := range units {
		mm := long * u.MM()
		switch {
		case !knifeLong(mm):
		case n == 0:
			what += fmt.Sprintf(": in %s the knife is %s long: state drawing.units = %q", unitWords[u], figureOf(mm), u)
			n++
		default:
			what += fmt.Sprintf("; in %s %s: %q", unitWords[u], figureOf(mm), u)
		}
	}
	if n == 0 {
		u := units[0]
		mm := long * u.MM()
		advice := cmp.Or(scaleOf(mm), "draw it 1:1")
		what += fmt.Sprintf(", which is no knife in any: in %s it is %s long: %s, and state drawing.units = %q", unitWords[u], figureOf(mm), advice, u)
	}
	return dxf.Faults{{File: d.File, Class: dxf.NoUnits, What: what}}
}
