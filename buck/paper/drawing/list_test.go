package drawing_test

import (
	"bytes"
	"strings"
	"testing"

	"formbuck/buck/paper/drawing"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestListGoesOn: a part that goes on on another page has its heading there again, before anything else; one that ends with a page
// has it not.
func TestListGoesOn(t *testing.T) {
	for _, p := range drawing.Papers() {
		l := drawing.NewList("a list", p)
		l.Heading("First part: with more to say")
		for range 70 {
			l.Row("a name", "what there is to say of it")
		}
		l.Page()
		l.Heading("Second part")
		l.Tick("a box")
		var texts []string
		for _, page := range l.Pages() {
			var b bytes.Buffer
			if err := page.SVG(&b); err != nil {
				t.Fatal(err)
			}
			texts = append(texts, b.String())
		}
		if len(texts) != 3 {
			t.Fatalf("%s: %d pages", p, len(texts))
		}
		again, row := strings.Index(texts[1], "First part, continued"), strings.Index(texts[1], "a name")
		if again < 0 || row < again || strings.Contains(texts[0]+texts[2], "continued") {
			t.Errorf("%s: the heading at %d, the first row at %d", p, again, row)
		}
	}
}

// TestClearTexts: the text of a dimension is drawn over all lines, on a ground of its own, whatever is drawn after it.
func TestClearTexts(t *testing.T) {
	d := drawing.New("a drawing", drawing.A4.Size())
	d.Dimension(r2.Vec{X: 20, Y: 50}, r2.Vec{X: 40, Y: 50}, 8, "")
	d.Line(drawing.Pen{Width: 3}, r2.Vec{X: 20, Y: 60}, r2.Vec{X: 40, Y: 58})
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		t.Fatal(err)
	}
	out := b.String()
	line, ground, text := strings.Index(out, `stroke-width="3"`), strings.LastIndex(out, `fill="#ffffff"`), strings.Index(out, "20 mm</text>")
	if line < 0 || ground < line || text < ground {
		t.Errorf("line at %d, ground at %d, text at %d:\n%s", line, ground, text, out)
	}
}
