package profile_test

import (
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

// habit is what a drawing of the one knife holds beside it.
type habit struct {
	holes int
	why   map[string]int // what was left out, by reason
}

var habits = map[string]habit{
	"plain":                        {},
	"pieces":                       {},
	"frame-polyline-layer-0":       {why: map[string]int{"the sheet's frame": 3}},
	"frame-lines-layer-0":          {why: map[string]int{"the sheet's frame": 16}},
	"frame-rounded-double":         {why: map[string]int{"the sheet's frame": 9}},
	"frame-double-zones":           {why: map[string]int{"the sheet's frame": 22}},
	"frame-named":                  {why: map[string]int{"the sheet's frame": 1}},
	"frame-named-sheet-with-knife": {why: map[string]int{"the sheet's frame": 1}},
	"title-beside":                 {why: map[string]int{"a title block or table beside the knife": 1}},
	"table-beside":                 {why: map[string]int{"a title block or table beside the knife": 12}},
	"frame-with-symbol": {why: map[string]int{
		"the sheet's frame": 2, "beside the knife, within the sheet's frame": 3,
	}},
	"frame-in-block":      {why: map[string]int{"the sheet's frame": 13}},
	"frame-tight":         {why: map[string]int{"the sheet's frame": 4}},
	"frame-about-slot":    {holes: 1, why: map[string]int{"the sheet's frame": 1}},
	"tube-in-hole":        {holes: 2, why: map[string]int{"within a hole": 2}},
	"bolt-on-holes-layer": {holes: 1, why: map[string]int{"within a hole": 1}},
}

// However a knife is drawn, and whatever is drawn beside it, the outline is the knife's, without a warning; what is left
// out is said.
func TestHabits(t *testing.T) {
	plain, err := read(t, filepath.Join(corpus, "habits", "plain.dxf"), profile.Options{})
	if err != nil {
		t.Fatal(err)
	}
	files, _ := filepath.Glob(filepath.Join(corpus, "habits", "*.dxf"))
	if len(files) != len(habits) {
		t.Errorf("%d drawings, %d expected", len(files), len(habits))
	}
	for name, want := range habits {
		t.Run(name, func(t *testing.T) {
			p, err := read(t, filepath.Join(corpus, "habits", name+".dxf"), profile.Options{})
			if err != nil {
				t.Fatal(err)
			}
			near(t, "area", p.Outline.Area(), plain.Outline.Area(), 0.01)
			near(t, "perimeter", p.Outline.Perimeter(), plain.Outline.Perimeter(), 0.01)
			near(t, "holes", float64(len(p.Holes)), float64(want.holes), 0)
			why := map[string]int{}
			for _, s := range p.Skipped {
				why[s.Why] += s.Count
			}
			if fmt.Sprint(why) != fmt.Sprint(want.why) {
				t.Errorf("left out %v, want %v", why, want.why)
			}
			if len(p.Warnings) > 0 {
				t.Errorf("warnings %q", warnings(p))
			}
		})
	}
}

const knifeLoop = "10 -105 20 -9 10 -99 20 -14 10 0 20 -13.5 10 70 20 -13.5 42 0.15 10 115 20 7 10 60 20 13 10 -98 20 13 "

// A knife is never taken for a frame, whatever is within it: rectangles with holes and slots stay the outline, and so
// does a knife on a layer that is named for frames, alone or beside another.
func TestKnifeIsNoFrame(t *testing.T) {
	for name, drawn := range map[string]string{
		"rectangle with a hole":      "0 LWPOLYLINE 8 0 70 1 10 0 20 0 10 200 20 0 10 200 20 30 10 0 20 30 0 CIRCLE 8 0 10 50 20 15 40 12",
		"rectangle with a slot":      "0 LWPOLYLINE 8 0 70 1 10 0 20 0 10 200 20 0 10 200 20 30 10 0 20 30 0 LWPOLYLINE 8 0 70 1 10 20 20 10 10 90 20 10 42 1 10 90 20 20 10 20 20 20 42 1",
		"rectangle with a rectangle": "0 LWPOLYLINE 8 0 70 1 10 0 20 0 10 200 20 0 10 200 20 30 10 0 20 30 0 LWPOLYLINE 8 0 70 1 10 20 20 10 10 90 20 10 10 90 20 20 10 20 20 20",
		"alone on a frame's layer":   "0 LWPOLYLINE 8 FRAME 70 1 10 0 20 0 10 200 20 0 10 200 20 30 10 0 20 30",
		"rectangle with a long slot": "0 LWPOLYLINE 8 0 70 1 10 0 20 0 10 200 20 0 10 200 20 30 10 0 20 30 0 LWPOLYLINE 8 0 70 1 10 20 20 10 10 180 20 10 42 1 10 180 20 20 10 20 20 20 42 1",
		"rectangle about a line":     "0 LWPOLYLINE 8 0 70 1 10 0 20 0 10 200 20 0 10 200 20 30 10 0 20 30 0 LWPOLYLINE 8 0 70 0 10 10 20 5 10 100 20 8 10 190 20 5",
	} {
		for _, deg := range []float64{0, 0.5, 33, 90} {
			p, err := parse(t, turnedPairs(drawn, deg), profile.Options{})
			if err != nil {
				t.Errorf("%s turned by %g: %v", name, deg, err)
				continue
			}
			near(t, name, p.Outline.Area(), 6000, 1e-3)
		}
	}
	p, err := parse(t, "0 LWPOLYLINE 8 TITLE 70 1 "+knifeLoop+"0 CIRCLE 8 logo 10 300 20 0 40 12", profile.Options{})
	if err != nil || p.Layer != "TITLE" {
		t.Errorf("a knife on a layer for titles: %v", err)
	}
}

// A knife of another size than any is refused, with the mistake that is likely, and taken where that is said to be meant.
func TestNoKnife(t *testing.T) {
	for file, want := range map[string]string{
		"implausible-size-inches":          `the outline is 8.665 mm long (units mm, $INSUNITS of the drawing), which is no knife: drawn in inches? state drawing.units = "in"`,
		"implausible-size-not-inches":      `the outline is 5590 mm long (units in, $INSUNITS of the drawing), which is no knife: drawn in millimetres? state drawing.units = "mm"`,
		"implausible-size-not-inches-open": `layer 0 is 5588 mm long (units in, $INSUNITS of the drawing), which is no knife: drawn in millimetres? state drawing.units = "mm"`,
		"implausible-size-ten-times":       `the outline is 2201 mm long (units mm, $INSUNITS of the drawing), which is no knife: drawn 10 times as large? draw it 1:1`,
		"implausible-size-wide":            `the outline is 420 mm long and 297 mm wide, wider than half its length, which is no knife: is it a sheet's frame or another part? name the layer of the knife's outline (drawing.layers.outline)`,
	} {
		_, err := read(t, filepath.Join(corpus, "bad", file+".dxf"), profile.Options{})
		if err == nil || !strings.HasPrefix(err.Error()+"\n", file+".dxf: implausible-size: "+want+"\n") {
			t.Errorf("%s: %v", file, err)
		}
		p, err := read(t, filepath.Join(corpus, "bad", file+".dxf"), profile.Options{Unfinished: true})
		if told := strings.Contains(strings.Join(warnings(p), "\n"), want); !told || (err == nil) == strings.HasSuffix(file, "-open") {
			t.Errorf("%s, unfinished: %v, warnings %q", file, err, warnings(p))
		}
	}
}

// Units that are not stated are found where only one makes a knife, and asked for where several do.
func TestUnitsNotStated(t *testing.T) {
	for name, c := range map[string]struct {
		scale   float64 // of a knife of 220 mm
		measure string
		units   string
		refused string
	}{
		"millimetres":      {1, "", "mm", ""},
		"inches":           {1 / 25.4, "", "", `is 8.665 units long: in inches the knife is 220.1 mm long: state drawing.units = "in"; in centimetres 86.65 mm: "cm"`},
		"inches, imperial": {1 / 25.4, "0", "in", ""},
		"centimetres":      {0.1, "1", "", `is 22.01 units long: in centimetres the knife is 220.1 mm long: state drawing.units = "cm"; in inches 559.1 mm: "in"`},
		"metres":           {0.001, "", "", `is 0.2201 units long: in metres the knife is 220.1 mm long: state drawing.units = "m"`},
		"ten times":        {10, "", "", `is 2201 units long, which is no knife in any: in millimetres it is 2201 mm long: drawn 10 times as large? draw it 1:1, and state drawing.units = "mm"`},
		"tiny":             {1e-6, "", "", `is 0.00042 units long, which is no knife in any: in metres it is 0.42 mm long: draw it 1:1, and state drawing.units = "m"`},
	} {
		header := ""
		if c.measure != "" {
			header = "9\n$MEASUREMENT\n70\n" + c.measure + "\n"
		}
		data := "0\nSECTION\n2\nHEADER\n" + header + "0\nENDSEC\n" + entitiesOf("0 LWPOLYLINE 8 0 70 1 "+scaled(knifeLoop, c.scale)+
			"0 LWPOLYLINE 8 0 70 1 "+scaled("10 -190 20 -148 10 230 20 -148 10 230 20 149 10 -190 20 149", c.scale))
		d, err := dxf.Parse([]byte(data), "u.dxf")
		if err != nil {
			t.Fatal(err)
		}
		p, err := profile.Read(d, profile.Options{})
		switch {
		case c.refused != "" && (err == nil || !strings.HasSuffix(err.Error(), c.refused)):
			t.Errorf("%s: %v", name, err)
		case c.refused == "" && (err != nil || p.Units != c.units || math.Abs(p.Outline.Bounds().Size().X-220) > 0.01):
			t.Errorf("%s: units %v, %v", name, p, err)
		}
	}
}

// scaled is entities with their coordinates scaled.
func scaled(pairs string, k float64) string {
	f := strings.Fields(pairs)
	for i := 0; i+1 < len(f); i += 2 {
		if f[i] == "10" || f[i] == "20" {
			var v float64
			fmt.Sscan(f[i+1], &v) //nolint:errcheck // figures of this file
			f[i+1] = fmt.Sprintf("%.9f", v*k)
		}
	}
	return strings.Join(f, " ") + " "
}

// entitiesOf is a section of entities and the end of the file.
func entitiesOf(pairs string) string {
	return "0\nSECTION\n2\nENTITIES\n" + strings.Join(strings.Fields(pairs), "\n") + "\n0\nENDSEC\n0\nEOF\n"
}

// Of many gaps the first line says what closes all of them, and that does.
func TestManyGaps(t *testing.T) {
	file := filepath.Join(corpus, "bad", "open-outline-many-gaps.dxf")
	_, err := read(t, file, profile.Options{})
	lines := strings.Split(fmt.Sprint(err), "\n")
	if len(lines) != 12 || lines[0] != "open-outline-many-gaps.dxf: open-outline: 200 gaps up to 0.314 mm: drawing.join_gap = 0.32" ||
		!strings.HasSuffix(lines[11], ": 190 more gaps") {
		t.Errorf("%d lines: %s\n...\n%s", len(lines), lines[0], lines[len(lines)-1])
	}
	if _, err = read(t, file, profile.Options{Gap: 0.32}); err != nil {
		t.Errorf("with that gap: %v", err)
	}
}

// What is drawn onto a finished outline is told with its place; what only touches it, or lies within, is left out.
func TestGuardOntoOutline(t *testing.T) {
	const knife = "0 LWPOLYLINE 8 OUTLINE 70 1 " + knifeLoop
	for name, c := range map[string]struct {
		drawn string
		class dxf.Class
	}{
		"guard":          {"0 LWPOLYLINE 8 OUTLINE 70 0 10 10 20 -13.5 10 10 20 -25 10 16 20 -25 10 16 20 -13.5", dxf.Branch},
		"guard, short":   {"0 LWPOLYLINE 8 OUTLINE 70 0 10 10 20 -13.7 10 10 20 -25 10 16 20 -25 10 16 20 -13.7", dxf.Branch},
		"extension line": {"0 LINE 8 OUTLINE 10 10 20 -13.5 11 10 21 -30", ""},
		"plunge line":    {"0 LINE 8 OUTLINE 10 10 20 -13.5 11 10 21 13", ""},
	} {
		p, err := parse(t, knife+c.drawn, profile.Options{})
		if classOf(err) != c.class {
			t.Errorf("%s: %v", name, err)
		}
		if c.class == dxf.Branch && !strings.Contains(err.Error(), "at (10.000, -13.") {
			t.Errorf("%s: no place: %v", name, err)
		}
		if c.class == "" && len(p.Warnings) != 1 {
			t.Errorf("%s: warnings %q", name, warnings(p))
		}
	}
}

// What cannot be read is refused where it may be of the knife, and left out and said elsewhere.
func TestUnreadElsewhere(t *testing.T) {
	const knife = "0 LWPOLYLINE 8 OUTLINE 70 1 " + knifeLoop
	for name, c := range map[string]struct {
		drawn string
		class dxf.Class
		why   string
	}{
		"face beside":        {"0 3DFACE 8 OUTLINE 10 0 20 50 11 9 21 50 12 9 22 60 13 0 23 60", "", "kind not read, beside the outline"},
		"face on it":         {"0 3DFACE 8 OUTLINE 10 0 20 0 11 9 21 0 12 9 22 60 13 0 23 60", "", "kind not read"},
		"double line beside": {"0 MLINE 8 OUTLINE 10 0 20 90 11 0 21 90 12 1 22 0 13 0 23 1 11 50 21 90 12 1 22 0 13 0 23 1", "", "kind not read, beside the outline"},
		"region":             {"0 REGION 8 OUTLINE 70 1", "", "kind not read"},
		"solid body":         {"0 3DSOLID 8 OUTLINE 70 1", "", "kind not read"},
		"proxy":              {"0 ACAD_PROXY_ENTITY 8 OUTLINE 90 498", "", "kind not read"},
		"polyface mesh":      {"0 POLYLINE 8 OUTLINE 66 1 70 64 0 VERTEX 8 OUTLINE 10 1 20 0 70 192 0 SEQEND", "", "kind not read"},
		"region for a hole":  {"0 REGION 8 HOLES 70 1", dxf.Unsupported, ""},
		"region for a mark":  {"0 REGION 8 HANDLE 70 1", dxf.Unsupported, ""},
		"region by a mark":   {"0 REGION 8 HANDLE 70 1 0 LINE 8 HANDLE 10 0 20 -20 11 0 21 20", "", "kind not read"},
		"far line, unused":   {"0 LINE 8 SKETCH 10 0 20 0 11 1e9 21 0", "", "too far off, layer not used"},
		"far line":           {"0 LINE 8 OUTLINE 10 0 20 0 11 1e9 21 0", dxf.OutOfRange, ""},
		"far vertex, unused": {"0 POLYLINE 8 SKETCH 66 1 0 VERTEX 8 SKETCH 10 1e9 20 0 0 VERTEX 8 SKETCH 10 1 20 0 0 SEQEND", "", "too far off, layer not used"},
		"far circle, unused": {"0 CIRCLE 8 SKETCH 10 9e5 20 0 40 9e5", "", "too far off, layer not used"},
		"text far off":       {"0 TEXT 8 OUTLINE 10 1e9 20 0 40 5 1 a", "", "text"},
	} {
		p, err := parse(t, knife+c.drawn, profile.Options{})
		if classOf(err) != c.class {
			t.Errorf("%s: %v", name, err)
		}
		if c.why != "" && (len(p.Skipped) != 1 || p.Skipped[0].Why != c.why) {
			t.Errorf("%s: left out %v", name, p.Skipped)
		}
	}
}

// Where an outline does not close without what is not read, that is refused before the gaps, at its place.
func TestUnreadInTheOutline(t *testing.T) {
	const open = "0 LWPOLYLINE 8 OUTLINE 70 0 10 -105 20 -9 10 -99 20 -14 10 70 20 -13.5 42 0.15 10 115 20 7 10 60 20 13 "
	for drawn, want := range map[string]string{
		open + "0 REGION 5 1A 8 OUTLINE 70 1 0 3DSOLID 8 OUTLINE 70 1":                "REGION handle 1A layer OUTLINE: geometry of this kind is not read: explode it, or turn it into polylines, and 1 more on its layer",
		open + "0 MLINE 8 OUTLINE 10 60 20 13 11 60 21 13 12 1 22 0 11 -100 21 9":     "its middle lies at (-20.000, 11.000) mm",
		"0 REGION 5 1B 8 knife 70 1 0 LINE 8 TIP 10 0 20 0 11 1 21 0":                 "REGION handle 1B layer knife: geometry of this kind is not read",
		open + "0 3DFACE 8 OUTLINE 10 -105 20 -9 11 60 21 -9 12 60 22 13 13 60 23 13": "its middle lies at (-22.500, 2.000) mm",
	} {
		_, err := parse(t, drawn, profile.Options{})
		var faults dxf.Faults
		if !errors.As(err, &faults) || faults[0].Class != dxf.Unsupported || !strings.Contains(faults[0].Error(), want) {
			t.Errorf("%s:\nwant %s\ngot %v", drawn, want, err)
		}
	}
}

// A handle's outline on the layer of the knife's is not taken for a hole, whether it is large or runs along the outline; the
// windows of a skeleton are holes.
func TestHandleIsNoHole(t *testing.T) {
	const knife = "0 LWPOLYLINE 8 OUTLINE 70 1 " + knifeLoop
	for drawn, class := range map[string]dxf.Class{
		"10 -97 20 -11.5 10 -12 20 -10.5 10 -2 20 -11 10 -2 20 11.5 10 -96 20 11.5": dxf.TwoOutlines,
		"10 -60 20 -12.3 10 -25 20 -11.9 10 -25 20 12 10 -60 20 12":                 dxf.TwoOutlines,
		"10 -90 20 -8 10 -12 20 -8 10 -12 20 8 10 -90 20 8":                         "",
		"10 -90 20 -12.5 10 -80 20 -12.5 10 -80 20 12 10 -90 20 12":                 "",
	} {
		p, err := parse(t, knife+"0 LWPOLYLINE 8 OUTLINE 70 1 "+drawn, profile.Options{})
		if classOf(err) != class {
			t.Errorf("%s: %v", drawn, err)
		}
		if class == "" && len(p.Holes) != 1 {
			t.Errorf("%s: %d holes", drawn, len(p.Holes))
		}
	}
}

// A cause is told before what follows from it.
func TestCauseFirst(t *testing.T) {
	blocks := "0 SECTION 2 BLOCKS 0 BLOCK 2 b0 10 0 20 0 0 CIRCLE 8 0 10 0 20 0 40 1 0 ENDBLK "
	for i := range 8 {
		blocks += fmt.Sprintf("0 BLOCK 2 b%d 10 0 20 0 0 INSERT 8 0 2 b%d 10 0 20 0 70 30 71 30 0 ENDBLK ", i+1, i)
	}
	data := strings.Join(strings.Fields(blocks+"0 ENDSEC"), "\n") + "\n" + entitiesOf("0 INSERT 8 0 2 b8 10 0 20 0")
	d, err := dxf.Parse([]byte(data), "bomb.dxf")
	if err != nil {
		t.Fatal(err)
	}
	_, err = profile.Read(d, profile.Options{Units: "mm"})
	if classOf(err) != dxf.BlockTooDeep || strings.Contains(err.Error(), "no-outline") {
		t.Errorf("got %v", err)
	}
}
