package lettering_test

import (
	"strings"
	"testing"

	"formbuck/buck/internal/lettering"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

func TestLegible(t *testing.T) {
	for given, want := range map[string]string{
		"Größe 4 → ё":     "Größe 4 → ё",
		"otter 🦦":         "otter \uFFFD",
		"漢字":              "\uFFFD\uFFFD",
		"a\u202eb\x1b[0m": `a\u202eb\u001b[0m`,
		"cafe\u0301":      "café",
		"\ufffd":          "\ufffd",
	} {
		if got := lettering.Legible(given); got != want {
			t.Errorf("%q is shown as %q, want %q", given, got, want)
		}
	}
	if got := string(lettering.Lacking("otter 🦦", "漢字漢", "plain")); got != "🦦漢字" {
		t.Errorf("lacking: %q", got)
	}
}

// TestFontsAlike: Go Regular and Go Bold have the same letters, so that one of them tells for both; neither has one beyond
// U+FFFF.
func TestFontsAlike(t *testing.T) {
	regular, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	bold, err := sfnt.Parse(gobold.TTF)
	if err != nil {
		t.Fatal(err)
	}
	var b sfnt.Buffer
	for r := rune(0); r <= 0x10ffff; r++ {
		i, _ := regular.GlyphIndex(&b, r)
		j, _ := bold.GlyphIndex(&b, r)
		if (i == 0) != (j == 0) || r > 0xffff && i != 0 {
			t.Fatalf("%U is glyph %d of the one and %d of the other", r, i, j)
		}
	}
}

// FuzzLegible: nothing is left that a font of 16 bits cannot have, and nothing that is legible is changed.
func FuzzLegible(f *testing.F) {
	for _, s := range []string{"hunter", "🦦", "漢\u202e\x07", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		shown := lettering.Legible(s)
		if strings.ContainsFunc(shown, func(r rune) bool { return r > 0xffff || r < ' ' }) || lettering.Legible(shown) != shown {
			t.Fatalf("%q is shown as %q", s, shown)
		}
	})
}
