package threemf_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"image/color"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hpinc/go3mf"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/threemf"
)

// three is a package of three solids.
func three() *threemf.Package {
	return &threemf.Package{
		Title: "thistle", Description: "pieces of a forming buck", Application: "formbuck",
		Objects: []threemf.Object{
			{Name: "standoff & <boss>", Colour: color.NRGBA{R: 226, G: 164, B: 84, A: 255}, Mesh: meshtest.Box(r3.NewBox(0, 0, 0, 120, 30, 9))},
			{Name: "drain", Mesh: meshtest.Frustum(4, 5, 20, 60).Moved(r3.Vec{X: 5, Y: 5}).Snapped()},
			{Name: "nub Ø", Colour: color.NRGBA{R: 96, G: 150, B: 176, A: 128}, Mesh: meshtest.Tetrahedron(90, 4, 3)},
		},
	}
}

func encoded(t testing.TB, p *threemf.Package) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := threemf.Encode(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func decoded(t testing.TB, data []byte) *threemf.File {
	t.Helper()
	f, err := threemf.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestRoundTrip(t *testing.T) {
	p := three()
	f := decoded(t, encoded(t, p))
	if f.Unit != "millimeter" || f.Unused != 0 || len(f.Items) != 3 {
		t.Fatalf("%+v", f)
	}
	want := []threemf.Metadata{{"Title", "thistle"}, {"Description", "pieces of a forming buck"}, {"Application", "formbuck"}}
	if d := cmp.Diff(want, f.Metadata); d != "" {
		t.Error(d)
	}
	for i, item := range f.Items {
		o := p.Objects[i]
		if item.Name != o.Name || item.Colour != o.Colour || item.Type != "model" {
			t.Errorf("%q %v %s, want %q %v", item.Name, item.Colour, item.Type, o.Name, o.Colour)
		}
		meshtest.Clean(t, item.Mesh)
		meshtest.Volume(t, item.Mesh, o.Mesh.Volume(), 1e-6)
		if d := cmp.Diff(o.Mesh.Triangles, item.Mesh.Triangles); d != "" {
			t.Error(d)
		}
	}
}

// Objects lie in rows that stay within the bed, apart from each other, in the positive octant and on
// the bed, as the core specification 1.4.0, section 2.3.1, recommends of coordinates.
func TestLayout(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &threemf.Package{Gap: rapid.Float64Range(0, 9).Draw(t, "gap"), Bed: rapid.Float64Range(50, 300).Draw(t, "bed")}
		for range rapid.IntRange(1, 12).Draw(t, "objects") {
			size := func(name string) float64 { return rapid.Float64Range(0.1, 80).Draw(t, name) }
			at := func(name string) float64 { return rapid.Float64Range(-30, 30).Draw(t, name) }
			lo := r3.Vec{X: at("x"), Y: at("y"), Z: at("z")}
			p.Objects = append(p.Objects, threemf.Object{Mesh: meshtest.Box(r3.Box{Min: lo, Max: r3.Add(lo, r3.Vec{X: size("l"), Y: size("w"), Z: size("h")})}).Snapped()})
		}
		var b bytes.Buffer
		if err := threemf.Encode(&b, p); err != nil {
			t.Fatal(err)
		}
		f, err := threemf.Decode(&b)
		if err != nil {
			t.Fatal(err)
		}
		gap := p.Gap
		if gap == 0 {
			gap = threemf.DefaultGap
		}
		for i, a := range f.Items {
			box := a.Mesh.Bounds()
			if min(box.Min.X, box.Min.Y, box.Min.Z) < -1e-5 || box.Min.Z > 0.0011 || (box.Max.X > p.Bed+0.01 && box.Min.X > 0.01) {
				t.Fatalf("object %d at %v on a bed of %v", i, box, p.Bed)
			}
			for _, o := range f.Items[:i] {
				other := o.Mesh.Bounds()
				if d := apart(box, other); d < gap-0.002 {
					t.Fatalf("objects %v and %v are %v apart, want %v", box, other, d, gap)
				}
			}
		}
	})
}

// apart is the greatest distance of two boxes along x or y.
func apart(a, b r3.Box) float64 {
	return max(a.Min.X-b.Max.X, b.Min.X-a.Max.X, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y)
}

func TestAssembled(t *testing.T) {
	p := three()
	p.Assembled = true
	for i, item := range decoded(t, encoded(t, p)).Items {
		if d := cmp.Diff(p.Objects[i].Mesh.Snapped().Bounds(), item.Mesh.Bounds()); d != "" {
			t.Error(d)
		}
	}
}

// Same package, same bytes: no clock, no order of a map.
func TestSameBytes(t *testing.T) {
	first := encoded(t, three())
	for range 20 {
		if !bytes.Equal(first, encoded(t, three())) {
			t.Fatal("two runs differ")
		}
	}
	if !bytes.HasPrefix(first, []byte(threemf.Signature)) {
		t.Errorf("begins with %q", first[:4])
	}
}

// Go3mf's own reader and its checks of the core specification, in which an edge must be shared by
// just two triangles of opposite direction, take what is written.
func TestOtherReader(t *testing.T) {
	data := encoded(t, three())
	var m go3mf.Model
	if err := go3mf.NewDecoder(bytes.NewReader(data), int64(len(data))).Decode(&m); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(m.Validate(), m.ValidateCoherency()); err != nil {
		t.Error(err)
	}
	if m.Units != go3mf.UnitMillimeter || len(m.Resources.Objects) != 3 || m.Resources.Objects[0].PID != 1 || m.Resources.Objects[2].PIndex != 1 {
		t.Errorf("%v %+v", m.Units, m.Resources.Objects)
	}
	box := m.BoundingBox()
	if box.Min != (go3mf.Point3D{0, 0, 0}) || box.Max != (go3mf.Point3D{135, 39, 20}) {
		t.Errorf("bounds %v", box) // two rows: 120 + 5 + 10 wide, 30 + 5 + 4 deep
	}
}

// Every part is deflated or stored, as the core specification 1.4.0, section 2.1, demands, and of
// the earliest time of a ZIP file.
func TestPackage(t *testing.T) {
	data := encoded(t, three())
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range z.File {
		names = append(names, f.Name)
		if f.Method != zip.Deflate || f.Modified.Year() != 1980 {
			t.Errorf("%s: method %d of %v", f.Name, f.Method, f.Modified)
		}
	}
	if d := cmp.Diff([]string{"[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"}, names); d != "" {
		t.Error(d)
	}
	text := part(t, z, "3D/3dmodel.model")
	for _, want := range []string{
		`unit="millimeter"`, `<base name="nub Ø" displaycolor="#6096b080"/>`, `pid="1" pindex="0"`, `pid="1" pindex="1"`,
		`name="standoff &amp; &lt;boss&gt;"`, `<metadata name="Title">thistle</metadata>`,
	} {
		if !strings.Contains(strings.ReplaceAll(text, "6096B080", "6096b080"), want) {
			t.Errorf("%s is not in %s", want, text[:600])
		}
	}
}

func part(t *testing.T, z *zip.Reader, name string) string {
	t.Helper()
	r, err := z.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestNotWritten(t *testing.T) {
	with := func(v r3.Vec) *mesh.Mesh {
		return &mesh.Mesh{Vertices: []r3.Vec{{}, {X: 1}, v}, Triangles: [][3]int32{{0, 1, 2}}}
	}
	index := with(r3.Vec{Y: 1})
	index.Triangles = append(index.Triangles, [3]int32{0, 1, 3})
	for name, tc := range map[string]struct {
		objects []threemf.Object
		class   threemf.Class
	}{
		"nothing":   {nil, threemf.Empty},
		"no mesh":   {[]threemf.Object{{}}, threemf.Empty},
		"empty":     {[]threemf.Object{{Mesh: &mesh.Mesh{}}}, threemf.Empty},
		"NaN":       {[]threemf.Object{{Mesh: with(r3.Vec{Y: math.NaN()})}}, threemf.NonFinite},
		"infinite":  {[]threemf.Object{{Mesh: with(r3.Vec{Z: math.Inf(1)})}}, threemf.NonFinite},
		"too large": {[]threemf.Object{{Mesh: with(r3.Vec{Z: 1e39})}}, threemf.Overflow},
		"index":     {[]threemf.Object{{Mesh: meshtest.Tetrahedron(1, 1, 1)}, {Name: "second", Mesh: index}}, threemf.Index},
	} {
		var out bytes.Buffer
		var e *threemf.Error
		if err := threemf.Encode(&out, &threemf.Package{Objects: tc.objects}); !errors.As(err, &e) || e.Class != tc.class || out.Len() > 0 {
			t.Errorf("%s: error %v, %d bytes written; want %s", name, err, out.Len(), tc.class)
		}
	}
}

func ExampleEncode() {
	var file bytes.Buffer
	err := threemf.Encode(&file, &threemf.Package{Title: "two", Objects: []threemf.Object{
		{Name: "cube", Mesh: meshtest.Box(r3.NewBox(0, 0, 0, 20, 20, 20))},
		{Name: "pyramid", Mesh: meshtest.Tetrahedron(5, 4, 3)},
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	read, err := threemf.Decode(&file)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, item := range read.Items {
		fmt.Println(item.Name, item.Mesh.Bounds().Min, item.Mesh.Volume())
	}
	// Output:
	// cube {0 0 0} 8000
	// pyramid {25 0 0} 10
}

// TestPlates: every object is on just one plate, within the bed and 5 mm off its border where it is not larger than that, and
// away from the others; no two plates could be one.
func TestPlates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := &threemf.Package{Bed: rapid.Float64Range(100, 300).Draw(t, "bed")}
		area := 0.0
		for i := range rapid.IntRange(1, 30).Draw(t, "objects") {
			size := r3.Vec{X: rapid.Float64Range(1, 120).Draw(t, "l"), Y: rapid.Float64Range(1, 90).Draw(t, "w"), Z: 3}
			lo := r3.Vec{X: rapid.Float64Range(-30, 30).Draw(t, "x"), Y: rapid.Float64Range(-30, 30).Draw(t, "y")}
			p.Objects = append(p.Objects, threemf.Object{Name: fmt.Sprint(i), Mesh: meshtest.Box(r3.Box{Min: lo, Max: r3.Add(lo, size)}).Snapped()})
			area += (size.X + 6) * (size.Y + 6)
		}
		plates := p.Plates()
		seen := map[string]bool{}
		for _, plate := range plates {
			var b bytes.Buffer
			if err := threemf.Encode(&b, plate); err != nil {
				t.Fatal(err)
			}
			f, err := threemf.Decode(&b)
			if err != nil {
				t.Fatal(err)
			}
			for i, a := range f.Items {
				box := a.Mesh.Bounds()
				if seen[a.Name] {
					t.Fatalf("object %s is on two plates", a.Name)
				}
				seen[a.Name] = true
				if min(box.Min.X, box.Min.Y) < 5-0.002 || max(box.Max.X, box.Max.Y) > p.Bed-5+0.002 && max(box.Size().X, box.Size().Y) < p.Bed-10.002 {
					t.Fatalf("object %s at %v on a bed of %v", a.Name, box, p.Bed)
				}
				for _, o := range f.Items[:i] {
					if d := apart(box, o.Mesh.Bounds()); d < threemf.DefaultGap-0.002 {
						t.Fatalf("objects %s and %s are %v apart", a.Name, o.Name, d)
					}
				}
			}
		}
		if len(seen) != len(p.Objects) {
			t.Fatalf("%d of %d objects are on plates", len(seen), len(p.Objects))
		}
		if side := p.Bed - 10; len(plates) > 3+int(4*area/side/side) {
			t.Fatalf("%d plates for %.0f mm2", len(plates), area)
		}
	})
}
