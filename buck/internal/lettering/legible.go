package lettering

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"formbuck/profile/plain"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"
)

// Replacement stands for every letter that the fonts lack.
const Replacement = '\uFFFD'

// bold is the font of engraved letters, read once; its data is part of the program and cannot be at fault. Go Regular, which most
// of the papers are set in, has the same letters.
var bold = sync.OnceValue(func() *sfnt.Font {
	f, err := sfnt.Parse(gobold.TTF)
	if err != nil {
		panic("lettering: the embedded font cannot be read: " + err.Error())
	}
	return f
})

// Legible is a text as papers, pictures and marks show it, on one line, letter and accent put together: what is not seen is written out as package plain does, and
// the Replacement stands for each letter that the fonts lack. Legible of a text is the same.
func Legible(text string) string {
	text = plain.Text(norm.NFC.String(text))
	if !strings.ContainsFunc(text, lacks) {
		return text
	}
	return strings.Map(func(r rune) rune {
		if lacks(r) {
			return Replacement
		}
		return r
	}, text)
}

// Lacking are the letters of texts for which the Replacement stands, each once, in their order.
func Lacking(texts ...string) []rune {
	var all []rune
	for _, t := range texts {
		for _, r := range plain.Text(norm.NFC.String(t)) {
			if lacks(r) && !slices.Contains(all, r) {
				all = append(all, r)
			}
		}
	}
	return all
}

// Missing says of letters that the fonts lack what stands for them; empty where there are none.
func Missing(letters []rune) string {
	if len(letters) == 0 {
		return ""
	}
	said := make([]string, len(letters))
	for i, r := range letters {
		said[i] = fmt.Sprintf("%c (%U)", r, r)
	}
	return fmt.Sprintf("the font of papers, pictures and marks has no %s; %c stands for each", strings.Join(said, ", "), Replacement)
}

// lacks tells whether the fonts have no letter for a character.
func lacks(r rune) bool {
	if r < 0x7f && r >= ' ' {
		return false
	}
	var b sfnt.Buffer
	i, err := bold().GlyphIndex(&b, r)
	return err != nil || i == 0
}
