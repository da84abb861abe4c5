package picture_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/profile"
	"formbuck/profile/dxf"
	"formbuck/profile/picture"
)

func draw(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../../testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	d, err := dxf.Parse(data, filepath.Base(name))
	if err != nil {
		t.Fatal(err)
	}
	c := picture.Picture{}
	c.Profile, err = profile.Read(d, profile.Options{})
	if !errors.As(err, &c.Faults) {
		c.Plan, _ = c.Profile.Plan(profile.Hints{}) // an outline that is no knife's has none, and is drawn all the same
	}
	var a, b bytes.Buffer
	if err := errors.Join(picture.WriteSVG(&a, c), picture.WriteSVG(&b, c)); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same picture gave other bytes")
	}
	if dir := os.Getenv("PICTURES"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, filepath.Base(name)+".svg"), a.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return a.String()
}

// wellFormed fails for text that is not XML.
func wellFormed(t *testing.T, svg string) {
	t.Helper()
	for d := xml.NewDecoder(strings.NewReader(svg)); ; {
		if _, err := d.Token(); err != nil {
			if !errors.Is(err, io.EOF) {
				t.Fatal(err)
			}
			return
		}
	}
}

func TestPictureShowsEverything(t *testing.T) {
	for name, want := range map[string][]string{
		"thistle.dxf":                            {"tip<", "heel<", "throat, spine<", "grind: 1", "left out: 1 TEXT on layer NOTES (text)", "holes: 2"},
		"minnow.dxf":                             {"units in", "handle: 1"},
		"drawings/bad/open-outline-gap.dxf":      {">1<", "open-outline", "ends 0.200 mm short of"},
		"drawings/bad/self-intersection-arc.dxf": {">1<", "self-intersection: LWPOLYLINE handle 21"},
		"drawings/bad/two-outlines-layers.dxf":   {"two-outlines"},
		"drawings/bad/hole-crosses-outline.dxf":  {"hole-crosses-outline: CIRCLE handle 22"},
		"drawings/good/skipped-kinds-0.dxf":      {"left out: 1 LWPOLYLINE on layer BORDER", "#c9c9c9"},
	} {
		t.Run(filepath.Base(name), func(t *testing.T) {
			svg := draw(t, name)
			wellFormed(t, svg)
			for _, w := range want {
				if !strings.Contains(svg, w) {
					t.Errorf("no %q", w)
				}
			}
		})
	}
}

func TestTextIsEscaped(t *testing.T) {
	var b bytes.Buffer
	err := picture.WriteSVG(&b, picture.Picture{Profile: &profile.Profile{File: "<a&b>.dxf"}})
	if err != nil || !strings.Contains(b.String(), "&lt;a&amp;b&gt;.dxf") {
		t.Errorf("%v: %s", err, b.String())
	}
	wellFormed(t, b.String())
}

func ExampleWriteSVG() {
	data, _ := os.ReadFile("../../testdata/thistle.dxf")
	d, _ := dxf.Parse(data, "thistle.dxf")
	p, err := profile.Read(d, profile.Options{})
	if err != nil {
		fmt.Println(err)
	}
	var b strings.Builder
	fmt.Println(picture.WriteSVG(&b, picture.Picture{Profile: p}), strings.HasPrefix(b.String(), "<svg"))
	// Output: <nil> true
}

// Names that hold controls, escapes or marks of direction leave the picture well-formed, and are shown for what they are.
func TestPictureOfHostileNames(t *testing.T) {
	p := &profile.Profile{File: "a\x1b[2J\u202e.dxf", Layer: "L\x00\x0b<", Units: "mm"}
	p.Skipped = append(p.Skipped, profile.Skipped{Kind: "TEXT", Layer: "\x07\xff", Why: "text", Count: 1})
	faults := dxf.Faults{{File: p.File, Class: dxf.Branch, Layer: "x\ny\u2066", What: "more than two ends meet"}}
	var b bytes.Buffer
	if err := picture.WriteSVG(&b, picture.Picture{Profile: p, Faults: faults}); err != nil {
		t.Fatal(err)
	}
	wellFormed(t, b.String())
	for _, want := range []string{`a\u001b[2J\u202e.dxf`, `L\u0000\u000b&lt;`, `layer \u0007\xff`, `branch: more than two ends meet`} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("no %q in\n%s", want, b.String())
		}
	}
}
