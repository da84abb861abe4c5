package picture_test

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"math/rand/v2"
	"testing"

	"formbuck/buck/picture"
)

// TestPNGReadsBack lets the standard library read what was written: pictures of several sizes, one of them a part
// of a larger one.
func TestPNGReadsBack(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	whole := image.NewNRGBA(image.Rect(0, 0, 97, 61))
	for i := range whole.Pix {
		whole.Pix[i] = byte(random.Uint32())
		if i%4 == 3 {
			whole.Pix[i] = 255
		}
	}
	part, _ := whole.SubImage(image.Rect(5, 7, 40, 9)).(*image.NRGBA)
	one, _ := whole.SubImage(image.Rect(3, 3, 4, 4)).(*image.NRGBA)
	for name, im := range map[string]*image.NRGBA{"whole": whole, "part": part, "one pixel": one} {
		t.Run(name, func(t *testing.T) {
			var b bytes.Buffer
			if err := picture.EncodePNG(&b, im); err != nil {
				t.Fatal(err)
			}
			back, err := png.Decode(&b)
			if err != nil {
				t.Fatal(err)
			}
			box := im.Bounds()
			if back.Bounds().Size() != box.Size() {
				t.Fatalf("%v, want %v", back.Bounds(), box.Size())
			}
			for y := range box.Dy() {
				for x := range box.Dx() {
					r, g, bl, a := back.At(x, y).RGBA()
					got := color.NRGBA{R: byte(r >> 8), G: byte(g >> 8), B: byte(bl >> 8), A: byte(a >> 8)}
					if want := im.NRGBAAt(box.Min.X+x, box.Min.Y+y); got != want {
						t.Fatalf("(%d, %d): %v, want %v", x, y, got, want)
					}
				}
			}
		})
	}
}

func TestPNGPassesTheWritersErrorOn(t *testing.T) {
	full := errors.New("full")
	err := picture.EncodePNG(refusing{full}, image.NewNRGBA(image.Rect(0, 0, 2, 2)))
	if !errors.Is(err, full) {
		t.Errorf("got %v", err)
	}
}

// refusing is a writer that refuses.
type refusing struct{ err error }

func (r refusing) Write([]byte) (int, error) { return 0, r.err }

// BenchmarkPNG writes one picture with both.
func BenchmarkPNG(b *testing.B) {
	im, err := picture.Views([]picture.Part{{Mesh: torus(100, 20, 8)}}, picture.Options{Title: "torus"})
	if err != nil {
		b.Fatal(err)
	}
	b.Run("own", func(b *testing.B) {
		var out bytes.Buffer
		for b.Loop() {
			out.Reset()
			if err := picture.EncodePNG(&out, im); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(out.Len()), "bytes")
	})
	b.Run("image/png", func(b *testing.B) {
		var out bytes.Buffer
		e := png.Encoder{CompressionLevel: png.BestSpeed}
		for b.Loop() {
			out.Reset()
			if err := e.Encode(&out, im); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(out.Len()), "bytes")
	})
}
