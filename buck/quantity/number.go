package quantity

import (
	"math/big"
	"strconv"
	"strings"
	"unicode"
)

// maxExponent bounds the power of ten of a number with an exponent, so that no short text can ask
// for a number of a million digits.
const maxExponent = 30

// ParseNumber is a number as TOML writes it: decimal, with an exponent, with underscores, or a
// whole number in base 16, 8 or 2 after 0x, 0o, 0b. The error is an *Error, also for inf and nan.
func ParseNumber(text string) (*big.Rat, error) {
	if len(text) > maxText {
		return nil, &Error{Text: text[:maxText] + "...", Fault: TooLong}
	}
	plain := strings.ReplaceAll(text, "_", "")
	bare := strings.TrimLeft(plain, "+-")
	switch {
	case bare == "inf" || bare == "nan":
		return nil, &Error{Text: text, Fault: NotFinite}
	case len(bare) > 1 && bare[0] == '0' && strings.ContainsRune("xob", rune(bare[1])):
		if whole, ok := new(big.Int).SetString(plain, 0); ok {
			return new(big.Rat).SetInt(whole), nil
		}
		return nil, &Error{Text: text, Fault: BadNumber}
	}
	mantissa, exponent, scaled := strings.Cut(strings.ToLower(plain), "e")
	value, fault := parseNumber(mantissa)
	if fault != "" || strings.Contains(mantissa, "/") {
		return nil, &Error{Text: text, Fault: BadNumber}
	}
	if !scaled {
		return value, nil
	}
	power, err := strconv.Atoi(exponent)
	if err != nil {
		return nil, &Error{Text: text, Fault: BadNumber}
	}
	if power < -maxExponent || power > maxExponent {
		return nil, &Error{Text: text, Fault: TooLong}
	}
	return value.Mul(value, powerOfTen(power)), nil
}

func powerOfTen(power int) *big.Rat {
	size := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(max(power, -power))), nil)
	if power < 0 {
		return new(big.Rat).SetFrac(big.NewInt(1), size)
	}
	return new(big.Rat).SetInt(size)
}

// notOfNumber reports whether r cannot stand in a number, so that the unit begins with it.
func notOfNumber(r rune) bool {
	return !isDigit(r) && !strings.ContainsRune("+-.,/", r) && !unicode.IsSpace(r)
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' }

// faultOfNumber names what is wrong with a number that a shop would understand, and how to write it.
func faultOfNumber(number string) (Fault, string) {
	switch {
	case number == "":
		return BadNumber, ""
	case strings.Contains(number, ","):
		if head, tail, _ := strings.Cut(number, ","); allDigits(head) && allDigits(tail) {
			return Comma, "write " + head + "." + tail
		}
		return Comma, "write it with a decimal point and no thousands mark"
	case strings.Count(number, "-") == 1 && strings.Contains(number, "/") && number[0] != '-':
		return BadNumber, "write a whole number and a fraction with a space, as in 1 1/2"
	}
	if value, fault := parseNumber(number); value == nil {
		return fault, ""
	}
	return "", ""
}

// parseNumber reads a decimal, a fraction, or a whole number and a fraction, with an optional sign.
func parseNumber(number string) (*big.Rat, Fault) {
	negative := strings.HasPrefix(number, "-")
	if negative || strings.HasPrefix(number, "+") {
		number = number[1:]
		if number == "" || number[0] == ' ' {
			return nil, BadNumber
		}
	}
	value, fault := parseUnsigned(strings.Fields(number))
	if fault != "" {
		return nil, fault
	}
	if negative {
		value.Neg(value)
	}
	return value, ""
}

func parseUnsigned(parts []string) (*big.Rat, Fault) {
	switch {
	case len(parts) == 1 && strings.Contains(parts[0], "/"):
		return parseFraction(parts[0])
	case len(parts) == 1:
		return parseDecimal(parts[0])
	case len(parts) == 2 && allDigits(parts[0]) && strings.Contains(parts[1], "/"):
		whole, _ := parseDecimal(parts[0])
		fraction, fault := parseFraction(parts[1])
		if fault != "" {
			return nil, fault
		}
		if fraction.Cmp(big.NewRat(1, 1)) >= 0 {
			return nil, BadFraction
		}
		return whole.Add(whole, fraction), ""
	default:
		return nil, BadNumber
	}
}

func parseFraction(text string) (*big.Rat, Fault) {
	above, below, _ := strings.Cut(text, "/")
	if !allDigits(above) || !allDigits(below) {
		return nil, BadNumber
	}
	if strings.Trim(below, "0") == "" {
		return nil, BadFraction
	}
	value, ok := new(big.Rat).SetString(above + "/" + below)
	if !ok {
		return nil, BadNumber
	}
	return value, ""
}

func parseDecimal(text string) (*big.Rat, Fault) {
	whole, places, pointed := strings.Cut(text, ".")
	if pointed && !allDigits(places) || !pointed && whole == "" {
		return nil, BadNumber
	}
	if whole != "" && !allDigits(whole) {
		return nil, BadNumber
	}
	value, ok := new(big.Rat).SetString("0" + text)
	if !ok {
		return nil, BadNumber
	}
	return value, ""
}

func allDigits(text string) bool {
	return text != "" && strings.IndexFunc(text, func(r rune) bool { return !isDigit(r) }) < 0
}
