package picture_test

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/buck/picture"
)

// TestLegend: several named parts are listed under the title with their colours, one part is not.
func TestLegend(t *testing.T) {
	green, blue := color.NRGBA{R: 30, G: 150, B: 40, A: 255}, color.NRGBA{R: 30, G: 40, B: 200, A: 255}
	parts := []picture.Part{{Name: "boss", Mesh: cube(20, 14, 9), Colour: green}, {Name: "nub", Mesh: cube(21, 3, 3), Colour: blue}}
	head := image.Rect(0, 60, 180, 112)
	for _, c := range []struct {
		name  string
		parts []picture.Part
		want  map[color.NRGBA]bool
	}{
		{"two", parts, map[color.NRGBA]bool{green: true, blue: true}},
		{"one", parts[:1], map[color.NRGBA]bool{green: false, blue: false}},
		{"one named", []picture.Part{parts[0], {Mesh: parts[1].Mesh, Colour: blue}}, map[color.NRGBA]bool{green: true, blue: false}},
	} {
		img, err := picture.Draw(c.parts, picture.Options{Title: "legend"})
		if err != nil {
			t.Fatal(err)
		}
		for colour, want := range c.want {
			if n := count(img, head, colour); (n > 100) != want {
				t.Errorf("%s: %d pixels of %v in the head", c.name, n, colour)
			}
		}
	}
}

// TestMark: the ring of a mark stands about the place. On a plan of a block the corner is where
// the outermost lines meet.
func TestMark(t *testing.T) {
	part := picture.Part{Mesh: cube(20, 14, 9), Colour: color.NRGBA{R: 240, G: 240, B: 240}}
	img := plain(t, picture.Plan(), part)
	marked, err := picture.Draw([]picture.Part{part}, picture.Options{View: picture.Plan(), NoSizes: true, Marks: []picture.Mark{{At: r3.Vec{X: 10, Y: 7, Z: 9}}}})
	if err != nil {
		t.Fatal(err)
	}
	y := middle(img)
	l := lines(img, y)
	var x, n float64
	for i := range 1200 {
		if c := marked.NRGBAAt(i, y); int(c.R)-int(c.G) > 80 {
			x, n = x+float64(i)+0.5, n+1
		}
	}
	if want := (l[0] + l[1]) / 2; n < 2 || math.Abs(x/n-want) > 1 {
		t.Errorf("ring about x = %.1f, want %.1f", x/n, want)
	}
}

// TestSizes: every overall size is written; a part that differs in one by 0.01 mm gives another picture.
func TestSizes(t *testing.T) {
	shot := func(x, y, z float64) *image.NRGBA {
		img, err := picture.Draw([]picture.Part{{Mesh: cube(x, y, z)}}, picture.Options{})
		if err != nil {
			t.Fatal(err)
		}
		return img
	}
	base := shot(20, 14, 9)
	for _, s := range [][3]float64{{20.01, 14, 9}, {20, 14.01, 9}, {20, 14, 9.01}} {
		if n := differ(base, shot(s[0], s[1], s[2])); n < 100 {
			t.Errorf("%v: only %d pixels differ", s, n)
		}
	}
	for mm, want := range map[float64]string{38: "38 mm", 8.6: "8.6 mm", 10.444: "10.44 mm", 0.05: "0.05 mm", 220: "220 mm", 1e6: "1000000 mm"} {
		if got := picture.LengthText(mm); got != want {
			t.Errorf("%g: %q, want %q", mm, got, want)
		}
	}
}

// TestWords: the signs that captions use are in the font, as each looks different from a missing one.
func TestWords(t *testing.T) {
	shot := func(caption string) *image.NRGBA {
		img, err := picture.Draw([]picture.Part{{Mesh: cube(20, 14, 9)}}, picture.Options{Caption: caption})
		if err != nil {
			t.Fatal(err)
		}
		return img
	}
	missing := shot("\U0001F52A")
	for _, sign := range []string{"°", "Ø", "±", "×", "½", "µ", "…", "—"} {
		if bytes.Equal(shot(sign).Pix, missing.Pix) {
			t.Errorf("%s is not in the font", sign)
		}
	}
}

// TestCaptionKeepsOff: a caption moves the parts, it does not lie on them: with more and more
// lines the picture still holds the whole part above the caption.
func TestCaptionKeepsOff(t *testing.T) {
	caption := ""
	for range 4 {
		caption += strings.Repeat("a line of measures, 12.5 mm\n", 4)
		img, err := picture.Draw([]picture.Part{{Mesh: cube(20, 14, 9)}}, picture.Options{Caption: caption, Title: "caption"})
		if err != nil {
			t.Fatal(err)
		}
		rule := 0
		for y := range 900 {
			if a, b := img.NRGBAAt(40, y), img.NRGBAAt(1160, y); a == b && luma(a) < 230 && luma(a) > 200 {
				rule = y
			}
		}
		if rule == 0 {
			t.Fatal("no line over the caption")
		}
		below := 0
		for y := rule; y < 900; y++ {
			for x := range 1200 {
				if c := img.NRGBAAt(x, y); int(c.R)-int(c.B) > 40 {
					below++
				}
			}
		}
		if below > 0 {
			t.Fatalf("%d pixels of the part lie below the line at %d", below, rule)
		}
	}
}

// TestViewsAligned: plan and side of the sheet show a block between the same two columns, as
// third-angle projection has it (ISO 5456-2:1996).
func TestViewsAligned(t *testing.T) {
	for _, v := range []picture.View{picture.ThreeQuarter(), picture.ThreeQuarterLeft()} {
		img, err := picture.Views([]picture.Part{{Mesh: cube(20, 14, 9), Colour: color.NRGBA{R: 240, G: 240, B: 240}}}, picture.Options{View: v, NoSizes: true})
		if err != nil {
			t.Fatal(err)
		}
		pairs := map[[2]int]int{}
		for y := range foot {
			if l := lines(img, y); len(l) >= 2 {
				pairs[[2]int{int(l[0]), int(l[1])}]++
			}
		}
		best, rows := [2]int{}, 0
		for p, n := range pairs {
			if n > rows {
				best, rows = p, n
			}
		}
		// 14 mm of plan and 9 mm of side at the scale that 20 mm have
		if want := float64(best[1]-best[0]) / 20 * (14 + 9); math.Abs(float64(rows)-want) > 12 {
			t.Errorf("%d rows between the columns %v, want %.0f", rows, best, want)
		}
	}
}

// TestTones checks the transfer curve of IEC 61966-2-1 (sRGB) at values computed from its formula
// by hand: 0.0031308 is the end of its straight part, 0.2140 is the linear light of one half.
func TestTones(t *testing.T) {
	for _, c := range []struct {
		linear float32
		want   uint8
	}{{0, 0}, {0.0031308, 10}, {0.18, 118}, {0.2140, 127}, {0.5, 188}, {1, 255}, {2, 255}, {-1, 0}} {
		if got := picture.Encode(c.linear); math.Abs(float64(got)-float64(c.want)) > 1 {
			t.Errorf("%g: %d, want %d", c.linear, got, c.want)
		}
	}
	for v := range 256 {
		if got := picture.Encode(picture.Decode(uint8(v))); int(got) != v && v > 24 {
			t.Errorf("%d becomes %d", v, got)
		}
	}
}

func count(img *image.NRGBA, r image.Rectangle, c color.NRGBA) (n int) {
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if img.NRGBAAt(x, y) == c {
				n++
			}
		}
	}
	return n
}

func differ(a, b *image.NRGBA) (n int) {
	for i := 0; i < len(a.Pix); i += 4 {
		if !bytes.Equal(a.Pix[i:i+4], b.Pix[i:i+4]) {
			n++
		}
	}
	return n
}
