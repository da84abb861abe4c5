package dxf

import "strings"

// Units is the value of $INSUNITS (DXF Reference, header variables). The zero value is unitless.
type Units int

// The units that a knife may be drawn in.
const (
	Unitless    Units = 0
	Inches      Units = 1
	Feet        Units = 2
	Millimetres Units = 4
	Centimetres Units = 5
	Metres      Units = 6
	Mils        Units = 9
	Yards       Units = 10
	Microns     Units = 13
	Decimetres  Units = 14
)

// unitTable has the name and the mm of each known unit; the inch is 25.4 mm exactly (international
// yard and pound agreement, 1959).
var unitTable = [...]struct {
	unit  Units
	name  string
	scale float64
}{
	{Inches, "in", 25.4},
	{Feet, "ft", 304.8},
	{Millimetres, "mm", 1},
	{Centimetres, "cm", 10},
	{Metres, "m", 1000},
	{Mils, "mil", 0.0254},
	{Yards, "yd", 914.4},
	{Microns, "um", 0.001},
	{Decimetres, "dm", 100},
}

// String is the short name of the unit, empty for an unknown one.
func (u Units) String() string {
	for _, e := range unitTable {
		if e.unit == u {
			return e.name
		}
	}
	return ""
}

// MM is how many mm one unit has; 0 for an unknown unit.
func (u Units) MM() float64 {
	for _, e := range unitTable {
		if e.unit == u {
			return e.scale
		}
	}
	return 0
}

// ParseUnits is the unit of a short name, such as mm or in; false for an unknown one.
func ParseUnits(name string) (Units, bool) {
	for _, e := range unitTable {
		if strings.EqualFold(e.name, strings.TrimSpace(name)) {
			return e.unit, true
		}
	}
	return Unitless, false
}

// Measurement is the value of $MEASUREMENT: which system hatches and line types are drawn in. It
// hints at the units of a drawing that states none.
type Measurement int

// The systems.
const (
	NotStated Measurement = iota
	Imperial
	Metric
)
