package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/mesh"
	"formbuck/mesh/stl"

	"gonum.org/v1/gonum/spatial/r3"
)

// odd is a file as others write it, or as it comes to lie on a disk. What is said of it is one line of a fault, or of an
// answer the first line and all problems.
type odd struct {
	name string
	data []byte
	want string
}

// oddSTL are STL files of a cube of 20 mm, about the origin where it is not said where.
func oddSTL(t *testing.T) []odd {
	text := textSTL("cube", "\n", "  ", cube())
	return []odd{
		{"no bytes", nil, "part: empty: the file has no bytes"},
		{"one byte", []byte{0}, "part: at byte 1: cut file: 1 of at least 84 bytes of a binary STL"},
		{"only a header", make([]byte, 80), "part: at byte 80: cut file: 80 of at least 84 bytes of a binary STL"},
		{"blank lines", []byte("\n\n"), "part: neither STL nor 3MF: shorter than 84 bytes, and no text that begins with solid"},
		{"a page", []byte("<!DOCTYPE html><html><body>The file that was asked for is not there, or not any more.</body></html>"), "part: neither STL nor 3MF: a text that does not begin with solid"},
		{"UTF-16", append([]byte{0xff, 0xfe}, bytes.ReplaceAll([]byte(text), nil, []byte{0})...), "part: neither STL nor 3MF: a text in UTF-16; save it as UTF-8"},
		{"huge", binarySTL(t, scaled(cube(), 1e29)), "part: STL binary, 12 triangles, 1 shell, closed"},
		{"tiny", binarySTL(t, scaled(cube(), 1e-31)), "part: STL binary, 12 triangles, 1 shell, closed\nsliver: 12, at (-3.3333e-31, 3.3333e-31, -1e-30) mm"},
		{"a point", binarySTL(t, scaled(cube(), 0)), "part: STL binary, 12 triangles, 0 shells, NOT closed\ndegenerate triangle: 12, at (0, 0, 0) mm\nno volume: 1, at (0, 0, 0) mm"},
		{"far off", binarySTL(t, cube().Moved(r3.Vec{X: 12345.25})), "part: STL binary, 12 triangles, 1 shell, closed"},
		{
			"far off and open", binarySTL(t, without(cube(), 11).Moved(r3.Vec{X: 12345.25})),
			"part: STL binary, 11 triangles, 1 shell, NOT closed\nopen edge: 3, at (12355.25, -10, 0) mm",
		},
		{
			"single triangle", binarySTL(t, &mesh.Mesh{Vertices: cube().Vertices, Triangles: cube().Triangles[:1]}),
			"part: STL binary, 1 triangle, 1 shell, NOT closed\nopen edge: 3, at (-10, 0, -10) mm\nno volume: 1, at (0, 0, -10) mm",
		},
		{
			"two that are the same", binarySTL(t, mesh.Joined(cube(), cube())),
			"part: STL binary, 24 triangles, 1 shell, NOT closed\nduplicate triangle: 12, at (-3.3333, 3.3333, -10) mm\nnon-manifold edge: 18, at (-10, 0, -10) mm",
		},
		{
			"faces on each other", binarySTL(t, mesh.Joined(cube(), cube().Moved(r3.Vec{X: 20, Y: 5, Z: 5}))),
			"part: STL binary, 24 triangles, 2 shells, closed\nself-intersection: 22, at (10, -5, 10) mm",
		},
		{"CR LF", []byte(textSTL("cube", "\r\n", "  ", cube())), "part: STL text, 12 triangles, 1 shell, closed"},
		{"CR", []byte(textSTL("cube", "\r", "  ", cube())), "part: STL text, 12 triangles, 1 shell, closed"},
		{"tabs", []byte(textSTL("cube", "\n", "\t", cube())), "part: STL text, 12 triangles, 1 shell, closed"},
		{"capitals", []byte(strings.ToUpper(text)), "part: STL text, 12 triangles, 1 shell, closed"},
		{"a line", []byte(textSTL("cube", " ", "", cube())), "part: STL text, 12 triangles, 1 shell, closed"},
		{"two solids", []byte(text + textSTL("b", "\n", "", cube().Moved(r3.Vec{X: 40}))), "part: STL text, 24 triangles, 2 shells, closed"},
		{"name in UTF-8", []byte(textSTL("Größe ½", "\n", "  ", cube())), "part: STL text, 12 triangles, 1 shell, closed"},
		{"name in Latin-1", []byte(textSTL("Gr\xf6\xdfe", "\n", "  ", cube())), "part: STL text, 12 triangles, 1 shell, closed"},
		{"no name", []byte(strings.ReplaceAll(text, "solid cube", "solid")), "part: STL text, 12 triangles, 1 shell, closed"},
		{"no endsolid", []byte(strings.ReplaceAll(text, "endsolid cube", "")), "part:87: cut file: the text ends without endsolid"},
		{"a number of a program", []byte(strings.Replace(text, "-10", "0x1p3", 1)), `part:4: not a number: "0x1p3"`},
	}
}

// oddPackages are 3MF files of a cube of 20 mm from the origin and a tetrahedron beside it.
func oddPackages(t *testing.T) []odd {
	pair := `<object id="9" name="pair"><components><component objectid="2"/>` +
		`<component objectid="2" transform="-1 0 0 0 1 0 0 0 1 -40 0 0"/></components></object></resources>`
	const two = "part: cube: 3MF, 12 triangles, 1 shell, closed\npart: Größe 1: 3MF, 4 triangles, 1 shell, closed"
	return []odd{
		{"without unit", edited(t, ".model", ` unit="millimeter"`, ""), two},
		{"of no unit", edited(t, ".model", `"millimeter"`, `"ell"`), `part: 3D/3dmodel.model:2:`},
		{"component", edited(t, ".model", `objectid="2" transform`, `objectid="9" transform`, "</resources>", pair), strings.Replace(two, "cube: 3MF, 12 triangles, 1 shell", "pair: 3MF, 24 triangles, 2 shells", 1)},
		{"no item", edited(t, ".model", `<item objectid="2"`, `<other objectid="2"`, `<item objectid="3"`, `<other objectid="3"`), "part: 3D/3dmodel.model: empty: no item to build"},
		{"encoding", edited(t, ".model", "UTF-8", "windows-1252"), "part: 3D/3dmodel.model:1:"},
		{"bomb", edited(t, ".model", "<build>", "<!--"+strings.Repeat(" ", 40<<20)+"--><build>"), "part: 3D/3dmodel.model: too large: "},
		{"no files", []byte("PK\x05\x06" + strings.Repeat("\x00", 18)), "part: [Content_Types].xml: missing: no such part in the package"},
		{"model outside", edited(t, ".rels", "/3D/3dmodel.model", "/../../etc/passwd"), "part: etc/passwd: missing: the relationships name a model that is not in the package"},
	}
}

// TestInspectOddFiles inspects each and wants an answer, or one line with the place.
func TestInspectOddFiles(t *testing.T) {
	if testing.Short() {
		t.Skip("run in full")
	}
	for _, o := range append(oddSTL(t), oddPackages(t)...) {
		t.Run(o.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "part")
			if err := os.WriteFile(path, o.data, 0o600); err != nil {
				t.Fatal(err)
			}
			var out, errs bytes.Buffer
			status := run([]string{"inspect", path}, &out, &errs)
			if status == exitOK == (errs.Len() > 0) {
				t.Errorf("status %d, %s", status, &errs)
			}
			var got []string
			for line := range strings.Lines(out.String() + strings.ReplaceAll(errs.String(), "formbuck: ", "")) {
				if problem, ok := strings.CutPrefix(line, "  problem   "); ok {
					got = append(got, strings.TrimSpace(problem))
				} else if rest, ok := strings.CutPrefix(line, path); ok {
					got = append(got, "part"+strings.TrimSpace(rest))
				} else if !strings.HasPrefix(line, "  ") {
					t.Errorf("neither an answer nor a fault: %q", line)
				}
			}
			if all := strings.Join(got, "\n"); all != o.want && !(status == exitFault && len(got) == 1 && strings.HasPrefix(all, o.want)) {
				t.Errorf("%s\nwant\n%s", all, o.want)
			}
		})
	}
}

// TestInspectPlaces tells a part's measures in figures that can be read, wherever it is and however large.
func TestInspectPlaces(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 12.345678: "12.346", 999.999: "1000", 12345.254: "12345.25", -1234567.891: "-1234567.89", 1e30: "1e+30", -1e-30: "-1e-30"} {
		if got := coordinate(x); got != want {
			t.Errorf("%v is written %s, want %s", x, got, want)
		}
	}
	huge, _ := inspected(t, scaled(cube(), 1e29))
	if text := huge.text(0); !strings.Contains(text, "  size      2e+30 x 2e+30 x 2e+30 mm\n") || !strings.Contains(text, "  volume    8e+90 mm3\n") || !strings.Contains(text, "  wall      2e+30 mm at") {
		t.Error(text)
	}
}

// edited is the package of two with texts of a part changed, each where it first stands.
func edited(t *testing.T, part string, changes ...string) []byte {
	t.Helper()
	data, err := packFile("two")
	for i := 0; i < len(changes) && err == nil; i += 2 {
		data, err = repackedPart(data, part, changes[i], changes[i+1])
	}
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func scaled(m *mesh.Mesh, by float64) *mesh.Mesh {
	out := &mesh.Mesh{Triangles: m.Triangles}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, r3.Scale(by, v))
	}
	return out
}

// without is the mesh without a triangle.
func without(m *mesh.Mesh, i int) *mesh.Mesh {
	return &mesh.Mesh{Vertices: m.Vertices, Triangles: append(m.Triangles[:i:i], m.Triangles[i+1:]...)}
}

func binarySTL(t *testing.T, m *mesh.Mesh) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := stl.Encode(&b, m, "part"); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// textSTL is a text STL with the given ends of lines and indents.
func textSTL(name, end, indent string, m *mesh.Mesh) string {
	var b strings.Builder
	b.WriteString("solid " + name + end)
	for _, t := range m.Triangles {
		b.WriteString(indent + "facet normal 0 0 0" + end + indent + "outer loop" + end)
		for _, i := range t {
			v := m.Vertices[i]
			fmt.Fprintf(&b, "%s%svertex %g %g %g%s", indent, indent, v.X, v.Y, v.Z, end)
		}
		b.WriteString(indent + "endloop" + end + indent + "endfacet" + end)
	}
	return b.String() + "endsolid " + name + end
}

// TestInspectComponents wants a component where its own transform and then that of the item put it: the cube of 20 mm about
// the origin mirrored in x and moved to x -50 to -30, and both turned by 90 deg about z and moved by (5, 6, 7).
func TestInspectComponents(t *testing.T) {
	const shift = `transform="1.000 0.000 0.000 0.000 1.000 0.000 0.000 0.000 1.000 10.000 10.000 10.000"`
	path := filepath.Join(t.TempDir(), "pair.3mf")
	data := edited(t, ".model", `objectid="2" `+shift, `objectid="9" transform="0 1 0 -1 0 0 0 0 1 5 6 7"`, "</resources>",
		`<object id="9"><components><component objectid="2"/><component objectid="2" transform="-1 0 0 0 1 0 0 0 1 -40 0 0"/></components></object></resources>`)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if status := run([]string{"inspect", path}, &out, &errs); status != exitOK {
		t.Fatalf("status %d: %s", status, &errs)
	}
	for _, want := range []string{": object 9: 3MF, 24 triangles, 2 shells, closed\n", "  bounds    (-5.0000, -44.0000, -3.0000) to (15.0000, 16.0000, 17.0000) mm\n", "  volume    16000.0000 mm3\n"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%s\nwant %s", &out, want)
		}
	}
}
