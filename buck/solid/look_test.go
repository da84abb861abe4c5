package solid_test

import (
	"image/png"
	"os"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/picture"
)

func TestLook(t *testing.T) {
	for n, m := range pieces(t, bucktest.Spec()) {
		im, err := picture.Views([]picture.Part{{Name: n, Mesh: m}}, picture.Options{Title: n})
		if err != nil {
			t.Fatal(err)
		}
		f, _ := os.Create("/tmp/look-" + n + ".png")
		png.Encode(f, im)
		f.Close()
	}
}
