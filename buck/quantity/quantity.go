// Package quantity reads lengths and angles as people in a shop write them, exactly.
//
// A quantity is a number and a unit, with or without a space between them:
//
//	quantity = [ "+" | "-" ] number unit
//	number   = decimal | fraction | whole " " fraction
//	decimal  = "3", "2.4", ".080"          decimal point, no thousands mark, no exponent
//	fraction = "1/4", "3/32"
//	unit     = "mm" | "cm" | "in" | "inch" | `"` | "″"   for a length
//	         | "deg" | "°"                               for an angle
//	         | "%"                                       for a share
//	         | length "/min"                             for a feed
//	         | "rpm" | "r/min"                           for the speed of a spindle
//
// Units may be written in capitals. One inch is 25.4 mm exactly (international inch, ISO 31-1:1992
// annex B, from memory). Results are rational numbers in mm or degrees, so that 0.093 in is
// 11811/5000 mm and no rounding happens before the caller asks for a float64.
package quantity

import (
	"fmt"
	"math/big"
	"strings"
)

// maxText is the longest text of a quantity, in bytes. No measure of a knife needs more, and it
// bounds the size of the numbers.
const maxText = 64

// scale is a unit's name and how many mm or degrees it holds.
type scale struct {
	name string
	size *big.Rat
}

func lengthUnits() []scale {
	inch := big.NewRat(254, 10)
	return []scale{
		{"mm", big.NewRat(1, 1)},
		{"cm", big.NewRat(10, 1)},
		{"in", inch},
		{"inch", inch},
		{`"`, inch},
		{"″", inch},
	}
}

func angleUnits() []scale {
	return []scale{{"deg", big.NewRat(1, 1)}, {"°", big.NewRat(1, 1)}}
}

// ParseLength is the length in mm. The error is an *Error.
func ParseLength(text string) (*big.Rat, error) {
	return parse(text, lengthUnits(), angleUnits())
}

// ParseAngle is the angle in degrees. The error is an *Error.
func ParseAngle(text string) (*big.Rat, error) {
	return parse(text, angleUnits(), lengthUnits())
}

// ParseShare is the share in percent. The error is an *Error.
func ParseShare(text string) (*big.Rat, error) {
	return parse(text, []scale{{"%", big.NewRat(1, 1)}}, append(lengthUnits(), angleUnits()...))
}

// feedUnits are those of a feed, in mm/min. A length alone is one a minute: variant files had feeds without the minute once.
func feedUnits() []scale {
	units := lengthUnits()
	for _, u := range lengthUnits() {
		units = append(units, scale{u.name + "/min", u.size})
	}
	return append(units, scale{"m/min", big.NewRat(1000, 1)})
}

// ParseFeed returns the feed in mm/min. The error is an *Error.
func ParseFeed(text string) (*big.Rat, error) {
	return parse(text, feedUnits(), append(speedUnits(), angleUnits()...))
}

func speedUnits() []scale {
	return []scale{{"rpm", big.NewRat(1, 1)}, {"r/min", big.NewRat(1, 1)}}
}

// ParseSpeed returns the speed of a spindle in turns a minute, a whole number of them. The error is an *Error.
func ParseSpeed(text string) (*big.Rat, error) {
	value, err := parse(text, speedUnits(), append(feedUnits(), angleUnits()...))
	if err == nil && !value.IsInt() {
		return nil, &Error{Text: text, Fault: NotWhole}
	}
	return value, err
}

// parse reads a number and one of the units; others are units of the other kind, told apart from
// nonsense.
func parse(text string, units, others []scale) (*big.Rat, error) {
	if len(text) > maxText {
		return nil, &Error{Text: text[:maxText] + "...", Fault: TooLong}
	}
	trimmed := strings.TrimSpace(text)
	if trimmed == "" {
		return nil, &Error{Text: text, Fault: Empty}
	}
	cut := strings.IndexFunc(trimmed, notOfNumber)
	if cut < 0 {
		cut = len(trimmed)
	}
	number, unit := strings.TrimSpace(trimmed[:cut]), strings.ToLower(trimmed[cut:])
	if fault, hint := faultOfNumber(number); fault != "" {
		return nil, &Error{Text: text, Fault: fault, Hint: hint}
	}
	if unit == "" {
		likely := units[0].name
		if strings.Contains(number, "/") && sizeOf("in", units) != nil {
			likely = "in" // fractions are of inches
		}
		return nil, &Error{Text: text, Fault: NoUnit, Hint: fmt.Sprintf("write %q", number+" "+likely)}
	}
	size := sizeOf(unit, units)
	if size == nil {
		if sizeOf(unit, others) != nil {
			return nil, &Error{Text: text, Fault: WrongUnit}
		}
		return nil, &Error{Text: text, Fault: UnknownUnit, Hint: hintForUnit(unit)}
	}
	value, fault := parseNumber(number)
	if fault != "" {
		return nil, &Error{Text: text, Fault: fault}
	}
	return value.Mul(value, size), nil
}

func sizeOf(unit string, units []scale) *big.Rat {
	for _, u := range units {
		if u.name == unit {
			return u.size
		}
	}
	return nil
}

// hintForUnit says how to write what a known slip meant.
func hintForUnit(unit string) string {
	switch unit {
	case "thou", "mil", "mils":
		return "write thousandths of an inch as 0.001 in"
	case "''", "“", "”", "'", "’":
		return "write inches as in"
	case "m", "ft", "um", "µm":
		return "write it in mm, cm or in"
	default:
		return ""
	}
}

// Float is the nearest float64.
func Float(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// Format is the number as a decimal: exact where nine places hold it, else rounded to six.
func Format(r *big.Rat) string {
	places, exact := r.FloatPrec()
	if exact && places <= 9 {
		return r.FloatString(places)
	}
	text := strings.TrimRight(r.FloatString(6), "0")
	return strings.TrimSuffix(text, ".")
}
