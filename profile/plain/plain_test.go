package plain_test

import (
	"encoding/xml"
	"errors"
	"fmt"
	"html"
	"io"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"formbuck/profile/plain"
)

func TestText(t *testing.T) {
	for given, want := range map[string]string{
		"hunter, \"42\" <6>": "hunter, \"42\" <6>",
		"Größe ё 漢字 🦦":       "Größe ё 漢字 🦦",
		"red\x1b[31mblue":    `red\u001b[31mblue`,
		"a\u202egnp.exe":     `a\u202egnp.exe`,
		"two\nlines\there":   "two lines here",
		"half\xc3":           `half\xc3`,
		"nul\x00":            `nul\u0000`,
		"\u2066in\u2069":     `\u2066in\u2069`,
		"\U000e0041":         `\U000e0041`,
		"\ufffe":             `\ufffe`,
	} {
		if got := plain.Text(given); got != want {
			t.Errorf("%q is shown as %q, want %q", given, got, want)
		}
	}
}

// FuzzText: whatever comes in, what is shown is valid UTF-8 on one line with nothing hidden, and an element with it, escaped, is
// well-formed to encoding/xml and holds it. What was shown once is not changed again.
func FuzzText(f *testing.F) {
	for _, s := range []string{"hunter", "a\x1b]0;x\x07", "\u202e\u2066", "\xff\xfe", "\ufffe\uffff", "<a&b>\"'", "漢\U0001F9A6\u200d"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		shown := plain.Text(s)
		if !utf8.ValidString(shown) || plain.Text(shown) != shown {
			t.Fatalf("%q is shown as %q, and that as %q", s, shown, plain.Text(shown))
		}
		if strings.ContainsFunc(shown, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }) {
			t.Fatalf("%q is shown as %q", s, shown)
		}
		d := xml.NewDecoder(strings.NewReader(fmt.Sprintf("<text a=\"%s\">%s</text>", html.EscapeString(shown), html.EscapeString(shown))))
		held := ""
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%q: %v", shown, err)
			}
			if c, ok := token.(xml.CharData); ok {
				held += string(c)
			}
		}
		if held != shown {
			t.Fatalf("%q comes back as %q", shown, held)
		}
	})
}
