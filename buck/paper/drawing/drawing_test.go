package drawing_test

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"image/color"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"formbuck/buck/paper/drawing"
	"formbuck/profile"

	"gonum.org/v1/gonum/spatial/r2"
)

func vec(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }

// sample is a drawing with something of everything, larger than a page.
func sample() *drawing.Drawing {
	d := drawing.New("heron <plan> & parts", vec(420, 130))
	slot := profile.Path{{A: vec(40, 40), B: vec(360, 40)}, {A: vec(360, 40), B: vec(360, 80), Bulge: 1}, {A: vec(360, 80), B: vec(40, 80)}, {A: vec(40, 80), B: vec(40, 40), Bulge: 1}}
	d.Fill(color.NRGBA{R: 226, G: 220, B: 208, A: 255}, slot, drawing.Round(vec(200, 60), 10))
	d.Stroke(drawing.Pen{Width: 0.35}, slot, drawing.Round(vec(200, 60), 10))
	d.Stroke(drawing.Pen{Dash: []float64{6, 1.5, 1, 1.5}}, profile.Polyline(vec(10, 60), vec(400, 60)))
	d.Dimension(vec(20, 60), vec(380, 60), -36, "")
	d.Dimension(vec(360, 40), vec(360, 80), -34, "")
	d.Dimension(vec(196, 60), vec(200, 60), 24, "")
	d.Leader(vec(207.07, 67.07), vec(225, 100), drawing.Type{}, "Ø 20.00 mm ± ½")
	return d
}

// TestLook writes the sample's pages where DRAWINGS says, to be looked at.
func TestLook(t *testing.T) {
	dir := os.Getenv("DRAWINGS")
	if dir == "" {
		t.Skip("DRAWINGS names no folder")
	}
	pages := sample().Tiles(drawing.A4)
	for i, p := range pages {
		write(t, filepath.Join(dir, fmt.Sprintf("page%d.png", i+1)), func(w io.Writer) error { return p.PNG(w, 110) })
		write(t, filepath.Join(dir, fmt.Sprintf("page%d.svg", i+1)), p.SVG)
	}
	write(t, filepath.Join(dir, "pages.pdf"), func(w io.Writer) error { return drawing.PDF(w, "heron", pages...) })
}

func write(t *testing.T, name string, to func(io.Writer) error) {
	t.Helper()
	var b bytes.Buffer
	if err := to(&b); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
}

// TestSameBytes writes everything twice.
func TestSameBytes(t *testing.T) {
	for name, to := range map[string]func(io.Writer) error{
		"svg": func(w io.Writer) error { return sample().SVG(w) },
		"pdf": func(w io.Writer) error { return drawing.PDF(w, "heron", sample().Tiles(drawing.Letter)...) },
		"png": func(w io.Writer) error { return sample().PNG(w, 60) },
	} {
		var a, b bytes.Buffer
		if err := to(&a); err != nil {
			t.Fatal(err)
		}
		if err := to(&b); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Errorf("%s: other bytes", name)
		}
	}
}

// bars is a page with the bars alone.
func bars() *drawing.Drawing {
	d := drawing.New("bars", vec(210, 297))
	d.Bars(vec(10, 10))
	return d
}

// TestBarsInSVG finds how far the bars reach from the coordinates of the file: 100 mm and 4 in, both ways. One user
// unit is 1 mm: width and viewBox agree.
func TestBarsInSVG(t *testing.T) {
	var b bytes.Buffer
	if err := bars().SVG(&b); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), `width="210mm" height="297mm" viewBox="0 0 210 297"`) {
		t.Error("the page is not 210 x 297 mm in units of 1 mm")
	}
	var points []r2.Vec
	for _, m := range regexp.MustCompile(`[ML](-?[0-9.]+) (-?[0-9.]+)`).FindAllStringSubmatch(b.String(), -1) {
		points = append(points, vec(number(t, m[1]), number(t, m[2])))
	}
	checkBars(t, points, 1)
}

// TestBarsInPDF does the same from the page's drawing operators: a point is 1/72 in (ISO 32000-1, from
// memory), so 100 mm are 283.4646 points.
func TestBarsInPDF(t *testing.T) {
	var b bytes.Buffer
	if err := drawing.PDF(&b, "bars", bars()); err != nil {
		t.Fatal(err)
	}
	var points []r2.Vec
	for _, m := range regexp.MustCompile(`(-?[0-9.]+) (-?[0-9.]+) [ml]\b`).FindAllStringSubmatch(content(b.Bytes()), -1) {
		points = append(points, vec(number(t, m[1]), number(t, m[2])))
	}
	checkBars(t, points, 72/25.4)
	if !regexp.MustCompile(`/MediaBox \[0 0 595.2[0-9]* 841.[89][0-9]*\]`).Match(b.Bytes()) {
		t.Error("the page is not 595.276 x 841.890 points")
	}
}

// TestBarsInPixels measures the bars of a picture of 10 pixels a mm.
func TestBarsInPixels(t *testing.T) {
	im := bars().Image(254)
	for _, want := range []int{1000, 1016} {
		var x, y bool
		for i := range im.Rect.Dy() {
			x = x || slices.ContainsFunc(runs(im.Rect.Dx(), func(k int) uint8 { return im.NRGBAAt(k, i).R }), func(n int) bool { return n >= want-1 && n <= want+1 })
		}
		for i := range im.Rect.Dx() {
			y = y || slices.ContainsFunc(runs(im.Rect.Dy(), func(k int) uint8 { return im.NRGBAAt(i, k).R }), func(n int) bool { return n >= want-1 && n <= want+1 })
		}
		if !x || !y {
			t.Errorf("no bar of %d pixels along x or y", want)
		}
	}
}

// runs are the lengths of the dark stretches of a line of n pixels.
func runs(n int, at func(int) uint8) []int {
	var all []int
	length := 0
	for k := range n + 1 {
		if k < n && at(k) < 128 {
			length++
			continue
		}
		if length > 0 {
			all = append(all, length)
		}
		length = 0
	}
	return all
}

// checkBars looks for points that lie 100 mm and 101.6 mm apart along x and y, at the bars' places.
func checkBars(t *testing.T, points []r2.Vec, scale float64) {
	t.Helper()
	for _, length := range []float64{100, 101.6} {
		var x, y float64 // the closest that two points along x and y come to the length
		x, y = math.Inf(1), math.Inf(1)
		for _, p := range points {
			for _, q := range points {
				if p.Y == q.Y {
					x = min(x, math.Abs(math.Abs(p.X-q.X)-length*scale))
				}
				if p.X == q.X {
					y = min(y, math.Abs(math.Abs(p.Y-q.Y)-length*scale))
				}
			}
		}
		if x > 0.01*scale || y > 0.01*scale {
			t.Errorf("no bar of %g mm: off by %g along x and %g along y", length, x/scale, y/scale)
		}
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// content is what the streams of a PDF hold, unpacked.
func content(data []byte) string {
	var all strings.Builder
	for _, part := range bytes.Split(data, []byte("stream\n"))[1:] {
		r, err := zlib.NewReader(bytes.NewReader(part))
		if err != nil {
			continue
		}
		text, _ := io.ReadAll(r)
		if !bytes.Contains(text[:min(len(text), 200)], []byte{0}) {
			all.Write(text)
		}
	}
	return all.String()
}

// TestArcs measures the cubics against the circle.
func TestArcs(t *testing.T) {
	d := drawing.New("arc", vec(300, 300))
	d.Circle(drawing.Pen{}, vec(150, 150), 100)
	var b bytes.Buffer
	if err := drawing.PDF(&b, "arc", d); err != nil {
		t.Fatal(err)
	}
	const k = 72 / 25.4
	last, curves := vec(250*k, 150*k), 0
	for _, m := range regexp.MustCompile(`(\S+) (\S+) (\S+) (\S+) (\S+) (\S+) c\b`).FindAllStringSubmatch(content(b.Bytes()), -1) {
		curves++
		c := [4]r2.Vec{last, vec(number(t, m[1]), number(t, m[2])), vec(number(t, m[3]), number(t, m[4])), vec(number(t, m[5]), number(t, m[6]))}
		last = c[3]
		for s := 0.0; s <= 1; s += 0.05 {
			p := r2.Add(r2.Add(r2.Scale((1-s)*(1-s)*(1-s), c[0]), r2.Scale(3*s*(1-s)*(1-s), c[1])), r2.Add(r2.Scale(3*s*s*(1-s), c[2]), r2.Scale(s*s*s, c[3])))
			if r := r2.Norm(r2.Sub(p, vec(150*k, 150*k))) / k; math.Abs(r-100) > 0.01 { // the file has two decimals of a point
				t.Fatalf("%.4f mm from the middle, want 100", r)
			}
		}
	}
	if curves != 8 {
		t.Errorf("%d curves, want 8", curves)
	}
}

// TestPixels looks at pictures of a square ring, a dash pattern and a letter.
func TestPixels(t *testing.T) {
	d := drawing.New("ring", vec(40, 40))
	square := func(lo, hi float64) profile.Path {
		return profile.Rectangle(r2.Box{Min: vec(lo, lo), Max: vec(hi, hi)})
	}
	d.Fill(drawing.Ink, square(5, 35), square(15, 25))
	im := d.Image(25.4) // a pixel is a mm
	for _, c := range []struct {
		x, y int
		dark bool
	}{{2, 2, false}, {8, 8, true}, {20, 20, false}, {30, 10, true}, {38, 20, false}} {
		if dark := im.NRGBAAt(c.x, c.y).R < 128; dark != c.dark {
			t.Errorf("(%d, %d) is dark: %v", c.x, c.y, dark)
		}
	}
	dash := drawing.New("dash", vec(100, 10))
	dash.Stroke(drawing.Pen{Width: 1, Dash: []float64{6, 4}}, profile.Polyline(vec(0, 5), vec(100, 5)))
	dark := 0
	for x := range 100 {
		if dash.Image(25.4).NRGBAAt(x, 5).R < 200 {
			dark++
		}
	}
	if dark < 60 || dark > 80 {
		t.Errorf("%d of 100 pixels of a dashed line are dark", dark)
	}
	text := drawing.New("text", vec(60, 20))
	text.Text(vec(30, 5), drawing.Type{Size: 10, Align: drawing.Centre}, "III")
	left, right := 0, 0
	for x := range 60 {
		for y := range 20 {
			if text.Image(25.4).NRGBAAt(x, y).R < 200 {
				if x < 30 {
					left++
				} else {
					right++
				}
			}
		}
	}
	if left == 0 || math.Abs(float64(left-right)) > 0.2*float64(left+right) {
		t.Errorf("centred text has %d dark pixels to the left and %d to the right", left, right)
	}
}
