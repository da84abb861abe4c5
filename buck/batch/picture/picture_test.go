package picture_test

import (
	"bytes"
	"html"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"formbuck/buck/batch"
	"formbuck/buck/batch/picture"
	"formbuck/buck/bench"
	"formbuck/buck/bucktest"
	"formbuck/buck/internal/nest"
	"formbuck/buck/measures"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/program/runs"
	"formbuck/profile/dxf"

	"gonum.org/v1/gonum/spatial/r2"
)

const shopText = `
[day]
hours = 4
[press]
presses = 2
[[sheet]]
colour = "moss"
gauge = 2
width = 610
height = 610
[[buck]]
variant = "alder"
hand = "right"
count = 2
`

// plan is a small one: a knife for two hands, more than a day of work.
func plan(t *testing.T) *batch.Plan {
	t.Helper()
	shop, err := batch.ReadShop("shop.toml", strings.NewReader(shopText))
	if err != nil {
		t.Fatal(err)
	}
	r := batch.Request{Shop: shop}
	if r.Start, err = batch.ParseDay("2026-12-04"); err != nil {
		t.Fatal(err)
	}
	job := bench.Job{Spec: bucktest.Spec(), Faces: 1, Bosses: []measures.Plate{bucktest.Spec().Plate}}
	for n, hand := range []measures.Hand{measures.Right, measures.Left, measures.Right} {
		r.Orders = append(r.Orders, batch.Order{ID: strconv.Itoa(501 + n), Hand: hand, Colour: "moss", Quantity: 5, Due: r.Start, Note: "a note"})
		r.Articles = append(r.Articles, &batch.Article{
			Key:     batch.Key{Variant: "alder", Hand: hand, Gauge: 2},
			Blank:   nest.Blank{Size: nest.Size{Width: 120, Height: 190}, Turned: nest.Size{Width: 184, Height: 124}},
			Eyelets: 10, Bosses: 1, Posts: 2, Holes: 10, Trim: 380, Pieces: []string{"alder-ramp-any.stl"}, Tools: []string{"alder-locator.stl"},
			Programs: []batch.Program{
				{File: "alder-drill.ngc", Does: "drill the pair", Kind: runs.Drill, Work: "the pair", Tool: "T1, drill of 6.35 mm"},
				{File: "alder-drill-2.ngc", Does: "drill the pair", Kind: runs.Drill, Work: "the pair", Tool: "T4, drill of 4.5 mm"},
				{Does: "trim the right half", Kind: runs.Trim, Work: "right half", Tool: "T2, cutter of 6.35 mm"},
			},
			Steps: job.Steps(), Hardware: job.Hardware(), Checks: job.Checks(),
		})
	}
	p, err := batch.New(r)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func pages(p *batch.Plan) map[string][]*drawing.Drawing {
	return map[string][]*drawing.Drawing{
		"plan": picture.Plan(p, "week: plan", drawing.A4), "picks": picture.PickList(p, "week: picks", drawing.Letter),
		"travellers": picture.Travellers(p, "week", drawing.A4), "mill": picture.Mill(p, "week: on the mill", drawing.A4),
	}
}

// text is one set in an SVG, with where it begins and how wide it is.
var text = regexp.MustCompile(`<text [^>]*textLength="([\d.]+)"[^>]*>([^<]+)</text>`)

// TestPapers finds everything that has to be told, and no text that is wider than the page.
func TestPapers(t *testing.T) {
	all := make(map[string]string)
	for name, list := range pages(plan(t)) {
		for _, page := range list {
			var b bytes.Buffer
			if err := page.SVG(&b); err != nil {
				t.Fatal(err)
			}
			found := text.FindAllStringSubmatch(b.String(), -1)
			if len(found) == 0 {
				t.Fatalf("%s: a page without a text: %s", name, b.String()[:300])
			}
			for _, m := range found {
				if wide, err := strconv.ParseFloat(m[1], 64); err != nil || wide > page.Size.X-30 {
					t.Errorf("%s: %q is %s mm wide", name, m[2], m[1])
				}
				all[name] += m[2] + "\n"
			}
		}
	}
	for name, wants := range map[string][]string{
		"plan": {
			"Fri 4 Dec 2026, day 1", "Mon 7 Dec 2026, day 2", "press 2", "order 503: due Fri 4 Dec 2026", "150 are missing",
			"alder, right, 2 mm, for 10 sheaths: 2 owned; 2 could be used at once", "alder, left, 2 mm, for 5 sheaths: to be made",
			"alder, left; moss 2 mm; 5 sheaths; due Fri 4 Dec 2026; ready ", "1 x alder-ramp-any.stl", "1 x alder-locator.stl", "moss 2 mm, sheet 1 of",
		},
		"picks": {"order 502", "buck alder, left, 2 mm", "10 blanks moss 2 mm, 120 x 190 or 184 x 124 mm with the extrusion along the second", "eyelets: barrel Ø ", "5 plates: steel, ", "10 screws: thread "},
		"travellers": {
			"Order 501", "Order 503", "sheath 5 of 5", "a note", "7 to the mill, 8 drill: work 1 of day-1-drill, work 1 of day-1-drill-2", "3 blanks: 2, from sheet 1 of moss 2 mm", "mark their extrusion, which lies a",
			"11 trim, 12 post holes: without a run, no program could be written",
		},
		"mill": {"day-1-drill-2.ngc, Fri 4 Dec 2026, day 1: T4, drill of 4.5 mm", "1: order 501, sheath 1 of 5: the pair, alder right, moss", "alder: no program to trim the right half could be written", "stringy swarf"},
	} {
		for _, want := range wants {
			if !strings.Contains(all[name], want) {
				t.Errorf("%s does not say %q", name, want)
			}
		}
	}
}

// TestStepsOnTravellers finds every step of the one list on the travellers, word for word, and on every paper that carries no
// cautions where they stand.
func TestStepsOnTravellers(t *testing.T) {
	p := plan(t)
	words := func(s string) string { return strings.Join(strings.Fields(html.UnescapeString(s)), " ") }
	all := make(map[string]string)
	for name, list := range pages(p) {
		all[name] = words(told(t, list))
	}
	steps := p.ArticleOf(0).Steps
	if len(steps) < 15 {
		t.Fatalf("%d steps", len(steps))
	}
	for _, s := range steps {
		if want := words(s.Name + ": " + s.Do); !strings.Contains(all["travellers"], want) {
			t.Errorf("no %q in %s", want, all["travellers"])
		}
	}
	for name, text := range all {
		if !strings.Contains(text, words(bench.Pointer)) {
			t.Errorf("%s does not say where the cautions are: %s", name, text)
		}
	}
}

// TestWarnings finds what spoils a sheath at the head of the plan's first page, and every warning on plan and travellers.
func TestWarnings(t *testing.T) {
	p := plan(t)
	const grave, light = "alder.toml: its foot stands out", "alder.toml: the sheet grips the boss"
	p.ArticleOf(0).Warnings = []batch.Warning{{What: light}, {What: grave, Grave: true}}
	p.ArticleOf(2).Warnings = p.ArticleOf(0).Warnings
	first := told(t, pages(p)["plan"][:1])
	if before, _, found := strings.Cut(first, "All in all"); !found || !strings.Contains(before, "Mend these before anything is made\n"+grave) {
		t.Errorf("the plan's first page says %s", first)
	}
	for name, counts := range map[string][2]int{"plan": {1, 1}, "travellers": {2, 2}, "mill": {1, 0}} {
		text := told(t, pages(p)[name])
		if got := [2]int{strings.Count(text, grave), strings.Count(text, light)}; got != counts {
			t.Errorf("%s: grave and other warnings stand there %v times, want %v", name, got, counts)
		}
	}
}

// told are the texts of the pages, a line each.
func told(t *testing.T, pages []*drawing.Drawing) string {
	t.Helper()
	var all strings.Builder
	for _, page := range pages {
		var b bytes.Buffer
		if err := page.SVG(&b); err != nil {
			t.Fatal(err)
		}
		for _, m := range text.FindAllStringSubmatch(b.String(), -1) {
			all.WriteString(m[2] + "\n")
		}
	}
	return all.String()
}

// TestSameBytes draws everything twice.
func TestSameBytes(t *testing.T) {
	draw := func() []byte {
		var b bytes.Buffer
		for _, name := range []string{"plan", "picks", "travellers", "mill"} {
			if err := drawing.PDF(&b, name, pages(plan(t))[name]...); err != nil {
				t.Fatal(err)
			}
		}
		return b.Bytes()
	}
	if !bytes.Equal(draw(), draw()) {
		t.Error("other bytes for the same plan")
	}
}

// TestSheet reads a sheet's drawing back: blanks and kept rests of their own sizes, all within the sheet, and a
// label of whose it is for every blank.
func TestSheet(t *testing.T) {
	blanks := 0
	for _, c := range picture.Cuts(plan(t)) {
		var b bytes.Buffer
		if err := dxf.Encode(&b, c.DXF()); err != nil {
			t.Fatal(err)
		}
		d, err := dxf.Decode(&b, "sheet.dxf")
		if err != nil {
			t.Fatal(err)
		}
		lines := make(map[string]int)
		length := 0.0
		for _, e := range d.Entities {
			lines[e.Layer]++
			var places []float64
			switch l := e.Shape.(type) {
			case *dxf.Line:
				places = []float64{l.A.X, l.A.Y, l.B.X, l.B.Y}
			case *dxf.Text:
				places = []float64{l.At.X, l.At.Y}
				if i := lines[e.Layer] - 1; l.Value != c.Labels[i] {
					t.Errorf("blank %d is marked %q, want %q", i+1, l.Value, c.Labels[i])
				}
			case *dxf.Polyline:
				for i, v := range l.Vertices {
					places = append(places, v.X, v.Y)
					if next := l.Vertices[(i+1)%len(l.Vertices)]; e.Layer == picture.BlankLayer {
						length += math.Hypot(next.X-v.X, next.Y-v.Y)
					}
				}
				if !l.Closed || len(l.Vertices) != 4 {
					t.Errorf("%s: a contour of %d corners, closed %v", e.Layer, len(l.Vertices), l.Closed)
				}
			}
			for _, x := range places {
				if x < -1e-9 || x > 610+1e-9 {
					t.Errorf("an entity of %s leaves the sheet: %v", e.Layer, places)
				}
			}
		}
		want := 0.0
		for _, p := range c.Sheet.Placed {
			want += 2 * (p.Width + p.Height)
		}
		if lines[picture.BlankLayer] != len(c.Sheet.Placed) || lines[picture.OrderLayer] != len(c.Sheet.Placed) || math.Abs(length-want) > 1e-6 {
			t.Errorf("%d contours, %g mm of them, for %d blanks with %g mm", lines[picture.BlankLayer], length, len(c.Sheet.Placed), want)
		}
		if lines[picture.SawLayer] != len(c.Sheet.Cuts) || lines[picture.StockLayer] != 1 || lines[picture.RestLayer] != len(c.Sheet.Kept()) {
			t.Errorf("lines by layer: %v", lines)
		}
		if len(c.Labels) != len(c.Sheet.Placed) {
			t.Errorf("%d labels for %d blanks", len(c.Labels), len(c.Sheet.Placed))
		}
		blanks += len(c.Labels)
		if size := c.Drawing(r2.Vec{X: 174, Y: 105}).Size; size.X > 174 || size.Y > 105 {
			t.Errorf("the picture is %v", size)
		}
	}
	if blanks != 30 {
		t.Errorf("%d blanks for 15 sheaths", blanks)
	}
}
