package paper_test

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/mill"
	"formbuck/buck/paper"
	"formbuck/buck/paper/drawing"
	"formbuck/buck/path"
	"formbuck/buck/pieces"
	"formbuck/testdata/size"

	"gonum.org/v1/gonum/spatial/r2"
)

// label is a level text of a page: its box.
type label struct {
	text string
	box  r2.Box
}

var textTag = regexp.MustCompile(`<text x="([^"]+)" y="([^"]+)" font-family="[^"]*" font-size="([^"]+)"[^>]*text-anchor="([a-z]+)" textLength="([^"]+)"[^>]*?( transform="[^"]*")?>([^<]*)</text>`)

// labels are the texts of a page that lie level, y down.
func labels(t *testing.T, page *drawing.Drawing) []label {
	t.Helper()
	var b bytes.Buffer
	if err := page.SVG(&b); err != nil {
		t.Fatal(err)
	}
	var all []label
	for _, m := range textTag.FindAllStringSubmatch(b.String(), -1) {
		var v [4]float64
		for i, k := range []int{1, 2, 3, 5} {
			var err error
			if v[i], err = strconv.ParseFloat(m[k], 64); err != nil {
				t.Fatal(err)
			}
		}
		x := v[0] - map[string]float64{"start": 0, "middle": 0.5, "end": 1}[m[4]]*v[3]
		if m[6] == "" {
			all = append(all, label{m[7], r2.Box{Min: r2.Vec{X: x, Y: v[1] - 0.72*v[2]}, Max: r2.Vec{X: x + v[3], Y: v[1]}}})
		}
	}
	return all
}

// checkLabels finds texts that leave the page or run into each other.
func checkLabels(t *testing.T, what string, page *drawing.Drawing) {
	t.Helper()
	all := labels(t, page)
	if len(all) < 5 {
		t.Errorf("%s: %d texts", what, len(all))
	}
	for i, a := range all {
		if a.box.Min.X < 3 || a.box.Max.X > page.Size.X-3 || a.box.Min.Y < 3 || a.box.Max.Y > page.Size.Y-3 {
			t.Errorf("%s: %q leaves the page: %v of %v", what, a.text, a.box, page.Size)
		}
		for _, b := range all[i+1:] {
			if a.box.Min.X < b.box.Max.X && b.box.Min.X < a.box.Max.X && a.box.Min.Y < b.box.Max.Y && b.box.Min.Y < a.box.Max.Y {
				t.Errorf("%s: %q and %q run into each other", what, a.text, b.text)
			}
		}
	}
}

func laidOut(t *testing.T, name string) *layout.Sheath {
	t.Helper()
	l, err := layout.New(bucktest.DemoKnife(t, name), nil)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestSetUp(t *testing.T) {
	size.Long(t)
	for _, name := range bucktest.Demos() {
		laid := laidOut(t, name)
		for _, hand := range measures.Hands() {
			b := made(t, name, hand)
			for _, p := range drawing.Papers() {
				pages := paper.SetUp(b, laid, hand, p, paper.Told{})
				what := fmt.Sprintf("%s %s %s", name, hand, p)
				if len(pages) > 3 { // the last holds the steps in the order of work
					t.Errorf("%s: %d pages", what, len(pages))
				}
				for _, page := range pages {
					checkLabels(t, what, page)
				}
			}
		}
	}
}

// TestSetUpStates reads the worked case of the demo off the sheet: 11 + 1 - 1.6 - 1.8 = 8.6 mm; right-hand carry
// has its boss on the left face (common practice, no source).
func TestSetUpStates(t *testing.T) {
	var text strings.Builder
	for _, page := range paper.SetUp(made(t, "thistle", measures.Right), laidOut(t, "thistle"), measures.Right, drawing.A4, paper.Told{}) {
		for _, l := range labels(t, page) {
			text.WriteString(l.text + " ")
		}
	}
	for _, want := range []string{"boss on left face", "8.6 mm over the face, set by the clip over the bare handle", "local codes and licensed practice", "two blanks of 184 x 128 mm", "10 of 6.35 mm", "in holes 5 and 10, check pin in 1", "10 eyelets: barrel Ø 6 to 6.1 mm for holes of 6.35 mm, 5.5 to 6.5 mm long under the flange", "hydrogen chloride"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("%q is not on the sheet:\n%s", want, text.String())
		}
	}
}

// TestSetUpWarns: warnings of the job stand on the sheet in their own words, before all else; without any there is no heading.
func TestSetUpWarns(t *testing.T) {
	b := made(t, "thistle", measures.Right)
	first := func(warnings ...string) string {
		var text strings.Builder
		for _, l := range labels(t, paper.SetUp(b, nil, measures.Right, drawing.A4, paper.Told{Warnings: warnings})[0]) {
			text.WriteString(l.text + "\n")
		}
		return text.String()
	}
	with := first("standoff: its foot stands out")
	if at := strings.Index(with, "standoff: its foot stands out"); at < 0 || at > strings.Index(with, "On the knife") || strings.Contains(first(), "Warnings") {
		t.Errorf("the sheet:\n%s", with)
	}
}

// dagger is the test knife with its spine an edge, too.
func dagger(t *testing.T) *pieces.Buck {
	plan, spec := bucktest.Hunter(), bucktest.Spec()
	plan.Back, plan.GrindBack = plan.Spine, nil
	spec.Blade.Edges = 2
	return bucktest.Knife(t, plan, spec)
}

// TestSetUpOfOddKnives: the sheet tells of no locator where there is none, of a guard's front where that is what the template stops
// at, and of no spine where the blade has two edges.
func TestSetUpOfOddKnives(t *testing.T) {
	size.Long(t)
	twoEdged, plain := dagger(t), bucktest.Knife(t, bucktest.Hunter(), bucktest.Spec())
	for _, tt := range []struct {
		name      string
		knife     *pieces.Buck
		hand      measures.Hand
		want, not []string
	}{
		{"dagger", twoEdged, measures.Right, []string{"none (both sides of the blade are edges", "both edges touch no sheet"}, []string{"spine", "windows"}},
		{"plain", plain, measures.Plain, []string{"none without a boss"}, []string{"windows"}},
		{"one edge", plain, measures.Right, []string{"hook it on the spine, up to the handle's front", "the edge touches no sheet"}, []string{"none (", "guard"}},
	} {
		b, err := path.Made(tt.knife, tt.hand)
		if err != nil {
			t.Fatal(err)
		}
		var text strings.Builder
		for _, page := range paper.SetUp(b, nil, tt.hand, drawing.A4, paper.Told{}) {
			for _, l := range labels(t, page) {
				text.WriteString(html.UnescapeString(l.text) + " ")
			}
		}
		for _, want := range tt.want {
			if !strings.Contains(text.String(), want) {
				t.Errorf("%s: %q is not on the sheet:\n%s", tt.name, want, text.String())
			}
		}
		for _, not := range tt.not {
			if strings.Contains(text.String(), not) {
				t.Errorf("%s: %q is on the sheet:\n%s", tt.name, not, text.String())
			}
		}
	}
}

// TestFaceOfDagger: no paper of a blade with two edges tells of a spine: neither its drawing nor its mill's sheet.
func TestFaceOfDagger(t *testing.T) {
	size.Long(t)
	b, err := path.Made(dagger(t), measures.Both)
	if err != nil {
		t.Fatal(err)
	}
	l, err := layout.New(b.Knife, nil)
	if err != nil {
		t.Fatal(err)
	}
	pages := append(mill.Sheet(l, mill.Programs(l), drawing.A4), paper.Face(studied(b), measures.LeftFace, "dagger"), l.Plan(), l.Sheet())
	var text strings.Builder
	for _, page := range append(pages, paper.SetUp(b, l, measures.Both, drawing.A4, paper.Told{})...) {
		for _, l := range labels(t, page) {
			text.WriteString(l.text + "\n")
		}
	}
	if strings.Contains(text.String(), "spine") || !strings.Contains(text.String(), "Y from the first edge to the second edge") {
		t.Errorf("the papers of a dagger:\n%s", text.String())
	}
}

// TestGuardDrawn: a guard that is stated stands on the drawing, one area more than without it.
func TestGuardDrawn(t *testing.T) {
	size.Long(t)
	areas := func(guard []r2.Vec) int {
		plan := bucktest.Hunter()
		spec := bucktest.Spec()
		if guard != nil {
			plan.Guard, spec.Guard.Thickness = bucktest.Polygon(guard...), spec.Handle.Thickness
		}
		b, err := path.Made(bucktest.Knife(t, plan, spec), measures.Plain)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := paper.Face(studied(b), measures.RightFace, "guard").SVG(&out); err != nil {
			t.Fatal(err)
		}
		return strings.Count(out.String(), "#d6c692")
	}
	x := bucktest.Hunter().HandleFront
	with := areas([]r2.Vec{{X: x - 4, Y: -8}, {X: x, Y: -8}, {X: x, Y: 8}, {X: x - 4, Y: 8}})
	if without := areas(nil); without != 0 || with != 1 {
		t.Errorf("%d guards without one, %d with one", without, with)
	}
}

func TestFaces(t *testing.T) {
	size.Long(t)
	for _, name := range bucktest.Demos() {
		b := made(t, name, measures.Both)
		study := studied(b)
		for _, f := range []measures.Face{measures.LeftFace, measures.RightFace} {
			d := paper.Face(study, f, name)
			checkLabels(t, fmt.Sprintf("%s %s", name, f), d)
			if got := width(t, d); math.Abs(got-bounds(b.Knife)) > 1e-3 {
				t.Errorf("%s: the outline is %.4f mm wide on paper, %.4f mm in the plan", name, got, bounds(b.Knife))
			}
		}
	}
}

// TestTwoBosses: drawing and set-up sheet name each boss and its own plate.
func TestTwoBosses(t *testing.T) {
	v, plan := bucktest.Demo(t, "thistle")
	b, err := path.Made(bucktest.Knife(t, plan, bucktest.TwoBosses(v.Spec)), measures.Both)
	if err != nil {
		t.Fatal(err)
	}
	d := paper.Face(studied(b), measures.LeftFace, "thistle")
	checkLabels(t, "two bosses", d)
	sheet := paper.SetUp(b, nil, measures.Both, drawing.A4, paper.Told{})
	var text strings.Builder
	for _, page := range append(sheet, d) {
		checkLabels(t, "two bosses", page)
		for _, l := range labels(t, page) {
			text.WriteString(l.text + "\n")
		}
	}
	for _, want := range []string{"72 mm boss low", "standoff low", "2 plates: steel, 24 x 12 x", "2 plates: steel, 20 x 10 x", "4 clips: ", "8 screws: "} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("%q is not there:\n%s", want, text.String())
		}
	}
}

// width is that of the first thing on the paper, the knife's outline, from the ends of its lines and arcs.
func width(t *testing.T, d *drawing.Drawing) float64 {
	t.Helper()
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		t.Fatal(err)
	}
	first := regexp.MustCompile(`<path d="([^"]+)"`).FindStringSubmatch(b.String())[1]
	low, high := math.Inf(1), math.Inf(-1)
	for _, m := range regexp.MustCompile(`(?:[ML]|A\S+ \S+ 0 \d \d )(\S+) [^MLAZ]+`).FindAllStringSubmatch(first, -1) {
		x, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			t.Fatal(err)
		}
		low, high = min(low, x), max(high, x)
	}
	return high - low
}

// bounds is how wide the outline's corners lie apart.
func bounds(k *pieces.Buck) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range k.Plan.Outline {
		low, high = min(low, s.A.X), max(high, s.A.X)
	}
	return high - low
}
