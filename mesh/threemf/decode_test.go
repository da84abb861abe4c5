package threemf_test

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/mesh"
	"formbuck/mesh/meshtest"
	"formbuck/mesh/threemf"
)

const (
	types = `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>`
	rels  = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">` +
		`<Relationship Target="/3D/3dmodel.model" Id="r" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>`
	head = `<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"`
	// tetra has the volume 10, as in Mirtich, journal of graphics tools 1(2), 1996.
	tetra = `<mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="5" y="0" z="0"/><vertex x="0" y="4" z="0"/><vertex x="0" y="0" z="3"/></vertices>
<triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="0" v2="3" v3="2"/><triangle v1="1" v2="2" v3="3"/></triangles></mesh>`
	plain = head + `><resources><object id="1">` + tetra + `</object></resources><build><item objectid="1"/></build></model>`
)

// files is the parts of a package, two strings each.
type files []string

// pack zips the parts.
func pack(t testing.TB, parts files) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(parts); i += 2 {
		w, err := z.CreateHeader(&zip.FileHeader{Name: parts[i], Method: zip.Deflate})
		if err == nil {
			_, err = io.WriteString(w, parts[i+1])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// packed is a package with this model.
func packed(t testing.TB, model string) []byte {
	t.Helper()
	return pack(t, files{"[Content_Types].xml", types, "_rels/.rels", rels, "3D/3dmodel.model", model})
}

// built is a model with the tetrahedron as object 1, further objects and items.
func built(attributes, objects, items string) string {
	return head + attributes + `><resources><object id="1" name="tetra">` + tetra + `</object>` + objects +
		`</resources><build>` + items + `</build></model>`
}

func TestUnits(t *testing.T) {
	for unit, mm := range map[string]float64{"micron": 0.001, "millimeter": 1, "centimeter": 10, "inch": 25.4, "foot": 304.8, "meter": 1000} {
		f := decoded(t, packed(t, strings.Replace(plain, "millimeter", unit, 1)))
		if f.Unit != unit {
			t.Errorf("unit %q, want %q", f.Unit, unit)
		}
		meshtest.Volume(t, f.Items[0].Mesh, 10*mm*mm*mm, 1e-9*mm*mm*mm)
	}
	f := decoded(t, packed(t, strings.Replace(plain, ` unit="millimeter"`, "", 1)))
	meshtest.Volume(t, f.Items[0].Mesh, 10, 1e-9) // the core's default is the millimetre
}

// Transforms are of row vectors, the last row a shift; where one mirrors, outside stays outside.
func TestTransforms(t *testing.T) {
	for name, tc := range map[string]struct {
		items string
		want  r3.Box
	}{
		"shift":    {`<item objectid="1" transform="1 0 0 0 1 0 0 0 1 7 8 9"/>`, r3.NewBox(7, 8, 9, 12, 12, 12)},
		"turn":     {`<item objectid="1" transform="0 1 0 -1 0 0 0 0 1 0 0 0"/>`, r3.NewBox(-4, 0, 0, 0, 5, 3)},
		"mirror":   {`<item objectid="1" transform="1 0 0 0 1 0 0 0 -1 0 0 0"/>`, r3.NewBox(0, 0, -3, 5, 4, 0)},
		"swap":     {`<item objectid="1" transform="0 1 0 1 0 0 0 0 1 0 0 0"/>`, r3.NewBox(0, 0, 0, 4, 5, 3)},
		"object":   {`<item objectid="2"/>`, r3.NewBox(-5, 0, 1, 0, 4, 4)},
		"nested":   {`<item objectid="2" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>`, r3.NewBox(0, 0, 1, 5, 4, 4)},
		"two deep": {`<item objectid="3" transform="1 0 0 0 1 0 0 0 1 0 0 -11"/>`, r3.NewBox(-5, 0, 0, 0, 4, 3)},
	} {
		t.Run(name, func(t *testing.T) {
			f := decoded(t, packed(t, built("", `<object id="2"><components><component objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 1"/></components></object>
<object id="3"><components><component objectid="2" transform="1 0 0 0 1 0 0 0 1 0 0 10"/></components></object>`, tc.items)))
			m := f.Items[0].Mesh
			meshtest.Clean(t, m)
			meshtest.Volume(t, m, 10, 1e-9)
			meshtest.Bounds(t, m, tc.want, 1e-12)
		})
	}
}

// A scale of two makes eight times the volume, in whatever unit.
func TestScale(t *testing.T) {
	f := decoded(t, packed(t, strings.Replace(built("", "", `<item objectid="1" transform="2 0 0 0 2 0 0 0 2 1 0 0"/>`), "millimeter", "centimeter", 1)))
	meshtest.Volume(t, f.Items[0].Mesh, 80e3, 1e-6)
	meshtest.Bounds(t, f.Items[0].Mesh, r3.NewBox(10, 0, 0, 110, 80, 60), 1e-9)
}

func TestItems(t *testing.T) {
	f := decoded(t, packed(t, built(` xmlns:m="http://schemas.microsoft.com/3dmanufacturing/material/2015/02" xmlns:v="urn:of-a-vendor" requiredextensions="m"`,
		`<m:colorgroup id="9"><m:color color="#FFFFFF"/></m:colorgroup><v:note>anything <b/></v:note>
<basematerials id="5"><base name="a" displaycolor="#010203"/><base name="b" displaycolor="#0A0B0C80"/></basematerials>
<object id="2" pid="5" pindex="1" type="support" v:more="1">`+tetra+`</object><object id="3" pid="9" pindex="0" partnumber="x">`+tetra+`</object>`,
		`<item objectid="1"/><item objectid="2" partnumber="17"/><item objectid="1"/>`)))
	got := ""
	for _, i := range f.Items {
		got += fmt.Sprintln(i.Name, i.Type, i.Colour)
	}
	if want := "tetra model {0 0 0 0}\n17 support {10 11 12 128}\ntetra model {0 0 0 0}\n"; got != want || f.Unused != 1 {
		t.Errorf("%s%d unused, want %s1", got, f.Unused, want)
	}
}

// Triangles share what they share by index: corners in one place under several numbers leave edges open.
func TestNotWelded(t *testing.T) {
	loose := strings.NewReplacer(
		`<vertex x="0" y="0" z="3"/>`, `<vertex x="0" y="0" z="3"/><vertex x="5" y="0" z="0"/>`,
		`v1="1" v2="2" v3="3"`, `v1="4" v2="2" v3="3"`).Replace(plain)
	if n := mesh.Check(decoded(t, packed(t, loose)).Items[0].Mesh, mesh.Options{}).Count(mesh.OpenEdge); n != 4 {
		t.Errorf("%d open edges, want 4", n)
	}
}

// faulty is a file that must be refused.
type faulty struct {
	name  string
	data  []byte
	class threemf.Class
	line  int
}

func faultyFiles(t testing.TB) []faulty {
	good := packed(t, plain)
	with := func(old, new string) []byte {
		if !strings.Contains(plain, old) {
			t.Fatalf("%q is not there", old)
		}
		return packed(t, strings.Replace(plain, old, new, 1))
	}
	item := func(attributes string) []byte {
		return packed(t, built("", "", "\n\n<item "+attributes+"/>"))
	}
	bytesAt := func(old string, at int, b ...byte) []byte {
		data := bytes.Clone(good)
		i := bytes.LastIndex(data, []byte(old))
		copy(data[i+at:], b)
		return data
	}
	method := bytesAt("PK\x01\x02", 10, 12)
	encrypted := bytesAt("PK\x01\x02", 8, 1)
	damaged := bytes.Clone(good)
	damaged[bytes.LastIndex(good, []byte("3D/3dmodel.model"))-300] ^= 0x55
	lie := bytesAt("PK\x01\x02", 24, binary.LittleEndian.AppendUint32(nil, 1<<30+1)...)
	var nested strings.Builder
	for i := 2; i < 40; i++ {
		fmt.Fprintf(&nested, `<object id="%d"><components><component objectid="%d"/></components></object>`, i, i-1)
	}
	var many strings.Builder // 20 times as many at each step
	for i := 2; i < 12; i++ {
		fmt.Fprintf(&many, `<object id="%d"><components>%s</components></object>`, i, strings.Repeat(fmt.Sprintf(`<component objectid="%d"/>`, i-1), 20))
	}
	return []faulty{
		{"no bytes", nil, threemf.Empty, 0},
		{"no package", []byte("solid of words"), threemf.NotPackage, 0},
		{"cut", good[:len(good)-30], threemf.Cut, 0},
		{"cut early", good[:100], threemf.Cut, 0},
		{"damaged", damaged, threemf.Damaged, 0},
		{"packed otherwise", method, threemf.Unsupported, 0},
		{"encrypted", encrypted, threemf.Unsupported, 0},
		{"too large by its directory", lie, threemf.TooLarge, 0},
		{"bomb", packed(t, plain+strings.Repeat(" ", 40<<20)), threemf.TooLarge, 0},
		{"no content types", pack(t, files{"_rels/.rels", rels, "3D/3dmodel.model", plain}), threemf.Missing, 0},
		{"no relationships", pack(t, files{"[Content_Types].xml", types, "3D/3dmodel.model", plain}), threemf.Missing, 0},
		{"relationships that are none", pack(t, files{"[Content_Types].xml", types, "_rels/.rels", "<a>", "3D/3dmodel.model", plain}), threemf.Syntax, 0},
		{"no relationship to a model", pack(t, files{"[Content_Types].xml", types, "_rels/.rels", "<a/>", "3D/3dmodel.model", plain}), threemf.Missing, 0},
		{"no model", pack(t, files{"[Content_Types].xml", types, "_rels/.rels", rels}), threemf.Missing, 0},
		{"part twice", pack(t, files{"[Content_Types].xml", types, "_rels/.rels", rels, "3D/3dmodel.model", plain, "3d/3DModel.model", plain}), threemf.Twice, 0},
		{"model without text", packed(t, ""), threemf.Missing, 1},
		{"prose", packed(t, "a model"), threemf.Missing, 1},
		{"XML cut", packed(t, plain[:len(plain)-20]), threemf.Syntax, 3},
		{"XML cut in a vertex", packed(t, plain[:strings.Index(plain, "vertex x=")+8]), threemf.Syntax, 2},
		{"wrong end", with("</vertices>", "</vertexes>"), threemf.Syntax, 2},
		{"wrong character", with(`id="1"`, "id=\"1\" name=\"\x01\""), threemf.Syntax, 2},
		{"not UTF-8", with("UTF-8", "ISO-8859-1"), threemf.Unsupported, 1},
		{"document type", with("<model", `<!DOCTYPE a [<!ENTITY b "c">]><model`), threemf.Unsupported, 2},
		{"other root", packed(t, "<svg/>"), threemf.Missing, 1},
		{"other namespace", with("core/2015/02", "core/2099/02"), threemf.Missing, 2},
		{"second root", packed(t, plain+"\n<model/>"), threemf.Twice, 4},
		{"unknown unit", with("millimeter", "furlong"), threemf.Value, 2},
		{"extension undeclared", packed(t, built(` requiredextensions="q"`, "", "")), threemf.Value, 2},
		{"extension unknown", packed(t, built(` xmlns:q="urn:q" requiredextensions="q"`, "", "")), threemf.Unsupported, 2},
		{"object in another part", item(`objectid="1" p:path="/3D/a.model" xmlns:p="http://schemas.microsoft.com/3dmanufacturing/production/2015/06"`), threemf.Unsupported, 5},
		{"coordinate missing", with(` z="3"`, ""), threemf.Missing, 2},
		{"coordinate no number", with(`z="3"`, `z="3,5"`), threemf.Value, 2},
		{"coordinate in base 16", with(`z="3"`, `z="0x1p3"`), threemf.Value, 2},
		{"coordinate with a line", with(`z="3"`, `z="1_0"`), threemf.Value, 2},
		{"coordinate NaN", with(`z="3"`, `z="NaN"`), threemf.NonFinite, 2},
		{"coordinate infinite", with(`z="3"`, `z="-INF"`), threemf.NonFinite, 2},
		{"coordinate beyond float64", with(`z="3"`, `z="1e999"`), threemf.Overflow, 2},
		{"coordinate beyond float32", with(`z="3"`, `z="1e39"`), threemf.Overflow, 2},
		{"attribute twice", with(`z="3"`, `z="3" z="4"`), threemf.Twice, 2},
		{"too many attributes", with(`z="3"`, `z="3"`+attributes(100)), threemf.TooLarge, 2},
		{"too many items", packed(t, built("", "", strings.Repeat(`<item objectid="1"/>`, 1001))), threemf.TooLarge, 3},
		{"corner missing", with(` v3="3"`, ""), threemf.Missing, 3},
		{"corner negative", with(` v3="3"`, ` v3="-1"`), threemf.Value, 3},
		{"corner not there", with(` v3="3"`, ` v3="4"`), threemf.Index, 3},
		{"object without mesh", packed(t, built("", `<object id="2"/>`, "")), threemf.Empty, 3},
		{"object without id", with(` id="1"`, ""), threemf.Missing, 2},
		{"id 0", with(`id="1"`, `id="0"`), threemf.Value, 2},
		{"id twice", packed(t, built("", `<object id="1">`+tetra+`</object>`, "")), threemf.Twice, 3},
		{"mesh twice", with("</object>", tetra+"</object>"), threemf.Twice, 3},
		{"type", with(`id="1"`, `id="1" type="ghost"`), threemf.Value, 2},
		{"colour", packed(t, built("", `<basematerials id="5"><base name="a" displaycolor="red"/></basematerials>`, "")), threemf.Value, 3},
		{"component of itself", packed(t, built("", `<object id="2"><components><component objectid="2"/></components></object>`, "")), threemf.Reference, 3},
		{"components too deep", packed(t, built("", nested.String(), "")), threemf.TooLarge, 3},
		{"components too many", packed(t, built("", many.String(), "")), threemf.TooLarge, 3},
		{"no build", packed(t, head+"><resources/></model>"), threemf.Missing, 0},
		{"nothing to build", packed(t, built("", "", "")), threemf.Empty, 0},
		{"two builds", with("</model>", "<build/></model>"), threemf.Twice, 3},
		{"item of nothing", item(`objectid="7"`), threemf.Reference, 5},
		{"transform short", item(`objectid="1" transform="1 0 0"`), threemf.Value, 5},
		{"transform no number", item(`objectid="1" transform="1 0 0 0 1 0 0 0 one 0 0 0"`), threemf.Value, 5},
		{"transform in base 16", item(`objectid="1" transform="1 0 0 0 1 0 0 0 0x1 0 0 0"`), threemf.Value, 5},
		{"transform NaN", item(`objectid="1" transform="1 0 0 0 1 0 0 0 nan 0 0 0"`), threemf.NonFinite, 5},
		{"transform flat", item(`objectid="1" transform="1 0 0 0 1 0 1 1 0 0 0 0"`), threemf.Value, 5},
		{"transform too far", item(`objectid="1" transform="1 0 0 0 1 0 0 0 1 1e39 0 0"`), threemf.Overflow, 0},
	}
}

// attributes are n different ones.
func attributes(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, ` a%d=""`, i)
	}
	return b.String()
}

// White space round a number is no part of it (W3C XML Schema Part 2, 4.3.6).
func TestBlanksRoundNumbers(t *testing.T) {
	model := strings.NewReplacer(`x="5"`, `x=" 5 "`, `v2="2"`, "v2=\"\t2\n\"", `objectid="1"`, `objectid=" 1"`).Replace(plain)
	meshtest.Volume(t, decoded(t, packed(t, model)).Items[0].Mesh, 10, 1e-9)
}

func TestRefused(t *testing.T) {
	for _, tc := range faultyFiles(t) {
		t.Run(tc.name, func(t *testing.T) {
			_, err := threemf.Decode(bytes.NewReader(tc.data))
			var e *threemf.Error
			if !errors.As(err, &e) {
				t.Fatalf("error %v is no *threemf.Error", err)
			}
			if e.Class != tc.class || e.Line != tc.line {
				t.Errorf("%v: class %s, line %d; want %s, %d", e, e.Class, e.Line, tc.class, tc.line)
			}
			if strings.ContainsAny(err.Error(), "\n\r") {
				t.Errorf("message of more than one line: %q", err)
			}
		})
	}
}

func TestReaderErrorIsPassedOn(t *testing.T) {
	broken := errors.New("broken")
	if _, err := threemf.Decode(io.MultiReader(strings.NewReader("PK"), readerFunc(func([]byte) (int, error) { return 0, broken }))); !errors.Is(err, broken) {
		t.Errorf("error %v", err)
	}
}

type readerFunc func([]byte) (int, error)

func (f readerFunc) Read(b []byte) (int, error) { return f(b) }

// FuzzDecode: whatever the bytes, meshes whose indices are in range and whose vertices are finite, or
// an *Error.
func FuzzDecode(f *testing.F) {
	for _, tc := range faultyFiles(f) {
		if len(tc.data) < 1<<14 {
			f.Add(tc.data)
		}
	}
	f.Add(packed(f, plain))
	f.Add(encoded(f, three()))
	f.Fuzz(holds)
}

// FuzzModel is FuzzDecode for the XML inside, which the packing would hide from the fuzzer.
func FuzzModel(f *testing.F) {
	f.Add(plain)
	for _, tc := range faultyFiles(f) {
		if z, err := zip.NewReader(bytes.NewReader(tc.data), int64(len(tc.data))); err == nil && len(tc.data) < 1<<14 {
			if r, err := z.Open("3D/3dmodel.model"); err == nil {
				if text, err := io.ReadAll(r); err == nil {
					f.Add(string(text))
				}
			}
		}
	}
	f.Fuzz(func(t *testing.T, model string) { holds(t, packed(t, model)) })
}

func holds(t *testing.T, data []byte) {
	got, err := threemf.Decode(bytes.NewReader(data))
	var e *threemf.Error
	if err != nil {
		if !errors.As(err, &e) || strings.ContainsAny(err.Error(), "\n\r") {
			t.Fatalf("error %q is no *threemf.Error of one line", err)
		}
		return
	}
	if len(got.Items) == 0 {
		t.Fatal("no item and no error")
	}
	p := &threemf.Package{Assembled: true}
	for _, item := range got.Items {
		if r := mesh.Check(item.Mesh, mesh.Options{Quick: true}); r.Count(mesh.IndexRange)+r.Count(mesh.NonFinite)+r.Count(mesh.Empty) > 0 {
			t.Fatal(r.Err())
		}
		p.Objects = append(p.Objects, threemf.Object{Name: item.Name, Mesh: item.Mesh})
	}
	var b bytes.Buffer
	if err := threemf.Encode(&b, p); err != nil {
		t.Fatal(err)
	}
	if again, err := threemf.Decode(&b); err != nil || len(again.Items) != len(got.Items) {
		t.Fatalf("read %d items, and after writing them error %v", len(got.Items), err)
	}
}
