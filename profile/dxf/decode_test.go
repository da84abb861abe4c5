package dxf_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"formbuck/profile/dxf"
)

// file is a drawing of entities, given as pairs separated by blanks; a value holds no blank.
func file(entities string) []byte {
	return []byte("0\nSECTION\n2\nENTITIES\n" + strings.Join(strings.Fields(entities), "\n") + "\n0\nENDSEC\n0\nEOF\n")
}

func one(t *testing.T, entities string) dxf.Entity {
	t.Helper()
	d, err := dxf.Parse(file(entities), "one.dxf")
	if err != nil {
		t.Fatal(err)
	}
	if len(d.Entities) != 1 {
		t.Fatalf("%d entities", len(d.Entities))
	}
	return d.Entities[0]
}

func TestCommonGroups(t *testing.T) {
	e := one(t, "0 LINE 5 1aF 8 Blade 60 1 67 1 10 1 20 2 30 3 11 4 21 5 31 6 210 0 220 0 230 -1 1001 APP 1010 NaN")
	want := dxf.Entity{Kind: "LINE", Layer: "Blade", Handle: 0x1af, Line: 5, Paper: true, Invisible: true, Extrusion: r3.Vec{Z: -1}}
	shape := *e.Shape.(*dxf.Line)
	e.Shape = nil
	if e != want {
		t.Errorf("got %+v, want %+v", e, want)
	}
	if shape != (dxf.Line{A: r3.Vec{X: 1, Y: 2, Z: 3}, B: r3.Vec{X: 4, Y: 5, Z: 6}}) {
		t.Errorf("shape %+v", shape)
	}
}

func TestLwpolyline(t *testing.T) {
	p := one(t, "0 LWPOLYLINE 90 3 70 1 38 2.5 10 0 20 0 42 1 10 10 20 0 40 1 41 2 10 10 20 5 42 -.5").Shape.(*dxf.Polyline)
	want := []dxf.Vertex{{X: 0, Y: 0, Bulge: 1}, {X: 10, Y: 0}, {X: 10, Y: 5, Bulge: -0.5}}
	if !p.Closed || p.Elevation != 2.5 || fmt.Sprint(p.Vertices) != fmt.Sprint(want) {
		t.Errorf("got %+v", p)
	}
}

// Every fault of a file is told at once, each with its line, class, entity, handle and layer.
func TestFaultsTogether(t *testing.T) {
	_, err := dxf.Parse(file("0 LINE 5 A 8 L 10 x 20 0 11 1 21 1 0 CIRCLE 5 B 10 0 20 0 40 -1 0 ARC 5 C 10 0 20 inf 40 1 50 0 51 90 0 LINE 5 D 10 1"), "f.dxf")
	want := strings.Join([]string{
		`f.dxf:12: bad-number: LINE handle A layer L: group 10: number expected, found "x"`,
		`f.dxf:28: out-of-range: CIRCLE handle B layer 0: radius above 0 expected, found -1`,
		`f.dxf:36: out-of-range: ARC handle C layer 0: group 20: finite number expected, found "inf"`,
		`f.dxf:43: missing-value: LINE handle D layer 0: has no group 20 (y)`,
	}, "\n")
	if err == nil || err.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", err, want)
	}
	var faults dxf.Faults
	if !errors.As(err, &faults) || len(faults) != 4 {
		t.Errorf("not Faults: %T", err)
	}
}

func TestNames(t *testing.T) {
	for file, want := range map[string]string{
		"codepage-1252": "KLINGE ü", "codepage-1251": "нож", "codepage-932": "刃", "utf8": "刃 ü", "unicode-escape": "刃",
	} {
		data, err := os.ReadFile(filepath.Join("../../testdata/drawings/good", file+".dxf"))
		if err != nil {
			t.Fatal(err)
		}
		d, err := dxf.Parse(data, file)
		if err != nil || d.Entities[0].Layer != want {
			t.Errorf("%s: layer %q, %v", file, d.Entities[0].Layer, err)
		}
	}
}

// A file cut anywhere before its last section ends is refused, and never crashes.
func TestCutAnywhere(t *testing.T) {
	for _, name := range []string{"good/insert-nested-0.dxf", "good/binary-wide.dxf", "good/binary-narrow.dxf", "good/spline-rational-90.dxf"} {
		data, err := os.ReadFile(filepath.Join("../../testdata/drawings", name))
		if err != nil {
			t.Fatal(err)
		}
		whole := bytes.LastIndex(data, []byte("ENDSEC"))
		for n := range whole {
			if _, err := dxf.Parse(data[:n], name); err == nil {
				t.Fatalf("%s cut to %d of %d bytes was accepted", name, n, len(data))
			}
		}
	}
}

// Nothing is allocated from a count that the file states.
func TestCountsAllocateNothing(t *testing.T) {
	data := file("0 LWPOLYLINE 90 2000000000 70 0 10 0 20 0 10 1 20 0 0 SPLINE 71 1 72 2000000000 73 2000000000 40 0 40 0 40 1 40 1 10 0 20 0 10 1 20 1")
	if bytes, _ := allocated(t, data); bytes > 20_000 {
		t.Errorf("%d bytes for %d bytes of file", bytes, len(data))
	}
}

type sink struct{ lines []string }

func (s *sink) Chain(it dxf.Item, v []dxf.Vertex, closed bool) {
	s.add("chain %s %.3f %v", it.Layer, v, closed)
}

func (s *sink) Conic(it dxf.Item, c dxf.Conic) {
	s.add("conic %s %.3f %.3f %.3f", it.Layer, c.Centre, c.U, c.V)
}
func (s *sink) Curve(it dxf.Item, c dxf.Curve) { s.add("curve %s %d", it.Layer, len(c.Controls)) }
func (s *sink) Point(it dxf.Item, at r2.Vec)   { s.add("point %s %v", it.Layer, at) }
func (s *sink) Skip(it dxf.Item, why string)   { s.add("skip %s %s", it.Kind, why) }
func (s *sink) Unread(it dxf.Item, _ *r2.Box)  { s.add("unread %s", it.Kind) }
func (s *sink) Far(it dxf.Item)                { s.add("far %s", it.Kind) }
func (s *sink) add(format string, args ...any) {
	s.lines = append(s.lines, fmt.Sprintf(format, args...))
}

// The arbitrary axis algorithm (DXF Reference): an extrusion of 0,0,-1 mirrors x, and a plane that
// stands on edge keeps its own x direction in the world's x,y plane.
func TestWalkExtrusion(t *testing.T) {
	d, err := dxf.Parse(file("0 LWPOLYLINE 70 0 10 1 20 2 42 .5 10 3 20 2 230 -1 210 0 220 0 0 CIRCLE 10 0 20 0 40 2 210 1 220 0 230 0"), "o.dxf")
	if err != nil {
		t.Fatal(err)
	}
	s := &sink{}
	if err := d.Walk(s); err != nil {
		t.Fatal(err)
	}
	want := []string{
		"chain 0 [{-1.000 2.000 -0.500} {-3.000 2.000 0.000}] false",
		"conic 0 {0.000 0.000} {0.000 2.000} {0.000 0.000}",
	}
	if strings.Join(s.lines, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s", strings.Join(s.lines, "\n"))
	}
}

func TestConicIsEllipse(t *testing.T) {
	c := dxf.Conic{U: r2.Vec{X: 3}, V: r2.Vec{Y: 2}}
	if p := c.At(math.Pi / 2); p != (r2.Vec{Y: 2}) {
		t.Errorf("quarter point %v", p)
	}
	if d := c.Derivative(0); d != (r2.Vec{Y: 2}) {
		t.Errorf("derivative %v", d)
	}
}

// Every vertex, control and fit point has one x and one y, or is refused with its line: a value that is lost or doubled
// would give another outline without a word.
func TestPointsAreWhole(t *testing.T) {
	for name, c := range map[string]struct{ entities, want string }{
		"vertex without x":        {"0 LWPOLYLINE 70 1 10 0 20 0 20 5 10 9 20 9", `f.dxf:14: missing-value: LWPOLYLINE layer 0: group 20: a second y of vertex 1, or the y of one without its x`},
		"vertex without y":        {"0 LWPOLYLINE 70 1 10 0 20 0 10 5 10 9 20 9", `f.dxf:14: missing-value: LWPOLYLINE layer 0: vertex 2 has no y`},
		"last vertex without y":   {"0 LWPOLYLINE 70 1 10 0 20 0 10 5", `f.dxf:14: missing-value: LWPOLYLINE layer 0: vertex 2 has no y`},
		"first vertex without x":  {"0 LWPOLYLINE 70 1 20 0 10 5 20 0", `f.dxf:10: missing-value: LWPOLYLINE layer 0: group 20: a second y of vertex 0, or the y of one without its x`},
		"control without y":       {"0 SPLINE 71 1 40 0 40 0 40 1 40 1 10 0 20 0 10 1", `f.dxf:22: missing-value: SPLINE layer 0: control point 2 has no y`},
		"control without x":       {"0 SPLINE 71 1 40 0 40 0 40 1 40 1 10 0 20 0 20 1 10 3 20 3", `f.dxf:22: missing-value: SPLINE layer 0: group 20: a second y of control point 1, or the y of one without its x`},
		"fit point without y":     {"0 SPLINE 71 3 11 0 21 0 11 5 11 9 21 9", `f.dxf:14: missing-value: SPLINE layer 0: fit point 2 has no y`},
		"fit point without x":     {"0 SPLINE 71 3 11 0 21 0 31 0 21 5 11 9 21 9", `f.dxf:16: missing-value: SPLINE layer 0: group 21: a second y of fit point 1, or the y of one without its x`},
		"R12 vertex with two x":   {"0 POLYLINE 66 1 0 VERTEX 10 0 10 1 20 0 0 VERTEX 10 0 20 0 0 SEQEND", `f.dxf:9: missing-value: VERTEX layer 0: has group 10 (x) more than once, so that another is missing`},
		"line with two y":         {"0 LINE 10 0 20 0 20 1 11 1 21 1", `f.dxf:5: missing-value: LINE layer 0: has group 20 (y) more than once, so that another is missing`},
		"insertion without place": {"0 INSERT 2 a", `f.dxf:5: missing-value: INSERT layer 0: has no group 10 (x)`},
	} {
		if _, err := dxf.Parse(file(c.entities), "f.dxf"); err == nil || err.Error() != c.want {
			t.Errorf("%s: got\n%v\nwant\n%s", name, err, c.want)
		}
	}
}
