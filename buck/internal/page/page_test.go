package page_test

import (
	"bytes"
	"compress/zlib"
	"encoding/base64"
	"encoding/json"
	"html"
	"io"
	"math"
	"regexp"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/internal/page"
	"formbuck/buck/measures"
	"formbuck/buck/path"
	"formbuck/mesh"

	"gonum.org/v1/gonum/spatial/r3"
)

// shown is a page of a demo knife with one small body on it.
func shown(t *testing.T) page.Content {
	t.Helper()
	v, plan := bucktest.Demo(t, "otter")
	b, err := path.Made(bucktest.Knife(t, plan, v.Spec), measures.Right)
	if err != nil {
		t.Fatal(err)
	}
	return page.Content{
		Title: "otter", Still: []byte("PNG"), Hands: []measures.Hand{measures.Right, measures.Plain},
		Draw: path.New(b, path.Options{Step: 0.5}).Report(),
		Parts: []page.Part{{Name: "wedge", Label: "wedge", Hands: []measures.Hand{measures.Right}, Mesh: &mesh.Mesh{
			Vertices:  []r3.Vec{{X: -10, Y: 1.234, Z: 5}, {X: 200.5, Y: -60}, {X: 3, Y: 3, Z: -3.3333}, {X: 0.001, Y: 8}},
			Triangles: [][3]int32{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {0, 3, 2}},
		}}},
		Tables:   []page.Table{{Name: "Pieces", Head: []string{"piece"}, Rows: [][]page.Cell{page.Row("wedge", "3.5")}}},
		Files:    []string{"otter.3mf"},
		Cautions: []string{"mind"},
	}
}

func written(t *testing.T, c page.Content) string {
	t.Helper()
	var b bytes.Buffer
	if err := page.Write(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func part(t *testing.T, text, pattern string) string {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("the page has nothing like %s", pattern)
	}
	return m[1]
}

// packed is a reader of what is packed, written anew from what unpack.js says of it.
type packed struct {
	*bytes.Reader
	t *testing.T
}

func (p packed) number() int {
	value, shift := 0, 0
	for {
		b, err := p.ReadByte()
		if err != nil {
			p.t.Fatal("what is packed ends too early")
		}
		value |= int(b&127) << shift
		if shift += 7; b < 128 {
			break
		}
	}
	if value%2 == 1 {
		return -(value + 1) / 2
	}
	return value / 2
}

func (p packed) list(groups, size int) []int {
	all := make([]int, groups*size)
	for n := range all {
		all[n] = p.number()
		if n >= size {
			all[n] += all[n-size]
		}
	}
	return all
}

// TestPacked reads the shapes and the map back and compares them with what they were made from.
func TestPacked(t *testing.T) {
	c := shown(t)
	text := written(t, c)
	var told struct {
		Step  float64
		Parts []struct{ Vertices, Triangles int }
		Map   struct {
			X, Y, Step, High float64
			NX, NY           int
		}
		Outline, Handle, Trim int
		Cavities              []string
	}
	if err := json.Unmarshal([]byte(part(t, text, `id="told">(.*?)</script>`)), &told); err != nil {
		t.Fatal(err)
	}
	deflated, err := base64.StdEncoding.DecodeString(part(t, text, `id="packed">(.*?)</div>`))
	if err != nil {
		t.Fatal(err)
	}
	z, err := zlib.NewReader(bytes.NewReader(deflated))
	if err != nil {
		t.Fatal(err)
	}
	data, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	p := packed{bytes.NewReader(data), t}
	m := c.Parts[0].Mesh
	places, corners := p.list(told.Parts[0].Vertices, 3), p.list(told.Parts[0].Triangles, 3)
	for n, tri := range m.Triangles {
		for k, v := range tri {
			at := corners[3*n+k]
			got := r3.Vec{X: float64(places[3*at]), Y: float64(places[3*at+1]), Z: float64(places[3*at+2])}
			if far := r3.Norm(r3.Sub(r3.Scale(told.Step, got), m.Vertices[v])); far > told.Step {
				t.Errorf("corner %d of triangle %d is %.4f mm off", k, n, far)
			}
		}
	}
	p.list(told.Outline, 2)
	p.list(told.Handle, 2)
	p.list(told.Trim, 2)
	study := c.Draw.With
	every := int(math.Round(told.Map.Step / study.Knife.Step))
	field := func(what string, want func(i, j int) float64) {
		first, last := 0, 0
		for j := range told.Map.NY {
			last = first
			for i := range told.Map.NX {
				last += p.number()
				if i == 0 {
					first = last
				}
				if got := float64(last) * told.Map.High; math.Abs(got-want(i*every, j*every)) > told.Map.High {
					t.Fatalf("%s at (%d, %d): %.4f mm, studied %.4f", what, i, j, got, want(i*every, j*every))
				}
			}
		}
	}
	field("knife", func(i, j int) float64 { return study.Knife.Row(j)[i] })
	for n, face := range []*path.Face{study.Plain(), study.Bossed()} {
		lets := study.Lets(face)
		field(told.Cavities[n], func(i, j int) float64 { return face.Cavity.Row(j)[i] })
		field(told.Cavities[n]+" lets", func(i, j int) float64 { return lets.Row(j)[i] - face.Cavity.Row(j)[i] })
	}
	if p.Len() > 0 {
		t.Errorf("%d bytes are left", p.Len())
	}
}

// TestEscapes: no text gets out of its place, wherever it stands.
func TestEscapes(t *testing.T) {
	const evil = `</script><img src=x onerror="alert('1')">&amp;`
	c := shown(t)
	c.Title, c.Files, c.Cautions, c.Warnings = evil, []string{evil, `javascript:alert(1)`}, []string{evil}, []string{evil}
	c.Parts[0].Name, c.Parts[0].Label = evil, evil
	c.Tables[0].Name, c.Tables[0].About, c.Tables[0].Head[0] = evil, evil, evil
	c.Tables[0].Rows[0][0] = page.Cell{Text: evil, Link: page.Beside(evil)}
	plain, bad := written(t, shown(t)), written(t, c)
	for _, mark := range []string{"<script", "</script", "<img", "onerror=\"", "<a "} {
		want := strings.Count(plain, mark)
		if mark == "<a " {
			want += 2 // one more file, and the cell's
		}
		if got := strings.Count(bad, mark); got != want {
			t.Errorf("%q stands %d times in the page, not %d", mark, got, want)
		}
	}
	if strings.Contains(bad, `href="javascript:`) {
		t.Error("a file's name became a script")
	}
	if !strings.Contains(bad, html.EscapeString("<img src=x")) {
		t.Error("the text itself is lost")
	}
}

// TestAlone: the page asks for nothing outside of itself, and says so to the browser.
func TestAlone(t *testing.T) {
	text := written(t, shown(t))
	if !strings.Contains(text, `content="default-src 'none'; img-src data:;`) {
		t.Error("the page does not forbid requests")
	}
	if at := regexp.MustCompile(`(?i)(https?:)?//[a-z0-9-]+\.[a-z]|@import|url\(`).FindString(text); at != "" {
		t.Errorf("the page names %q", at)
	}
	if text != written(t, shown(t)) {
		t.Error("the same content gives other bytes")
	}
}
