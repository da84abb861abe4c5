package drawing

import (
	"sync"

	"formbuck/buck/internal/lettering"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// letters are the two fonts, read once; their data is part of the program and cannot be at fault.
var letters = sync.OnceValue(func() (fonts [2]*sfnt.Font) {
	for i, data := range [][]byte{goregular.TTF, gobold.TTF} {
		f, err := sfnt.Parse(data)
		if err != nil {
			panic("drawing: an embedded font cannot be read: " + err.Error())
		}
		fonts[i] = f
	}
	return fonts
})

// unit is the size in pixels at which letters are measured: large, so that rounding to 1/64 does not show.
const unit = 1024

// glyph is one letter of a line: its outline and where it begins, in sizes of the line.
type glyph struct {
	index sfnt.GlyphIndex
	at    float64
}

// lay places the letters of a text side by side, and gives the line's length in sizes.
func lay(text string, bold bool) (glyphs []glyph, length float64) {
	f := letters()[face(bold)]
	var buf sfnt.Buffer
	for _, r := range text {
		index, err := f.GlyphIndex(&buf, r)
		if err != nil {
			continue
		}
		glyphs = append(glyphs, glyph{index, length})
		if advance, err := f.GlyphAdvance(&buf, index, fixed.I(unit), font.HintingNone); err == nil {
			length += float64(advance) / 64 / unit
		}
	}
	return glyphs, length
}

func face(bold bool) int {
	if bold {
		return 1
	}
	return 0
}

// Width is how long a text is, in mm.
func Width(t Type, text string) float64 {
	_, length := lay(lettering.Legible(text), t.Bold)
	return length * t.size()
}

// shift is how far left of its place a line of the length begins, in the line's length.
func (a Align) shift() float64 { return [...]float64{0, 0.5, 1}[a] }
