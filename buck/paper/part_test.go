package paper_test

import (
	"bytes"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"formbuck/buck/paper"
	"formbuck/buck/paper/drawing"
	"formbuck/mesh"
	"formbuck/mesh/meshtest"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// strokes are the straight lines of a drawing's one path of pieces, from its SVG, y down.
func strokes(t *testing.T, d *drawing.Drawing) [][2]r2.Vec {
	t.Helper()
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		t.Fatal(err)
	}
	var all [][2]r2.Vec
	for _, path := range regexp.MustCompile(`<path d="([^"]+)"[^>]*stroke-width="0.25"`).FindAllStringSubmatch(b.String(), -1) {
		for _, m := range regexp.MustCompile(`M(\S+) (\S+)L(\S+) ([^MLZ"]+)`).FindAllStringSubmatch(path[1], -1) {
			var v [4]float64
			for i := range v {
				var err error
				if v[i], err = strconv.ParseFloat(strings.TrimSpace(m[i+1]), 64); err != nil {
					t.Fatal(err)
				}
			}
			all = append(all, [2]r2.Vec{{X: v[0], Y: v[1]}, {X: v[2], Y: v[3]}})
		}
	}
	return all
}

// TestBox: of a box 40 x 20 x 10 mm with a smaller one inside of it nothing is drawn but three rectangles at their true size, in
// third-angle places: plan over side, end beside it.
func TestBox(t *testing.T) {
	inner := meshtest.Box(r3.Box{Max: r3.Vec{X: 8, Y: 6, Z: 4}}).Moved(r3.Vec{X: 12, Y: 7, Z: 3})
	body := mesh.Joined(meshtest.Box(r3.Box{Max: r3.Vec{X: 40, Y: 20, Z: 10}}), inner)
	d := paper.Part{Title: "box", Mesh: body, Notes: []string{"a box"}}.Draw()
	all := strokes(t, d)
	length := 0.0
	var xs, ys []float64
	for _, l := range all {
		length += r2.Norm(r2.Sub(l[0], l[1]))
		for _, p := range l {
			xs, ys = append(xs, p.X), append(ys, p.Y)
		}
	}
	if want := 2.0 * (40 + 20 + 40 + 10 + 20 + 10); math.Abs(length-want) > 0.1 {
		t.Errorf("lines of %.2f mm in all, want %.0f", length, want)
	}
	left, top := slices.Min(xs), slices.Min(ys)
	for _, x := range []float64{left + 40, slices.Max(xs) - 20} {
		if !slices.ContainsFunc(xs, func(v float64) bool { return math.Abs(v-x) < 1e-3 }) {
			t.Errorf("nothing ends at x = %.3f", x)
		}
	}
	for _, y := range []float64{top + 20, slices.Max(ys) - 10} {
		if !slices.ContainsFunc(ys, func(v float64) bool { return math.Abs(v-y) < 1e-3 }) {
			t.Errorf("nothing ends at y = %.3f", y)
		}
	}
	checkTexts(t, d, "box, 1:1", "40 mm", "20 mm", "10 mm", "a box")
}

// TestSmallPart: a piece of a few millimetres is drawn five times as large, and says its true measures.
func TestSmallPart(t *testing.T) {
	d := paper.Part{Title: "stud", Mesh: meshtest.Box(r3.Box{Max: r3.Vec{X: 5, Y: 4, Z: 2}})}.Draw()
	longest := 0.0
	for _, l := range strokes(t, d) {
		longest = max(longest, r2.Norm(r2.Sub(l[0], l[1])))
	}
	if math.Abs(longest-25) > 1e-3 {
		t.Errorf("the longest line is %.3f mm, not 25", longest)
	}
	checkTexts(t, d, "stud, 5:1", "5 mm", "4 mm", "2 mm")
}

// TestLeftPart: a piece on the left face is seen from there, its tip to the left: what is at the tip's end of the side view
// is on its left.
func TestLeftPart(t *testing.T) {
	body := mesh.Joined(meshtest.Box(r3.Box{Max: r3.Vec{X: 40, Y: 20, Z: 10}}), meshtest.Box(r3.Box{Max: r3.Vec{X: 4, Y: 4, Z: 4}}).Moved(r3.Vec{X: 34, Y: 8, Z: 10}))
	ends := func(p paper.Part) (inner []float64) {
		all := strokes(t, p.Draw())
		low := math.Inf(1)
		for _, l := range all {
			low = min(low, l[0].X, l[1].X)
		}
		for _, l := range all {
			if x := l[0].X - low; l[0].X == l[1].X && x > 1 && x < 39 && !slices.Contains(inner, math.Round(x)) {
				inner = append(inner, math.Round(x))
			}
		}
		slices.Sort(inner)
		return inner
	}
	right, left := ends(paper.Part{Mesh: body}), ends(paper.Part{Mesh: body.Mirrored(), Left: true})
	if !slices.Equal(right, []float64{34, 38}) || !slices.Equal(left, []float64{2, 6}) {
		t.Errorf("the block's sides are at %v on the right face, at %v on the left one", right, left)
	}
}

func checkTexts(t *testing.T, d *drawing.Drawing, want ...string) {
	t.Helper()
	var b bytes.Buffer
	if err := d.SVG(&b); err != nil {
		t.Fatal(err)
	}
	for _, text := range want {
		if !strings.Contains(b.String(), ">"+text+"</text>") {
			t.Errorf("%q is not on the drawing", text)
		}
	}
}
