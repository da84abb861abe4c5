package layout_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"formbuck/buck/bucktest"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/profile"
	"formbuck/profile/dxf"

	"gonum.org/v1/gonum/spatial/r2"
)

// TestDrawing writes a layout as DXF and reads it back: every layer holds what was laid out, in mm, the trim
// line closes with its arcs and its area.
func TestDrawing(t *testing.T) {
	s := demo(t, "otter", nil)
	var b bytes.Buffer
	if err := dxf.Encode(&b, s.Drawing()); err != nil {
		t.Fatal(err)
	}
	d, err := dxf.Parse(b.Bytes(), "otter-sheath.dxf")
	if err != nil {
		t.Fatal(err)
	}
	if d.Units != dxf.Millimetres {
		t.Errorf("units %v", d.Units)
	}
	count := map[string]map[string]int{}
	for _, e := range d.Entities {
		if count[e.Layer] == nil {
			count[e.Layer] = map[string]int{}
		}
		count[e.Layer][e.Kind]++
	}
	for layer, want := range map[string]int{
		layout.EyeletLayer: len(s.Eyelets), layout.PinLayer: 3, layout.PostsLayer(measures.Left): 2, layout.PostsLayer(measures.Right): 2,
	} {
		if got := count[layer]; got["CIRCLE"] != want || len(got) != 1 {
			t.Errorf("%s holds %v, want %d circles", layer, got, want)
		}
	}
	for _, layer := range []string{layout.BlankLayer, layout.TrimLayer} {
		if got := count[layer]; got["LWPOLYLINE"] != 1 || len(got) != 1 {
			t.Errorf("%s holds %v, want one contour", layer, got)
		}
	}
	if knife, fold := count[layout.KnifeLayer], count[layout.FoldLayer]; len(knife) != 1 || knife["LWPOLYLINE"] != 2 || len(fold) != 1 {
		t.Errorf("the knife is drawn as %v, the folds as %v", knife, fold)
	}
	p, err := profile.Read(d, profile.Options{Layer: layout.TrimLayer})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(p.Outline.Area()-s.Trim.Area()) > 0.01 || math.Abs(p.Outline.Perimeter()-s.TrimLength()) > 0.01 {
		t.Errorf("trim line of %.4f mm2 and %.4f mm, want %.4f and %.4f", p.Outline.Area(), p.Outline.Perimeter(), s.Trim.Area(), s.TrimLength())
	}
	drawn := map[string]int{}
	for _, e := range d.Entities {
		line, is := e.Shape.(*dxf.Polyline)
		if !is {
			continue
		}
		area := 0.0
		for i, v := range line.Vertices {
			next := line.Vertices[(i+1)%len(line.Vertices)]
			area += v.X*next.Y - next.X*v.Y
			if !line.Closed && i == len(line.Vertices)-1 {
				continue
			}
			chord := math.Hypot(next.X-v.X, next.Y-v.Y)
			if radius := chord * (1 + v.Bulge*v.Bulge) / 4 / math.Abs(v.Bulge); v.Bulge != 0 && radius > 1e5 {
				t.Errorf("%s has an arc of radius %g mm", e.Layer, radius)
			}
			a, b := fmt.Sprintf("%.3f %.3f", v.X, v.Y), fmt.Sprintf("%.3f %.3f", next.X, next.Y)
			drawn[e.Layer+min(a, b)+" to "+max(a, b)]++
		}
		if line.Closed && area <= 0 {
			t.Errorf("a contour on %s goes round clockwise", e.Layer)
		}
	}
	for piece, n := range drawn {
		if n > 1 {
			t.Errorf("%s is drawn %d times", piece, n)
		}
	}
}

// TestSheet checks the picture: its size in mm, what it names, the trim line as it is, the same bytes twice.
func TestSheet(t *testing.T) {
	for _, name := range bucktest.Demos() {
		s := demo(t, name, nil)
		var a, b bytes.Buffer
		if s.Sheet().SVG(&a) != nil || s.Sheet().SVG(&b) != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
			t.Fatal("two pictures differ")
		}
		size := s.Sheet().Size
		if size.X < s.Blank.Length+30 || size.Y < s.Blank.Width+30 {
			t.Errorf("%s: a sheet of %v for a blank of %.1f x %.1f mm", name, size, s.Blank.Length, s.Blank.Width)
		}
		for _, word := range []string{name, "check pin", ">right<", ">left<", ">mouth<", "100 mm", "two blanks of"} {
			if !strings.Contains(a.String(), word) {
				t.Errorf("%s: the picture does not say %q", name, word)
			}
		}
	}
}

// TestSheetShowsTheKnife checks that what is drawn of the knife ends at the blank.
func TestSheetShowsTheKnife(t *testing.T) {
	s := demo(t, "thistle", nil)
	for _, path := range s.Shown(s.Knife.Plan.Outline.Path()) {
		for _, seg := range path {
			if seg.A.X < s.Blank.Box.Min.X-1e-6 || seg.Length() > 0 && s.Knife.Plan.Outline.Distance(seg.At(0.5)) > 1e-6 {
				t.Errorf("a part of the knife at %v", seg.A)
			}
		}
		if ends := math.Abs(r2.Norm(r2.Sub(path.Start(), path.End()))); ends < 5 {
			t.Errorf("the knife ends %.2f mm wide", ends)
		}
	}
}
