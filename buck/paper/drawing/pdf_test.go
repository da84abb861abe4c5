package drawing_test

import (
	"bytes"
	"regexp"
	"strconv"
	"testing"

	"formbuck/buck/paper/drawing"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestPrintedUnscaled: a document asks to be printed at its own size (ISO 32000-1:2008, table 150), and its table of objects
// still tells where each of them is.
func TestPrintedUnscaled(t *testing.T) {
	d := drawing.New("a page", r2.Vec{X: 210, Y: 297})
	d.Text(r2.Vec{X: 20, Y: 20}, drawing.Type{}, "a text with startxref and /Type /Catalog in it")
	var b bytes.Buffer
	if err := drawing.PDF(&b, "a title", d, d); err != nil {
		t.Fatal(err)
	}
	text := b.Bytes()
	if n := bytes.Count(text, []byte("/ViewerPreferences << /PrintScaling /None >>")); n != 1 {
		t.Errorf("%d wishes", n)
	}
	m := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\s*$`).FindSubmatch(text)
	if m == nil {
		t.Fatalf("no table is told: %q", text[len(text)-60:])
	}
	at, err := strconv.Atoi(string(m[1]))
	if err != nil || !bytes.HasPrefix(text[at:], []byte("xref\n")) {
		t.Fatalf("no table at %d: %q", at, text[at:at+20])
	}
	for i, e := range regexp.MustCompile(`(?m)^(\d{10}) \d{5} n `).FindAllSubmatch(text[at:], -1) {
		place, err := strconv.Atoi(string(e[1]))
		if err != nil || !bytes.HasPrefix(text[place:], []byte(strconv.Itoa(i+1)+" 0 obj")) {
			t.Errorf("object %d is not at %d", i+1, place)
		}
	}
}
