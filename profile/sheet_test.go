package profile_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

// turnedDrawing is a demo's drawing as a block that is inserted turned, with its outline on a layer, and what is drawn
// beside it.
func turnedDrawing(t *testing.T, name string, deg float64, layer, beside string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("../testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	const begin, end = "ENTITIES\n", "  0\nENDSEC\n"
	head, rest, _ := strings.Cut(string(data), begin)
	head = strings.TrimSuffix(head, "  0\nSECTION\n  2\n")
	body, _, _ := strings.Cut(rest, end)
	body = strings.ReplaceAll(body, "  8\nOUTLINE\n", "  8\n"+layer+"\n")
	return []byte(head + "  0\nSECTION\n  2\nBLOCKS\n  0\nBLOCK\n  2\nsheet\n 10\n0\n 20\n0\n" + body + "  0\nENDBLK\n" + end +
		entitiesOf(fmt.Sprintf("0 INSERT 8 0 2 sheet 10 0 20 0 50 %g %s", deg, beside)))
}

// border draws lines of a sheet, turned by deg, with three decimals as many programs write them: about a box in the
// sheet's axes, in mm, in drawing units of so many mm.
type border struct {
	layer     string
	deg, unit float64
	box       r2.Box
}

func (b *border) at(x, y float64) (u, v float64) {
	p := profile.Frame{AngleDeg: b.deg}.ToDrawing(r2.Vec{X: x, Y: y})
	return p.X / b.unit, p.Y / b.unit
}

func (b *border) line(x0, y0, x1, y1 float64) string {
	u0, v0 := b.at(x0, y0)
	u1, v1 := b.at(x1, y1)
	return fmt.Sprintf("0 LINE 8 %s 10 %.3f 20 %.3f 11 %.3f 21 %.3f ", b.layer, u0, v0, u1, v1)
}

// corners are those of the box, grown by so much.
func (b *border) corners(by float64) [4][2]float64 {
	x0, y0, x1, y1 := b.box.Min.X-by, b.box.Min.Y-by, b.box.Max.X+by, b.box.Max.Y+by
	return [4][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

func (b *border) polyline(by float64) string {
	out := "0 LWPOLYLINE 8 " + b.layer + " 70 1 "
	for _, c := range b.corners(by) {
		u, v := b.at(c[0], c[1])
		out += fmt.Sprintf("10 %.3f 20 %.3f ", u, v)
	}
	return out
}

func (b *border) lines(by float64) string {
	out, c := "", b.corners(by)
	for i := range c {
		out += b.line(c[i][0], c[i][1], c[(i+1)%4][0], c[(i+1)%4][1])
	}
	return out
}

// title is a title block of two rows and three columns in the corner of the box grown by so much.
func (b *border) title(by float64) string {
	x, y := b.box.Max.X+by, b.box.Min.Y-by
	out := b.line(x-60, y, x-60, y+15) + b.line(x-60, y+15, x, y+15) + b.line(x-60, y+7.5, x, y+7.5)
	return out + b.line(x-40, y, x-40, y+15) + b.line(x-20, y, x-20, y+7.5)
}

// borders are the ways to draw one.
var borders = map[string]func(b *border) string{
	"polyline":                func(b *border) string { return b.polyline(30) },
	"loose lines":             func(b *border) string { return b.lines(30) },
	"double":                  func(b *border) string { return b.polyline(40) + b.polyline(35) },
	"lines with title block":  func(b *border) string { return b.lines(30) + b.title(30) },
	"double with title block": func(b *border) string { return b.lines(40) + b.polyline(30) + b.title(30) },
}

// However a sheet's border and title block are turned, about a knife that lies along them or askew to them, the knife is
// the one without them, and they are said.
func TestBorderAtAnyAngle(t *testing.T) {
	for _, name := range []string{"thistle.dxf", "minnow.dxf", "otter.dxf"} {
		for _, deg := range []float64{0, 0.5, 1, 30, 90, 137} {
			for _, knifeDeg := range []float64{0, deg} {
				for _, layer := range []string{"0", "FRAME"} {
					t.Run(fmt.Sprintf("%s/%g/%g/%s", name, deg, knifeDeg, layer), func(t *testing.T) {
						bordered(t, name, &border{layer: layer, deg: deg}, knifeDeg)
					})
				}
			}
		}
	}
}

func bordered(t *testing.T, name string, b *border, knifeDeg float64) {
	readText := func(beside string) (*profile.Profile, *profile.Plan) {
		t.Helper()
		d, err := dxf.Parse(turnedDrawing(t, name, knifeDeg, "0", beside), name)
		if err != nil {
			t.Fatal(err)
		}
		p, err := profile.Read(d, profile.Options{})
		if err != nil {
			t.Fatal(err)
		}
		w, err := p.Plan(profile.Hints{})
		if err != nil {
			t.Fatal(err)
		}
		return p, w
	}
	p, want := readText("")
	b.unit = p.Scale
	first := profile.Frame{AngleDeg: b.deg}.ToBlade(p.Outline[0].A)
	b.box = r2.Box{Min: first, Max: first}
	for _, q := range p.Outline.Flatten(0.1) {
		v := profile.Frame{AngleDeg: b.deg}.ToBlade(q)
		b.box.Min.X, b.box.Min.Y = min(b.box.Min.X, v.X), min(b.box.Min.Y, v.Y)
		b.box.Max.X, b.box.Max.Y = max(b.box.Max.X, v.X), max(b.box.Max.Y, v.Y)
	}
	for how, draw := range borders {
		p, got := readText(draw(b))
		if !slices.ContainsFunc(p.Skipped, func(s profile.Skipped) bool {
			return s.Layer == b.layer && (s.Why == "the sheet's frame" || s.Why == "layer not used")
		}) {
			t.Errorf("%s: left out %v", how, p.Skipped)
		}
		near(t, how+": area", got.Outline.Area(), want.Outline.Area(), 1e-6)
		near(t, how+": holes", float64(len(got.Holes)), float64(len(want.Holes)), 0)
		near(t, how+": tip", r2.Norm(r2.Sub(got.Tip, want.Tip)), 0, 1e-6)
		near(t, how+": heel", r2.Norm(r2.Sub(got.Heel, want.Heel)), 0, 1e-6)
		near(t, how+": warnings", float64(len(got.Warnings)+len(p.Warnings)), float64(len(want.Warnings)), 0)
	}
}

// turnedPairs is entities of polylines, lines and circles, turned.
func turnedPairs(pairs string, deg float64) string {
	f := strings.Fields(pairs)
	for i := 0; i+3 < len(f); i += 2 {
		if f[i] == "10" && f[i+2] == "20" {
			var p r2.Vec
			fmt.Sscan(f[i+1]+" "+f[i+3], &p.X, &p.Y) //nolint:errcheck // figures of this file
			p = profile.Frame{AngleDeg: deg}.ToDrawing(p)
			f[i+1], f[i+3] = fmt.Sprintf("%.6f", p.X), fmt.Sprintf("%.6f", p.Y)
		}
	}
	return strings.Join(f, " ") + " "
}

// A frame that lies askew within another goes with it.
func TestFrameWithinFrame(t *testing.T) {
	inner := turnedPairs("0 LWPOLYLINE 8 0 70 1 10 -125 20 -40 10 140 20 -40 10 140 20 45 10 -125 20 45 ", 12)
	outer := "0 LWPOLYLINE 8 0 70 1 10 -210 20 -148 10 210 20 -148 10 210 20 149 10 -210 20 149 "
	knife := "0 LWPOLYLINE 8 0 70 1 " + knifeLoop
	want, err := parse(t, knife, profile.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, deg := range []float64{0, 20} {
		p, err := parse(t, turnedPairs(outer+inner+knife, deg), profile.Options{})
		if err != nil {
			t.Errorf("turned by %g: %v", deg, err)
			continue
		}
		near(t, "area", p.Outline.Area(), want.Outline.Area(), 1e-3)
		if p.Skipped[0].Count != 2 || p.Skipped[0].Why != "the sheet's frame" {
			t.Errorf("left out %v", p.Skipped)
		}
	}
}
