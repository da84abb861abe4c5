package picture_test

import (
	"bytes"
	"errors"
	"flag"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"formbuck/buck/picture"
	"formbuck/mesh"
)

var pictures = flag.String("pictures", "", "directory to write the gallery into, to look at")

// shot is one picture of the gallery.
type shot struct {
	name  string
	parts []picture.Part
	o     picture.Options
	draw  func([]picture.Part, picture.Options) (*image.NRGBA, error)
}

// gallery is made of all that a picture can hold; every measure in it is invented.
func gallery() []shot {
	blade, handle := knife(60)
	caption := "height 8.6 mm: handle 22 mm + clip clearance 1 mm govern\ndraft 5°, edge radius 2 mm ± 0.01, nubs 2 × Ø 5 mm, 120°"
	piece := []picture.Part{
		{Name: "standoff", Mesh: boss(2, 1.6, 24)},
		{Name: "nub, tip side", Mesh: cone(9.5, 0, 10.6, 5, 1.44, 20)},
		{Name: "nub, butt side", Mesh: cone(-9.5, 0, 10.6, 5, 1.44, 20)},
	}
	whole := []picture.Part{{Name: "blade", Mesh: blade}, {Name: "handle", Mesh: handle}, piece[0]}
	faint := []picture.Part{{Name: "blade", Mesh: blade, Faint: true}, {Name: "handle", Mesh: handle, Faint: true}, piece[0]}
	sharp := []picture.Part{{Name: "standoff", Mesh: boss(0, 1.6, 24)}, piece[1]}
	tip := []picture.Mark{{At: r3.Vec{X: 112, Y: 5}, Label: "tip"}}
	return []shot{
		{"cube", []picture.Part{{Mesh: cube(20, 14, 9)}}, picture.Options{Title: "cube, sharp"}, picture.Draw},
		{"chamfer", []picture.Part{{Mesh: chamferedCube(20, 14, 9, 1.5)}}, picture.Options{Title: "cube, chamfered"}, picture.Draw},
		{"boss", piece, picture.Options{Title: "demo hunter: mount-boss standoff, right hand", Caption: caption}, picture.Draw},
		{"boss-views", sharp, picture.Options{Title: "demo hunter: mount-boss standoff, right hand", Caption: caption}, picture.Views},
		{"feather", []picture.Part{{Mesh: feather()}}, picture.Options{Title: "feather", View: picture.ThreeQuarterLeft()}, picture.Draw},
		{"feather-views", []picture.Part{{Mesh: feather()}}, picture.Options{Title: "feather", View: picture.ThreeQuarterLeft()}, picture.Views},
		{"buck", whole, picture.Options{Title: "demo hunter: the whole buck", Caption: caption}, picture.Draw},
		{"faint", faint, picture.Options{Title: "demo hunter: standoff in its place", Marks: tip}, picture.Draw},
		{"buck-views", whole, picture.Options{Title: "demo hunter: the whole buck", Caption: caption}, picture.Views},
		{"torus", []picture.Part{{Mesh: torus(100, 20, 8)}}, picture.Options{}, picture.Draw},
		{"small", []picture.Part{{Mesh: cone(0, 0, 0, 5, 1.44, 20)}}, picture.Options{Width: 480, Height: 360, Title: "nub", Caption: "Ø 5 mm, 120°"}, picture.Draw},
		{"open", []picture.Part{{Mesh: withoutTop(cube(20, 14, 9))}}, picture.Options{Title: "open"}, picture.Draw},
	}
}

// TestGallery draws the gallery one after the other, looks at every picture, and draws all again
// at once: the bytes must be the same.
func TestGallery(t *testing.T) {
	shots := gallery()
	first := make([]*image.NRGBA, len(shots))
	for i, s := range shots {
		img, err := s.draw(s.parts, s.o)
		if err != nil {
			t.Fatal(s.name, err)
		}
		checkSheet(t, s, img)
		if *pictures != "" {
			write(t, filepath.Join(*pictures, s.name+".png"), img)
		}
		first[i] = img
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	again := make([]*image.NRGBA, len(shots))
	var wg sync.WaitGroup
	for i, s := range gallery() {
		wg.Go(func() { again[i], _ = s.draw(s.parts, s.o) })
	}
	wg.Wait()
	for i, s := range shots {
		if again[i] == nil || !bytes.Equal(first[i].Pix, again[i].Pix) {
			t.Errorf("%s: second picture differs", s.name)
		}
	}
}

// checkSheet checks what every picture must have: its size, opaque pixels, a light ground, and
// drawing all over a fair share of the frame above its foot.
func checkSheet(t *testing.T, s shot, img *image.NRGBA) {
	t.Helper()
	w, h := 1200, 900
	if s.o.Width != 0 {
		w, h = s.o.Width, s.o.Height
	}
	if img.Rect != image.Rect(0, 0, w, h) {
		t.Fatalf("%s: %v", s.name, img.Rect)
	}
	if ground := img.NRGBAAt(2, 2); luma(ground) < 240 {
		t.Errorf("%s: ground %v is not light", s.name, ground)
	}
	var used image.Rectangle
	for y := range h {
		row := img.Pix[y*img.Stride : (y+1)*img.Stride]
		for x := range w {
			if row[4*x+3] != 255 {
				t.Fatalf("%s: pixel %d,%d is not opaque", s.name, x, y)
			}
			if y < h*3/4 && x > w/20 && !bytes.Equal(row[4*x:4*x+3], img.Pix[:3]) {
				used = used.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	if used.Dx() < w*6/10 || used.Dy() < h*4/10 {
		t.Errorf("%s: only %v of the frame is used", s.name, used)
	}
}

func TestErrors(t *testing.T) {
	ok := cube(1, 1, 1)
	part := func(m *mesh.Mesh) []picture.Part { return []picture.Part{{Mesh: ok}, {Name: "boss", Mesh: m}} }
	change := func(f func(*mesh.Mesh)) []picture.Part {
		m := cube(1, 1, 1)
		f(m)
		return part(m)
	}
	point := &mesh.Mesh{Vertices: make([]r3.Vec, 3), Triangles: [][3]int32{{0, 1, 2}}}
	long := string(bytes.Repeat([]byte("word "), 4000))
	for _, c := range []struct {
		name  string
		parts []picture.Part
		o     picture.Options
		fault picture.Fault
		part  string
	}{
		{"none", nil, picture.Options{}, picture.NoParts, ""},
		{"nil mesh", []picture.Part{{}}, picture.Options{}, picture.EmptyMesh, "part 1"},
		{"empty mesh", part(&mesh.Mesh{}), picture.Options{}, picture.EmptyMesh, "boss"},
		{"NaN", change(func(m *mesh.Mesh) { m.Vertices[3].Y = math.NaN() }), picture.Options{}, picture.NotFinite, "boss"},
		{"infinite", change(func(m *mesh.Mesh) { m.Vertices[3].Y = math.Inf(-1) }), picture.Options{}, picture.NotFinite, "boss"},
		{"two infinities", change(func(m *mesh.Mesh) { m.Vertices[3] = r3.Vec{X: math.Inf(1), Y: math.Inf(-1)} }), picture.Options{}, picture.NotFinite, "boss"},
		{"far", change(func(m *mesh.Mesh) { m.Vertices[3].Y = 1e300 }), picture.Options{}, picture.TooFar, "boss"},
		{"index", change(func(m *mesh.Mesh) { m.Triangles[2][1] = 99 }), picture.Options{}, picture.BadIndex, "boss"},
		{"negative index", change(func(m *mesh.Mesh) { m.Triangles[2][1] = -1 }), picture.Options{}, picture.BadIndex, "boss"},
		{"point", []picture.Part{{Mesh: point}}, picture.Options{}, picture.NoExtent, ""},
		{"negative width", part(ok), picture.Options{Width: -1}, picture.BadSize, ""},
		{"tiny", part(ok), picture.Options{Width: 100, Height: 100}, picture.BadSize, ""},
		{"huge", part(ok), picture.Options{Height: 10000}, picture.BadSize, ""},
		{"crease", part(ok), picture.Options{CreaseDeg: math.NaN()}, picture.BadCrease, ""},
		{"view", part(ok), picture.Options{View: picture.View{From: r3.Vec{Z: 1}, Up: r3.Vec{Z: -2}}}, picture.BadView, ""},
		{"view without up", part(ok), picture.Options{View: picture.View{From: r3.Vec{Z: 1}}}, picture.BadView, ""},
		{"mark", part(ok), picture.Options{Marks: []picture.Mark{{At: r3.Vec{X: math.NaN()}}}}, picture.NotFinite, ""},
		{"caption", part(ok), picture.Options{Caption: long}, picture.NoRoom, ""},
	} {
		for i, draw := range []func([]picture.Part, picture.Options) (*image.NRGBA, error){picture.Draw, picture.Views} {
			img, err := draw(c.parts, c.o)
			var e *picture.Error
			if !errors.As(err, &e) || e.Fault != c.fault || e.Part != c.part || img != nil {
				t.Errorf("%s, %d: got %v", c.name, i, err)
			}
		}
	}
}

// TestAnyMesh feeds triangles without sense: nothing may panic, and what is drawn has its size.
func TestAnyMesh(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 9).Draw(t, "points")
		m := &mesh.Mesh{}
		v := rapid.SampledFrom([]float64{-30, -1, 0, 0, 1e-7, 1, 2, 30, 1e6})
		for range n {
			m.Vertices = append(m.Vertices, r3.Vec{X: v.Draw(t, "x"), Y: v.Draw(t, "y"), Z: v.Draw(t, "z")})
		}
		i := rapid.Int32Range(0, int32(n-1))
		for range rapid.IntRange(1, 12).Draw(t, "triangles") {
			m.Triangles = append(m.Triangles, [3]int32{i.Draw(t, "a"), i.Draw(t, "b"), i.Draw(t, "c")})
		}
		parts := []picture.Part{{Mesh: m, Faint: rapid.Bool().Draw(t, "faint")}}
		draw := picture.Draw
		if rapid.Bool().Draw(t, "three views") {
			draw = picture.Views
		}
		img, err := draw(parts, picture.Options{Width: 480, Height: 360})
		var e *picture.Error
		if err != nil && (!errors.As(err, &e) || e.Fault != picture.NoExtent) || err == nil && img.Rect.Dx() != 480 {
			t.Fatal(err)
		}
	})
}

func luma(c color.NRGBA) int { return (299*int(c.R) + 587*int(c.G) + 114*int(c.B)) / 1000 }

func write(t *testing.T, name string, img image.Image) {
	t.Helper()
	var file bytes.Buffer
	if err := png.Encode(&file, img); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, file.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
