package profile

import (
	"fmt"
	"strconv"
	"strings"

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

// unitsFault says which units would make a knife of a drawing that states none.
func unitsFault(d *dxf.Drawing, long float64) error {
	var fits, state []string
	for _, u := range knifeUnits {
		if mm := long * u.MM(); u != dxf.Feet && knifeLong(mm) {
			fits = append(fits, fmt.Sprintf("%.4g mm if drawn in %s", mm, unitWords[u]))
			state = append(state, strconv.Quote(u.String()))
		}
	}
	what := fmt.Sprintf("the drawing states no units and is %.4g units long", long)
	if len(fits) > 0 {
		what += ": " + strings.Join(fits, ", ") + "; state drawing.units = " + strings.Join(state, " or ")
	} else {
		what += ", which is no knife in mm, in, cm or m: draw it 1:1, and state drawing.units"
	}
	return dxf.Faults{{File: d.File, Class: dxf.NoUnits, What: what}}
}
