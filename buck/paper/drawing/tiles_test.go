package drawing_test

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"formbuck/buck/paper/drawing"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

var stroke = regexp.MustCompile(`M([0-9.]+) ([0-9.]+)L([0-9.]+) ([0-9.]+)" fill="none" stroke="#181b21" stroke-width="0.18"`)

func svg(t *testing.T, d *drawing.Drawing) string {
	t.Helper()
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestTiles lays the pages of a drawing on each other: every mark of it is on a page, at 1:1, and neighbours share some.
// The marks are told by their length.
func TestTiles(t *testing.T) {
	for _, paper := range drawing.Papers() {
		d := drawing.New("wide", vec(600, 250))
		for k := range 60 * 25 {
			x, y := float64(k%60)*10+3, float64(k/60)*10+3
			d.Line(drawing.Pen{}, vec(x, y), vec(x+1+float64(k)/1000, y))
		}
		pages := d.Tiles(paper)
		seen, times := make(map[string]bool), 0
		for _, p := range pages {
			for _, m := range stroke.FindAllStringSubmatch(svg(t, p), -1) {
				length := number(t, m[3]) - number(t, m[1])
				if k := (length - 1) * 1000; k > -0.5 && math.Abs(k-math.Round(k)) < 0.2 {
					seen[fmt.Sprintf("%.0f", k)] = true
					times++
				}
			}
			if size := paper.Size(); p.Size != size && p.Size != vec(size.Y, size.X) {
				t.Errorf("%s: page of %v", paper, p.Size)
			}
		}
		if len(pages) < 4 || len(seen) < 60*25 || times < 60*25*21/20 {
			t.Errorf("%s: %d pages show %d of %d marks, %d times", paper, len(pages), len(seen), 60*25, times)
		}
	}
	if n := len(drawing.New("small", vec(240, 150)).Tiles(drawing.A4)); n != 1 {
		t.Errorf("a small drawing takes %d pages", n)
	}
}

// TestNothingAlone: of a drawing with its heading far above and nothing beside a strip, no page is empty or has no more than the
// heading.
func TestNothingAlone(t *testing.T) {
	d := drawing.New("strip", vec(500, 400))
	d.Fill(drawing.Hair, profile.Rectangle(r2.Box{Min: vec(10, 10), Max: vec(490, 60)}))
	d.Heading(vec(10, 390), "strip: a heading")
	pages := d.Tiles(drawing.A4)
	if len(pages) != 2 {
		t.Errorf("%d pages, want 2", len(pages))
	}
	for i, p := range pages {
		text := svg(t, p)
		if strings.Contains(text, "a heading") || !strings.Contains(text, `fill="#bebeba"`) {
			t.Errorf("page %d has the heading, or nothing of the strip:\n%s", i+1, text)
		}
	}
}

// TestNoCutAlong: a strip that is no higher than a page is nowhere cut lengthwise, though what is drawn with it is.
func TestNoCutAlong(t *testing.T) {
	d := drawing.New("strip", vec(400, 260))
	d.Fill(drawing.Hair, profile.Rectangle(r2.Box{Min: vec(5, 90), Max: vec(395, 170)}))
	for y := 5.0; y < 260; y += 10 {
		d.Text(vec(20, y), drawing.Type{}, "a line")
	}
	for i, p := range d.Tiles(drawing.A4) {
		for _, m := range regexp.MustCompile(`<path d="([^"]+)" fill="#bebeba"`).FindAllStringSubmatch(svg(t, p), -1) {
			low, high := math.Inf(1), math.Inf(-1)
			for _, y := range regexp.MustCompile(`[ML][0-9.]+ ([0-9.]+)`).FindAllStringSubmatch(m[1], -1) {
				low, high = min(low, number(t, y[1])), max(high, number(t, y[1]))
			}
			if math.Abs(high-low-80) > 1e-3 {
				t.Errorf("page %d has %.1f mm of the strip's 80", i+1, high-low)
			}
		}
	}
}

// TestApart: what may be set apart is on the page with the rest where there is room, on a page of its own or given back where
// there is not, and never twice.
func TestApart(t *testing.T) {
	made := func(high float64) *drawing.Drawing {
		d := drawing.New("knife", vec(250, 300))
		d.Fill(drawing.Hair, profile.Rectangle(r2.Box{Min: vec(0, 0), Max: vec(250, 90)}))
		list := drawing.New("list", vec(80, high))
		list.Fill(drawing.Ink, drawing.Round(vec(40, high/2), 25))
		list.Stroke(drawing.Pen{}, profile.Rectangle(r2.Box{Max: vec(80, high)}))
		d.AddApart(list, vec(0, 100))
		return d
	}
	for _, c := range []struct {
		high        float64
		pages, rest int
	}{{60, 1, 0}, {100, 1, 1}} {
		pages, rest := made(c.high).Split(drawing.A4)
		if len(pages) != c.pages || len(rest) != c.rest {
			t.Errorf("%.0f mm high: %d pages and %d things left, want %d and %d", c.high, len(pages), len(rest), c.pages, c.rest)
		}
		if n := len(made(c.high).Tiles(drawing.A4)); n != c.pages+c.rest {
			t.Errorf("%.0f mm high: %d pages, want %d", c.high, n, c.pages+c.rest)
		}
	}
}

// TestTogether: boxes that fill a page by four, in an order that does not lend itself to it, take one page, nowhere over each
// other and all within the frame.
func TestTogether(t *testing.T) {
	var all []*drawing.Drawing
	for i, size := range []r2.Vec{vec(120, 60), vec(120, 90), vec(120, 60), vec(120, 90)} {
		d := drawing.New(fmt.Sprint(i), size)
		d.Stroke(drawing.Pen{}, profile.Path{{A: vec(0, 0), B: size}})
		all = append(all, d)
	}
	pages := drawing.Together(drawing.A4, "boxes", all)
	if len(pages) != 1 {
		t.Fatalf("%d pages", len(pages))
	}
	var boxes []r2.Box
	for _, m := range stroke.FindAllStringSubmatch(svg(t, pages[0]), -1) {
		boxes = append(boxes, r2.Box{Min: vec(number(t, m[1]), number(t, m[4])), Max: vec(number(t, m[3]), number(t, m[2]))})
	}
	if len(boxes) != 4 {
		t.Fatalf("%d boxes", len(boxes))
	}
	for i, a := range boxes {
		if a.Min.X < 19 || a.Max.X > 287 || a.Min.Y < 10 || a.Max.Y > 178 {
			t.Errorf("%v is not within the frame", a)
		}
		for _, b := range boxes[i+1:] {
			if a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y {
				t.Errorf("%v and %v lie over each other", a, b)
			}
		}
	}
}
