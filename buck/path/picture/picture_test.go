package picture_test

import (
	"fmt"
	"image"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/buck/path/picture"
)

// report is that of the recurve demo, looked at coarsely.
func report(t testing.TB) *path.Report {
	t.Helper()
	v, plan := bucktest.Demo(t, "otter")
	v.Spec.Ramp.Lock = 0 // it would be seen
	b, err := path.Made(bucktest.Knife(t, plan, v.Spec), measures.Right)
	if err != nil {
		t.Fatal(err)
	}
	return path.NewReport(b, path.Options{Step: 0.2})
}

// shots are all pictures of a report.
func shots(t testing.TB, r *path.Report) map[string]*image.RGBA {
	t.Helper()
	all := map[string]*image.RGBA{}
	for name, draw := range map[string]func() (image.Image, error){
		"map":      func() (image.Image, error) { return picture.Map(r, "otter") },
		"sections": func() (image.Image, error) { return picture.Sections(r, "otter", nil) },
		"strip":    func() (image.Image, error) { return picture.Strip(r, "otter") },
	} {
		im, err := draw()
		if err != nil {
			t.Fatal(err)
		}
		all[name] = im.(*image.RGBA)
	}
	return all
}

// count is how many pixels of a part of a picture a colour rule holds for.
func count(im *image.RGBA, part image.Rectangle, is func(r, g, b int) bool) int {
	n := 0
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			if c := im.RGBAAt(x, y); is(int(c.R), int(c.G), int(c.B)) {
				n++
			}
		}
	}
	return n
}

// hot are the colours of what must open: yellow to dark red, not the browns and greens of sheet and pieces.
func hot(r, g, b int) bool { return r > 110 && r-b > 60 && r > g+20 && b < 120 && g < 200 }

// TestWhatBindsIsSeen: without the ramps colour shows where it binds, with them there is none.
func TestWhatBindsIsSeen(t *testing.T) {
	all := shots(t, report(t))
	for name, halves := range map[string]func(image.Rectangle) (without, with image.Rectangle){
		"map": func(b image.Rectangle) (image.Rectangle, image.Rectangle) {
			low := b.Max.Y - 110
			mid := (96 + low) / 2
			return image.Rect(0, 96, b.Max.X, mid), image.Rect(0, mid, b.Max.X, low)
		},
		"strip": func(b image.Rectangle) (image.Rectangle, image.Rectangle) {
			return image.Rect(0, 110, b.Max.X/2, b.Max.Y-60), image.Rect(b.Max.X/2, 110, b.Max.X, b.Max.Y-60)
		},
		"sections": func(b image.Rectangle) (image.Rectangle, image.Rectangle) {
			return image.Rect(0, 400, b.Max.X/2, b.Max.Y), image.Rect(b.Max.X/2, 400, b.Max.X, b.Max.Y)
		},
	} {
		im := all[name]
		rule := hot
		if name != "map" {
			rule = func(r, g, b int) bool { return r > 190 && g < 70 && b < 75 }
		}
		without, with := halves(im.Bounds())
		a, b := count(im, without, rule), count(im, with, rule)
		t.Logf("%s: %d pixels bind without the ramps, %d with them", name, a, b)
		if a < 500 || b > 0 {
			t.Errorf("%s: %d pixels bind without the ramps, %d with them", name, a, b)
		}
	}
}

// TestSameBytes draws twice.
func TestSameBytes(t *testing.T) {
	a, b := shots(t, report(t)), shots(t, report(t))
	for name := range a {
		if string(a[name].Pix) != string(b[name].Pix) {
			t.Errorf("%s: differs from one time to the next", name)
		}
	}
}

// TestSectionsAt draws what is asked for, inside the knife and beside it.
func TestSectionsAt(t *testing.T) {
	r := report(t)
	one, err := picture.Sections(r, "", []float64{20})
	if err != nil {
		t.Fatal(err)
	}
	many, err := picture.Sections(r, "", []float64{-500, 20, 40, 500})
	if err != nil {
		t.Fatal(err)
	}
	if one.Bounds().Dy() >= many.Bounds().Dy() {
		t.Error("four sections are no higher than one")
	}
}

func ExampleMap() {
	t := &testing.T{}
	im, err := picture.Map(report(t), "otter: where the draw binds")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(im.Bounds().Dx(), "pixels wide")
	// Output: 1600 pixels wide
}
