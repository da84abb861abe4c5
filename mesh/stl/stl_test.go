package stl_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/stl"
)

func encoded(t testing.TB, m *mesh.Mesh, name string) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := stl.Encode(&b, m, name); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func encodedText(t testing.TB, m *mesh.Mesh, name string) string {
	t.Helper()
	var b bytes.Buffer
	if err := stl.EncodeText(&b, m, name); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The size and the layout are those of Burns, "Automated Fabrication", 1993, section 6.5: 80 bytes
// of header, count, then normal, corners and attribute of each triangle, all little-endian.
func TestBinaryLayout(t *testing.T) {
	for name, m := range map[string]*mesh.Mesh{"solid cube": meshtest.Box(r3.NewBox(0, 0, 0, 1, 2, 3)), "": meshtest.Icosahedron(1)} {
		data := encoded(t, m, name)
		if want := 84 + 50*len(m.Triangles); len(data) != want {
			t.Errorf("%d bytes, want %d", len(data), want)
		}
		if strings.HasPrefix(strings.ToLower(string(data)), "solid") {
			t.Errorf("header begins with solid: %q", data[:80])
		}
	}
	m := meshtest.Tetrahedron(5, 4, 3)
	m.Triangles = m.Triangles[:1] // the foot: (0,0,0), (0,4,0), (5,0,0)
	data := encoded(t, m, "foot")
	var got struct {
		Header     [80]byte
		Count      uint32
		Facet      [4][3]float32
		Attributes uint16
	}
	if err := binary.Read(bytes.NewReader(data), binary.LittleEndian, &got); err != nil {
		t.Fatal(err)
	}
	want := [4][3]float32{{0, 0, -1}, {0, 0, 0}, {0, 4, 0}, {5, 0, 0}}
	if got.Count != 1 || got.Facet != want || got.Attributes != 0 || !bytes.Contains(got.Header[:], []byte("foot")) {
		t.Errorf("got %+v", got)
	}
}

// Reading what was written gives the same mesh, vertex for vertex, in both forms.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coordinate := rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.Float32().Draw(t, "x")) + 0 })
		m := &mesh.Mesh{}
		for range rapid.IntRange(3, 12).Draw(t, "vertices") {
			m.Vertices = append(m.Vertices, r3.Vec{X: coordinate.Draw(t, "x"), Y: coordinate.Draw(t, "y"), Z: coordinate.Draw(t, "z")})
		}
		index := rapid.Int32Range(0, int32(len(m.Vertices))-1)
		for range rapid.IntRange(1, 20).Draw(t, "triangles") {
			m.Triangles = append(m.Triangles, [3]int32{index.Draw(t, "a"), index.Draw(t, "b"), index.Draw(t, "c")})
		}
		m = m.Welded() // the order in which a file names the vertices
		var b, s bytes.Buffer
		if err := errors.Join(stl.Encode(&b, m, "m"), stl.EncodeText(&s, m, "m")); err != nil {
			t.Fatal(err)
		}
		for _, r := range []io.Reader{&b, &s} {
			got, err := stl.Decode(r)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(m, got.Mesh); d != "" {
				t.Fatal(d)
			}
		}
	})
}

func TestRoundTripOfGatedSolid(t *testing.T) {
	m := meshtest.Clean(t, meshtest.Torus(20, 6, 40, 24))
	got, err := stl.Decode(bytes.NewReader(encoded(t, m, "ring")))
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(m, got.Mesh); d != "" {
		t.Error(d)
	}
	want := []stl.Solid{{Name: "binary STL in mm: ring", Triangles: len(m.Triangles)}}
	if d := cmp.Diff(want, got.Solids); d != "" || got.Format != stl.Binary || got.Turned != 0 {
		t.Errorf("%s, %d turned: %s", got.Format, got.Turned, d)
	}
	meshtest.Genus(t, got.Mesh, 1)
}

func TestTextForms(t *testing.T) {
	plain := encodedText(t, meshtest.Tetrahedron(5, 4, 3), "piece")
	oneLine := strings.ReplaceAll(plain, "\n", " ")
	for name, text := range map[string]string{
		"as written":       plain,
		"capitals":         strings.ToUpper(plain),
		"bare solid":       strings.ReplaceAll(plain, "solid piece", "solid"),
		"bare, no space":   strings.ReplaceAll(plain, "solid piece\n", "solid\n"),
		"CR LF":            strings.ReplaceAll(plain, "\n", "\r\n"),
		"CR":               strings.ReplaceAll(plain, "\n", "\r"),
		"tabs":             strings.ReplaceAll(plain, "  ", "\t"),
		"blank lines":      strings.ReplaceAll(plain, "\n", "\n\n   \n"),
		"no last line end": strings.TrimSpace(plain),
		"byte order mark":  "\xef\xbb\xbf" + plain,
		"space before":     "\n \t" + plain,
		"one line":         oneLine,
		"long line":        strings.Replace(plain, "solid piece", "solid "+strings.Repeat("x", 1<<17), 1),
		"name with facets": strings.Replace(plain, "solid piece", "solid of a multifacet normal shape", 1),
		"name with facet":  strings.Replace(plain, "solid piece", "solid a facet of it", 1),
		"exponents":        strings.NewReplacer("vertex 5 ", "vertex +5.000000E+00 ", " 4 ", " .4e1 ", " 3\n", " 30.e-01\n").Replace(plain),
		"normals nan":      strings.ReplaceAll(plain, "normal 0 0 -1", "normal nan -nan(ind) inf"),
	} {
		t.Run(name, func(t *testing.T) {
			got, err := stl.Decode(strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(meshtest.Tetrahedron(5, 4, 3).Welded(), got.Mesh); d != "" || got.Format != stl.Text {
				t.Errorf("%s: %s", got.Format, d)
			}
		})
	}
}

func TestSeveralSolids(t *testing.T) {
	a := meshtest.Tetrahedron(5, 4, 3)
	b := meshtest.Box(r3.NewBox(10, 0, 0, 11, 1, 1))
	got, err := stl.Decode(strings.NewReader(encodedText(t, a, "first") + encodedText(t, b, "second one")))
	if err != nil {
		t.Fatal(err)
	}
	want := []stl.Solid{{Name: "first", Triangles: 4}, {Name: "second one", Triangles: 12}}
	if d := cmp.Diff(want, got.Solids); d != "" {
		t.Error(d)
	}
	meshtest.Clean(t, got.Mesh)
	meshtest.Volume(t, got.Mesh, 11, 1e-9)
	meshtest.Genus(t, got.Mesh, 0, 0)
}

func TestStatedNormals(t *testing.T) {
	text := encodedText(t, meshtest.Tetrahedron(5, 4, 3), "")
	got, err := stl.Decode(strings.NewReader(strings.Replace(text, "normal 0 0 -1", "normal 0 0 1", 1)))
	if err != nil || got.Turned != 1 {
		t.Errorf("%d turned, error %v, want 1", got.Turned, err)
	}
}

// faulty is a file that must be refused.
type faulty struct {
	name   string
	data   []byte
	class  stl.Class
	line   int
	offset int64
}

// utf16Of is an ASCII text as UTF-16, as some editors save it.
func utf16Of(text string) []byte {
	out := []byte{0xff, 0xfe}
	for _, c := range []byte(text) {
		out = append(out, c, 0)
	}
	return out
}

func faultyFiles(t testing.TB) []faulty {
	cube := encoded(t, meshtest.Box(r3.NewBox(0, 0, 0, 1, 2, 3)), "cube") // 684 bytes
	text := encodedText(t, meshtest.Tetrahedron(5, 4, 3), "piece")        // 30 lines
	with := func(at int, bytes ...byte) []byte {
		data := append([]byte(nil), cube...)
		copy(data[at:], bytes)
		return data
	}
	float := func(at int, x float64) []byte {
		return with(at, binary.LittleEndian.AppendUint32(nil, math.Float32bits(float32(x)))...)
	}
	solidHeader := with(0, []byte("solid cube     ")...)
	words := func(old, new string) []byte { return []byte(strings.Replace(text, old, new, 1)) }
	return []faulty{
		{"no bytes", nil, stl.Empty, 0, 0},
		{"few bytes", []byte{1, 0, 2}, stl.Cut, 0, 3},
		{"header only", cube[:80], stl.Cut, 0, 80},
		{"count zero", with(80, 0, 0, 0, 0)[:84], stl.Empty, 0, 80},
		{"binary cut in a triangle", cube[:660], stl.Cut, 0, 660},
		{"binary cut between triangles", cube[:634], stl.Count, 0, 80},
		{"count too high", with(80, 13), stl.Count, 0, 80},
		{"count too low", with(80, 11), stl.Count, 0, 80},
		{"count beyond reason", with(80, 255, 255, 255, 255), stl.Count, 0, 80},
		{"trailing bytes", append(with(0), 1, 2, 3), stl.Trailing, 0, 684},
		{"solid in the header, cut", solidHeader[:660], stl.Cut, 0, 660},
		{"solid in the header, trailing", append(solidHeader, 7), stl.Trailing, 0, 684},
		{"NaN corner", float(84+50+12, math.NaN()), stl.NonFinite, 0, 84 + 50 + 12},
		{"infinite corner", float(84+11*50+12+24+8, math.Inf(-1)), stl.NonFinite, 0, 84 + 11*50 + 12 + 24},
		{"prose", []byte("A text about something else, of more than eighty-four bytes, in which there is no solid at all."), stl.Unknown, 0, 0},
		{"picture", append([]byte("\x89PNG\r\n\x1a\n"), bytes.Repeat([]byte{0, 7, 'A', 250}, 100)...), stl.Unknown, 0, 0},
		{"UTF-16", utf16Of(text), stl.Unknown, 0, 0},
		{"short prose", []byte("nothing"), stl.Unknown, 0, 0},
		{"text without facets", []byte("solid a\nendsolid a\n"), stl.Empty, 3, 0},
		{"text cut after a facet", []byte(text[:strings.Index(text, "endsolid")]), stl.Cut, 30, 0},
		{"text cut in a facet", []byte(text[:strings.Index(text, "endloop")]), stl.Cut, 7, 0},
		{"text cut in a vertex", []byte(text[:strings.Index(text, "vertex")+8]), stl.Cut, 4, 0},
		{"text cut after solid", []byte("solid"), stl.Cut, 1, 0},
		{"text NaN", words("vertex 5 0 0", "vertex 5 nan 0"), stl.NonFinite, 6, 0},
		{"text infinity", words("vertex 5 0 0", "vertex 5 -Inf 0"), stl.NonFinite, 6, 0},
		{"text NaN, as C writes it", words("vertex 5 0 0", "vertex 5 -nan(ind) 0"), stl.NonFinite, 6, 0},
		{"text too large", words("vertex 5 0 0", "vertex 5 1e39 0"), stl.Overflow, 6, 0},
		{"text no number", words("vertex 5 0 0", "vertex 5 0,5 0"), stl.Number, 6, 0},
		{"text number in base 16", words("vertex 5 0 0", "vertex 5 0x1p3 0"), stl.Number, 6, 0},
		{"text number with a line", words("vertex 5 0 0", "vertex 5 1_0 0"), stl.Number, 6, 0},
		{"two coordinates", words("vertex 5 0 0", "vertex 5 0"), stl.Number, 7, 0},
		{"two corners", words("vertex 5 0 0", ""), stl.Syntax, 7, 0},
		{"four corners", words("vertex 5 0 0", "vertex 5 0 0 vertex 5 0 0"), stl.Syntax, 6, 0},
		{"unknown word", words("outer loop", "inner loop"), stl.Syntax, 3, 0},
		{"CR LF counts once", []byte(strings.ReplaceAll(string(words("vertex 5 0 0", "vertex 5 x 0")), "\n", "\r\n")), stl.Number, 6, 0},
		{"CR counts", []byte(strings.ReplaceAll(string(words("vertex 5 0 0", "vertex 5 x 0")), "\n", "\r")), stl.Number, 6, 0},
		{"text after the end", append([]byte(text), "some more"...), stl.Trailing, 31, 0},
	}
}

func TestRefused(t *testing.T) {
	for _, tc := range faultyFiles(t) {
		t.Run(tc.name, func(t *testing.T) {
			_, err := stl.Decode(bytes.NewReader(tc.data))
			var e *stl.Error
			if !errors.As(err, &e) {
				t.Fatalf("error %v is no *stl.Error", err)
			}
			if e.Class != tc.class || e.Line != tc.line || e.Offset != tc.offset {
				t.Errorf("%v: class %s, line %d, offset %d; want %s, %d, %d", e, e.Class, e.Line, e.Offset, tc.class, tc.line, tc.offset)
			}
			if strings.ContainsAny(err.Error(), "\n\r") {
				t.Errorf("message of more than one line: %q", err)
			}
		})
	}
}

// A binary file whose header begins with solid is told by its size.
func TestSolidInBinaryHeader(t *testing.T) {
	data := encoded(t, meshtest.Box(r3.NewBox(0, 0, 0, 1, 2, 3)), "")
	copy(data, fmt.Sprintf("%-80s", "solid cube"))
	got, err := stl.Decode(bytes.NewReader(data))
	if err != nil || got.Format != stl.Binary {
		t.Fatalf("%+v, error %v", got, err)
	}
	meshtest.Volume(t, got.Mesh, 6, 0)
}

func TestNotWritten(t *testing.T) {
	with := func(v r3.Vec) *mesh.Mesh {
		return &mesh.Mesh{Vertices: []r3.Vec{{}, {X: 1}, v}, Triangles: [][3]int32{{0, 1, 2}}}
	}
	index := with(r3.Vec{Y: 1})
	index.Triangles = append(index.Triangles, [3]int32{0, 1, 3})
	for _, tc := range []struct {
		name     string
		m        *mesh.Mesh
		class    stl.Class
		triangle int
	}{
		{"empty", &mesh.Mesh{}, stl.Empty, -1},
		{"NaN", with(r3.Vec{Y: math.NaN()}), stl.NonFinite, 0},
		{"infinite", with(r3.Vec{Z: math.Inf(1)}), stl.NonFinite, 0},
		{"beyond float32", with(r3.Vec{Z: 1e39}), stl.Overflow, 0},
		{"index", index, stl.Index, 1},
	} {
		t.Run(tc.name, func(t *testing.T) {
			for _, encode := range []func(io.Writer, *mesh.Mesh, string) error{stl.Encode, stl.EncodeText} {
				var out bytes.Buffer
				var e *stl.Error
				if err := encode(&out, tc.m, ""); !errors.As(err, &e) || e.Class != tc.class || e.Triangle != tc.triangle || out.Len() > 0 {
					t.Errorf("error %v, %d bytes written; want %s at triangle %d", err, out.Len(), tc.class, tc.triangle)
				}
			}
		})
	}
}

// A line break in a name must not end the line that holds it.
func TestNameIsOneLine(t *testing.T) {
	got, err := stl.Decode(strings.NewReader(encodedText(t, meshtest.Tetrahedron(1, 1, 1), "a\nendsolid\nØ b")))
	if err != nil || got.Solids[0].Name != "aendsolid b" {
		t.Errorf("%+v, error %v", got, err)
	}
	header := encoded(t, meshtest.Tetrahedron(1, 1, 1), "a\nØ b")[:80]
	if name := string(bytes.TrimRight(header, "\x00")); name != "binary STL in mm: a b" {
		t.Errorf("header %q", name)
	}
}

func TestReaderErrorIsPassedOn(t *testing.T) {
	broken := errors.New("broken")
	if _, err := stl.Decode(io.MultiReader(strings.NewReader("solid"), readerFunc(func([]byte) (int, error) { return 0, broken }))); !errors.Is(err, broken) {
		t.Errorf("error %v", err)
	}
}

type readerFunc func([]byte) (int, error)

func (f readerFunc) Read(b []byte) (int, error) { return f(b) }

// Whatever the bytes: a mesh whose indices are in range and whose vertices are finite, or an
// *stl.Error; and what was read once can be written and is then read the same.
func FuzzDecode(f *testing.F) {
	for _, tc := range faultyFiles(f) {
		f.Add(tc.data)
	}
	f.Add(encoded(f, meshtest.Tetrahedron(1, 2, 3), ""))
	f.Add([]byte(encodedText(f, meshtest.Tetrahedron(1, 2, 3), "a")))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := stl.Decode(bytes.NewReader(data))
		var e *stl.Error
		if err != nil {
			if !errors.As(err, &e) {
				t.Fatalf("error %v is no *stl.Error", err)
			}
			return
		}
		r := mesh.Check(got.Mesh, mesh.Options{Quick: true})
		if r.Count(mesh.IndexRange)+r.Count(mesh.NonFinite)+r.Count(mesh.Empty) > 0 {
			t.Fatal(r.Err())
		}
		again, err := stl.Decode(bytes.NewReader(encoded(t, got.Mesh, "")))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(got.Mesh, again.Mesh); d != "" {
			t.Fatal(d)
		}
	})
}

func ExampleEncode() {
	m, err := mesh.Gate(meshtest.Tetrahedron(5, 4, 3))
	if err != nil {
		fmt.Println(err)
		return
	}
	m.Triangles = m.Triangles[:1]
	if err := stl.EncodeText(os.Stdout, m, "foot"); err != nil {
		fmt.Println(err)
	}
	// Output:
	// solid foot
	// facet normal 0 0 -1
	//   outer loop
	//     vertex 0 0 0
	//     vertex 0 4 0
	//     vertex 5 0 0
	//   endloop
	// endfacet
	// endsolid foot
}

func ExampleDecode() {
	file, err := stl.Decode(strings.NewReader("solid cut\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\n"))
	fmt.Println(file, err)
	// Output:
	// <nil> stl: line 5: cut file: the text ends inside a facet, expected vertex
}
