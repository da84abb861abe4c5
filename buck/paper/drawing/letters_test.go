package drawing_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"formbuck/buck/paper/drawing"
)

// written writes a drawing whose title and texts are the text, in all forms, and gives the SVG.
func written(t *testing.T, text string) string {
	t.Helper()
	d := drawing.New(text, vec(200, 100))
	d.Text(vec(10, 50), drawing.Type{}, text)
	d.Heading(vec(10, 80), text)
	d.Dimension(vec(10, 20), vec(60, 20), 5, text)
	var svg bytes.Buffer
	if err := d.SVG(&svg); err != nil {
		t.Fatal(err)
	}
	if err := drawing.PDF(io.Discard, text, d); err != nil {
		t.Fatal(err)
	}
	if err := d.PNG(io.Discard, 30); err != nil {
		t.Fatal(err)
	}
	return svg.String()
}

// TestLettersBeyondTheFont: letters over U+FFFF, which the PDF library cannot take, and others that the font lacks are drawn as its
// replacement everywhere, which is no empty box: it is as wide in the SVG as the font has it.
func TestLettersBeyondTheFont(t *testing.T) {
	for _, text := range []string{"gift 🦦", "gift 漢", "gift ع"} {
		svg := written(t, text)
		if strings.Contains(svg, text) || strings.Count(svg, "gift \uFFFD") != 4 {
			t.Errorf("%q:\n%s", text, svg)
		}
	}
	if a, b := drawing.Width(drawing.Type{}, "🦦"), drawing.Width(drawing.Type{}, "\uFFFD"); a != b || a == 0 {
		t.Errorf("%.3f mm wide, the replacement %.3f", a, b)
	}
}

// FuzzLetters: whatever a text is, every form can be written and the SVG is well-formed to encoding/xml.
func FuzzLetters(f *testing.F) {
	for _, s := range []string{"", "hunter", "a & <b>", "🦦", "\x1b[31m\x00", "\u202e\u2066x", "\xff\xfe", "e\u0301"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d := xml.NewDecoder(strings.NewReader(written(t, s)))
		for {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				return
			} else if err != nil {
				t.Fatalf("%q: %v", s, err)
			}
		}
	})
}
