// Package plain makes text from names, notes and files fit to be shown: in a line of a page or picture it changes neither what
// stands around it nor the order in which it is read.
package plain

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Text is the text with what is not seen written out: control characters and escape sequences, marks that turn the direction of
// reading round (Unicode Standard Annex 9), characters of no width and of private use as \u and their number, bytes
// that are no UTF-8 as \x; tabs and ends of lines as blanks. It is one line, and valid XML 1.0 once its
// five signs are escaped. Text of a text is the same.
func Text(s string) string {
	if !strings.ContainsFunc(s, hidden) && utf8.ValidString(s) {
		return s
	}
	var b strings.Builder
	for len(s) > 0 {
		r, n := utf8.DecodeRuneInString(s)
		switch {
		case r == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, `\x%02x`, s[0])
		case r == '\n' || r == '\t' || r == '\r':
			b.WriteByte(' ')
		case hidden(r) && r > 0xffff:
			fmt.Fprintf(&b, `\U%08x`, r)
		case hidden(r):
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
		s = s[n:]
	}
	return b.String()
}

// hidden tells whether a character is not seen, or is none: of the general categories Cc, Cf, Co, Cs, Zl and Zp, or not
// assigned for good.
func hidden(r rune) bool {
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs, unicode.Zl, unicode.Zp) || unicode.Is(unicode.Noncharacter_Code_Point, r)
}
