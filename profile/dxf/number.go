package dxf

import (
	"bytes"
	"errors"
	"strconv"
)

var (
	errNotNumber = errors.New("not a number")
	errNotFinite = errors.New("not finite")
)

// notANumber tells the spellings of an infinity or of no number from other text.
func notANumber(b []byte) error {
	l := bytes.ToLower(bytes.TrimLeft(b, "+-"))
	for _, p := range []string{"nan", "inf", "1.#"} {
		if bytes.HasPrefix(l, []byte(p)) {
			return errNotFinite
		}
	}
	return errNotNumber
}

// tens are the powers of ten that a float64 holds exactly.
var tens = [...]float64{
	1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// parseFloat is the value of a decimal number.
//
// Up to 2^53 a row of digits is exact, and so is a power of ten up to 10^22: their quotient is then
// the nearest float64 by one rounding (Clinger, How to read floating point numbers accurately, PLDI
// 1990). Other numbers take the slow way.
func parseFloat(b []byte) (float64, error) {
	i, neg := 0, false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		neg, i = b[0] == '-', 1
	}
	var mantissa uint64
	first, point := i, -1
	for ; i < len(b); i++ {
		c := b[i] - '0'
		if c <= 9 {
			mantissa = 10*mantissa + uint64(c)
			continue
		}
		if b[i] != '.' || point >= 0 {
			break
		}
		point = i
	}
	const safe = 18 // digits that cannot overflow the mantissa
	digits, fraction := i-first, 0
	if point >= 0 {
		digits, fraction = digits-1, i-point-1
	}
	if i < len(b) || digits == 0 || digits > safe || mantissa >= 1<<53 {
		return parseSlowly(b)
	}
	v := float64(mantissa) / tens[fraction]
	if neg {
		v = -v
	}
	return v, nil
}

// parseSlowly is parseFloat for exponents and many digits, and tells what is no number.
func parseSlowly(b []byte) (float64, error) {
	for _, c := range b {
		if (c < '0' || c > '9') && c != '.' && c != '-' && c != '+' && c != 'e' && c != 'E' {
			return 0, notANumber(b)
		}
	}
	v, err := strconv.ParseFloat(string(b), 64)
	switch {
	case errors.Is(err, strconv.ErrRange):
		return 0, errNotFinite
	case err != nil:
		return 0, errNotNumber
	}
	return v, nil
}
