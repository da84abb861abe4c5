package picture_test

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/buck/picture"
	"formbuck/mesh"
)

// foot is the row under which the sheet's scale and axes stand, in a picture without caption.
const foot = 745

// plain draws without sizes, so that only parts are dark above the foot of the sheet.
func plain(t *testing.T, v picture.View, parts ...picture.Part) *image.NRGBA {
	t.Helper()
	img, err := picture.Draw(parts, picture.Options{View: v, NoSizes: true})
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// lines are the middles of the dark strokes along a row of the picture, in pixels.
func lines(img *image.NRGBA, y int) []float64 { return darker(img, y, 118) }

// darker are the middles of the strokes along a row that are darker than the limit.
func darker(img *image.NRGBA, y, limit int) []float64 {
	var out []float64
	weight, sum := 0.0, 0.0
	for x := range img.Rect.Dx() {
		if l := luma(img.NRGBAAt(x, y)); l < limit {
			w := float64(limit - l)
			weight, sum = weight+w, sum+w*(float64(x)+0.5)
			continue
		}
		if weight > 0 {
			out = append(out, sum/weight)
			weight, sum = 0, 0
		}
	}
	return out
}

// middle is the row through the middle of all lines of the part, above the foot of the sheet.
func middle(img *image.NRGBA) int {
	lo, hi := img.Rect.Dy(), 0
	for y := range foot {
		if len(lines(img, y)) > 0 {
			lo, hi = min(lo, y), max(hi, y)
		}
	}
	return (lo+hi)/2 + 3
}

// gable is a block whose roof rises by the given angle to a ridge in its middle.
func gable(deg float64) *mesh.Mesh {
	rise := 10 * math.Tan(deg*math.Pi/180)
	ring := func(y float64) []r3.Vec {
		return []r3.Vec{{X: 0, Y: y}, {X: 0, Y: y, Z: 5}, {X: 10, Y: y, Z: 5 + rise}, {X: 20, Y: y, Z: 5}, {X: 20, Y: y}}
	}
	return loft(ring(0), ring(14))
}

// rod lies along y and is made of n facets.
func rod(n int) *mesh.Mesh {
	ring := func(y float64) []r3.Vec {
		var r []r3.Vec
		for i := range n {
			a := -2 * math.Pi * float64(i) / float64(n)
			r = append(r, r3.Vec{X: 10 + 10*math.Cos(a), Y: y, Z: 10 * math.Sin(a)})
		}
		return r
	}
	return loft(ring(0), ring(14))
}

// TestLinesOnPlan: where the real edges are, and only there, a line is drawn. Each case gives the
// x of the lines (mm) that the middle row of a plan must show between the outer two.
func TestLinesOnPlan(t *testing.T) {
	draft := 9 * math.Tan(5*math.Pi/180)
	for _, c := range []struct {
		name string
		m    *mesh.Mesh
		want []float64
	}{
		{"cube", cube(20, 14, 9), []float64{0, 20}},
		{"chamfered cube", chamferedCube(20, 14, 9, 1.5), []float64{0, 1.5, 18.5, 20}},
		{"boss with a sharp edge", boss(0, 0, 48), []float64{-19, -19 + draft, 19 - draft, 19}},
		{"boss with a round edge", boss(2, 0, 48), []float64{-19, 19}},
		{"ring", torus(100, 14, 5), []float64{-19, -9, 9, 19}},
	} {
		img := plain(t, picture.Plan(), picture.Part{Mesh: c.m, Colour: color.NRGBA{R: 240, G: 240, B: 240}})
		got := lines(img, middle(img))
		if len(got) != len(c.want) {
			t.Errorf("%s: %d lines at %v, want %d", c.name, len(got), got, len(c.want))
			continue
		}
		first, last := got[0], got[len(got)-1]
		wide := c.want[len(c.want)-1] - c.want[0]
		for i, x := range got {
			at := c.want[0] + (x-first)*wide/(last-first)
			if px := math.Abs(at-c.want[i]) * (last - first) / wide; px > 1.5 {
				t.Errorf("%s: line %d at %.3f mm, want %.3f (%.1f px off)", c.name, i, at, c.want[i], px)
			}
		}
	}
}

// TestRidge: a ridge of 4 deg between two planes is drawn, the edges between facets of 4 deg that
// make up a rod are not.
func TestRidge(t *testing.T) {
	for _, c := range []struct {
		name string
		m    *mesh.Mesh
		want int
	}{{"ridge", gable(2), 3}, {"rod", rod(90), 2}} {
		img := plain(t, picture.Plan(), picture.Part{Mesh: c.m, Colour: color.NRGBA{R: 250, G: 250, B: 250}})
		if got := darker(img, middle(img), 200); len(got) != c.want {
			t.Errorf("%s: lines at %v, want %d", c.name, got, c.want)
		}
	}
}

// TestScaleBar: the bar is as long as its length on the parts. On a block of 20 mm that fills the
// sheet it shows 2 mm, as 5 mm would be more than 230 pixels.
func TestScaleBar(t *testing.T) {
	img := plain(t, picture.Plan(), picture.Part{Mesh: cube(20, 14, 9), Colour: color.NRGBA{R: 240, G: 240, B: 240}})
	part := lines(img, middle(img))
	longest := 0
	for y := img.Rect.Dy() * 5 / 6; y < img.Rect.Dy(); y++ {
		from := -1
		for x := img.Rect.Dx() / 2; x < img.Rect.Dx(); x++ {
			dark := luma(img.NRGBAAt(x, y)) < 150
			if dark && from < 0 {
				from = x
			}
			if !dark && from >= 0 {
				longest, from = max(longest, x-from), -1
			}
		}
	}
	want := (part[1] - part[0]) / 20 * 2
	if math.Abs(float64(longest)-want) > 2 {
		t.Errorf("bar of 2 mm is %d pixels long, want %.1f", longest, want)
	}
}

// TestHiddenLines: a part inside another changes no pixel.
func TestHiddenLines(t *testing.T) {
	big := picture.Part{Mesh: cube(20, 14, 9)}
	small := chamferedCube(6, 5, 4, 1)
	for i := range small.Vertices {
		small.Vertices[i] = r3.Add(small.Vertices[i], r3.Vec{X: 3, Y: 4, Z: 2})
	}
	for _, v := range []picture.View{picture.ThreeQuarter(), picture.ThreeQuarterLeft(), picture.Plan(), picture.PlanLeft(), picture.Side(), picture.SideLeft()} {
		with, without := plain(t, v, big, picture.Part{Mesh: small}), plain(t, v, big)
		if !bytes.Equal(with.Pix, without.Pix) {
			t.Errorf("from %v: the hidden part shows", v.From)
		}
	}
	big.Faint = true
	if bytes.Equal(plain(t, picture.View{}, big, picture.Part{Mesh: small}).Pix, plain(t, picture.View{}, big).Pix) {
		t.Error("the part does not show through a faint one")
	}
}

// TestLoosePoints: a mesh whose triangles share no points, as STL has it, looks the same.
func TestLoosePoints(t *testing.T) {
	m := boss(2, 0, 12)
	loose := &mesh.Mesh{}
	for i, tri := range m.Triangles {
		loose.Vertices = append(loose.Vertices, m.Vertices[tri[0]], m.Vertices[tri[1]], m.Vertices[tri[2]])
		loose.Triangles = append(loose.Triangles, [3]int32{int32(3 * i), int32(3*i + 1), int32(3*i + 2)})
	}
	a, b := plain(t, picture.View{}, picture.Part{Mesh: m}), plain(t, picture.View{}, picture.Part{Mesh: loose})
	// the order in which rounding sums the normals may move a tone by one step, no more
	for i := range a.Pix {
		if d := int(a.Pix[i]) - int(b.Pix[i]); d < -1 || d > 1 {
			t.Fatalf("pixel %d,%d differs by %d", i/4%1200, i/4/1200, d)
		}
	}
}

// TestFacesRead: the three faces of a block seen at once differ clearly, the upper one brightest.
func TestFacesRead(t *testing.T) {
	img := plain(t, picture.View{}, picture.Part{Mesh: cube(14, 14, 14)})
	tones := map[int]int{}
	for y := range foot {
		for x := range img.Rect.Dx() {
			if c := img.NRGBAAt(x, y); int(c.R)-int(c.B) > 40 {
				tones[luma(c)]++
			}
		}
	}
	var faces []int
	for l := range 256 {
		if tones[l] > 8000 {
			faces = append(faces, l)
		}
	}
	if len(faces) != 3 || faces[0] < 70 || faces[1]-faces[0] < 10 || faces[2]-faces[1] < 10 {
		t.Errorf("tones of the faces: %v", faces)
	}
}

// TestTurnedOver: a part turned over about x and seen from the left shows the same picture; only
// the axes in the foot differ.
func TestTurnedOver(t *testing.T) {
	m, over := chamferedCube(20, 14, 9, 1.5), chamferedCube(20, 14, 9, 1.5)
	for i, v := range over.Vertices {
		over.Vertices[i] = r3.Vec{X: v.X, Y: -v.Y, Z: -v.Z}
	}
	a := plain(t, picture.ThreeQuarter(), picture.Part{Mesh: m})
	b := plain(t, picture.ThreeQuarterLeft(), picture.Part{Mesh: over})
	half := a.Stride * foot
	if !bytes.Equal(a.Pix[:half], b.Pix[:half]) {
		t.Error("pictures differ")
	}
	if bytes.Equal(a.Pix[half:], b.Pix[half:]) {
		t.Error("axes do not differ")
	}
}

// TestInside: the inside of an open mesh, and only that, is drawn in rose.
func TestInside(t *testing.T) {
	rosy := func(m *mesh.Mesh) (n int) {
		img := plain(t, picture.View{}, picture.Part{Mesh: m, Colour: color.NRGBA{R: 120, G: 160, B: 120}})
		for y := range foot {
			for x := range img.Rect.Dx() {
				if c := img.NRGBAAt(x, y); int(c.R)-int(c.G) > 50 {
					n++
				}
			}
		}
		return n
	}
	if n := rosy(cube(20, 14, 9)); n != 0 {
		t.Errorf("closed: %d rose pixels", n)
	}
	if n := rosy(withoutTop(cube(20, 14, 9))); n < 20000 {
		t.Errorf("open: %d rose pixels", n)
	}
}

// withoutTop leaves the triangles out whose corners all lie on the highest level.
func withoutTop(m *mesh.Mesh) *mesh.Mesh {
	top := math.Inf(-1)
	for _, v := range m.Vertices {
		top = max(top, v.Z)
	}
	out := &mesh.Mesh{Vertices: m.Vertices}
	for _, t := range m.Triangles {
		if m.Vertices[t[0]].Z < top || m.Vertices[t[1]].Z < top || m.Vertices[t[2]].Z < top {
			out.Triangles = append(out.Triangles, t)
		}
	}
	return out
}
