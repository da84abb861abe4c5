package main

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// faulted is a part, what inspect says of its problems, and what it marks in the picture.
type faulted struct {
	kind     string
	problems []string
	from     r3.Vec   // from where most of the marks are seen
	marks    []string // the caption without its numbers; the place in each is the one that is ringed
}

// TestInspectMarksFaults makes each fault of a surface in a cube of 20 mm about the origin, and wants
// one line for it with its place, and a picture with a ring at that place and nothing else beside the part.
func TestInspectMarksFaults(t *testing.T) {
	for _, test := range []faulted{
		{"cube", nil, threeQuarter, nil},
		{
			"open",
			[]string{"open edge: 3, at (0, 0, -10) mm"},
			fromBelow,
			[]string{"open edge, 1 of 3, at (0, 0, -10) mm", "open edge, 2 of 3, at (-10, 0, -10) mm", "open edge, 3 of 3, at (0, 10, -10) mm"},
		},
		{
			"twice",
			[]string{"duplicate triangle: 1, at (-3.3333, 3.3333, -10) mm", "non-manifold edge: 3, at (-10, 0, -10) mm"},
			fromBelow,
			[]string{
				"duplicate triangle, 1 of 1, at (-3.3333, 3.3333, -10) mm", "non-manifold edge, 1 of 3, at (-10, 0, -10) mm",
				"non-manifold edge, 2 of 3, at (0, 0, -10) mm", "non-manifold edge, 3 of 3, at (0, 10, -10) mm",
			},
		},
		{
			"flipped",
			[]string{"misoriented edge: 3, at (0, 0, -10) mm"},
			fromBelow,
			[]string{"misoriented edge, 1 of 3, at (0, 0, -10) mm", "misoriented edge, 2 of 3, at (-10, 0, -10) mm", "misoriented edge, 3 of 3, at (0, 10, -10) mm"},
		},
		{
			"inside out",
			[]string{"inverted shell: 1, at (-3.3333, 3.3333, -10) mm", "no volume: 1, at (0, 0, 0) mm"},
			fromBelow,
			[]string{"inverted shell, 1 of 1, at (-3.3333, 3.3333, -10) mm", "no volume, 1 of 1, at (0, 0, 0) mm, hidden"},
		},
		{
			"beside, inside out",
			[]string{"inverted shell: 1, at (26.667, 3.3333, -10) mm", "no volume: 1, at (15, 0, 0) mm"},
			fromBelow,
			[]string{"inverted shell, 1 of 1, at (26.667, 3.3333, -10) mm", "no volume, 1 of 1, at (15, 0, 0) mm"},
		},
		{
			"T-junction",
			[]string{"open edge: 3, at (10, 0, 10) mm", "T-junction: 1, at (10, 0, 10) mm", "self-intersection: 2, at (10, 10, 10) mm"},
			threeQuarter,
			[]string{
				"open edge, 1 of 3, at (10, 0, 10) mm", "open edge, 2 of 3, at (10, -5, 10) mm", "open edge, 3 of 3, at (10, 5, 10) mm",
				"T-junction, 1 of 1, at (10, 0, 10) mm", "self-intersection, 1 of 2, at (10, 10, 10) mm", "self-intersection, 2 of 2, at (10, -10, 10) mm",
			},
		},
		{
			"crossing",
			[]string{"self-intersection: 18, at (10, -3, 10) mm"},
			threeQuarter,
			[]string{"self-intersection, 1 of 18, at (10, -3, 10) mm", "self-intersection, 2 of 18, at (-3, -3, 10) mm", "self-intersection, 3 of 18, at (-3, 10, 10) mm, hidden"},
		},
		{"needle", []string{"degenerate triangle: 1, at (3.3333, -10, -10) mm"}, threeQuarter, []string{"degenerate triangle, 1 of 1, at (3.3333, -10, -10) mm"}},
		{"sliver", []string{"sliver: 1, at (10, 0, 10) mm"}, threeQuarter, []string{"sliver, 1 of 1, at (10, 0, 10) mm"}},
		{"no sliver", nil, threeQuarter, nil},
		{"edge to edge", []string{"non-manifold edge: 1, at (10, 10, 0) mm"}, threeQuarter, []string{"non-manifold edge, 1 of 1, at (10, 10, 0) mm"}},
		{"corner to corner", []string{"non-manifold vertex: 1, at (10, 10, 10) mm"}, threeQuarter, []string{"non-manifold vertex, 1 of 1, at (10, 10, 10) mm"}},
	} {
		t.Run(test.kind, func(t *testing.T) {
			if testing.Short() && test.kind != "open" && test.kind != "crossing" {
				t.Skip("run in full")
			}
			m := inspectMarked(t, test.kind)
			m.told(t, "problem", test.problems)
			m.ringed(t, test.marks, test.from)
		})
	}
}

// TestInspectMarksPrint wants thin walls and overhangs ringed where the answer says that they are, seen from below. The
// fin lies at x 15 to 15.5, the bracket's arms at z = 15 and 10.
func TestInspectMarksPrint(t *testing.T) {
	if testing.Short() {
		t.Skip("run in full")
	}
	fin := inspectMarked(t, "fin")
	fin.told(t, "wall", []string{"0.500 mm at the thinnest of 32984 places, (15.25, -8.963, -7.9259) mm"})
	fin.ringed(t, []string{"wall of 0.500 mm at (15.25, -8.963, -7.9259) mm"}, fromBelow)

	bracket := inspectMarked(t, "bracket", "--overhang", "45")
	bracket.told(t, "overhang", []string{"620.0000 mm2 under 45 deg to the bed, 380.0000 mm2 of it at (6.6667, 23.667, 15) mm"})
	bracket.ringed(t, []string{"overhang of 380.00 mm2 at (6.6667, 23.667, 15) mm, hidden", "overhang of 240.00 mm2 at (6.6667, -5, 10) mm"}, fromBelow)
}

// TestInspectMarksBoth wants a problem seen from above, and what is thin or hangs over marked beside it.
func TestInspectMarksBoth(t *testing.T) {
	if testing.Short() {
		t.Skip("run in full")
	}
	m := inspectMarked(t, "crossing", "--overhang", "45")
	m.ringed(t, []string{
		"self-intersection, 1 of 18, at (10, -3, 10) mm", "self-intersection, 2 of 18, at (-3, -3, 10) mm",
		"self-intersection, 3 of 18, at (-3, 10, 10) mm, hidden", "overhang of 400.00 mm2 at (3.6667, 10.333, -3) mm, hidden",
	}, threeQuarter)
}

// answered is what inspect said of a part and drew of it.
type answered struct {
	body   body
	out    string
	marked image.Image
}

// inspectMarked inspects a part with a picture.
func inspectMarked(t *testing.T, kind string, flags ...string) *answered {
	t.Helper()
	data, err := partFile(kind)
	if err != nil {
		t.Fatal(err)
	}
	bodies, err := decodeBodies(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	file, path := filepath.Join(dir, "part.stl"), filepath.Join(dir, "part.png")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if status := run(append([]string{"inspect", "--picture", path, file}, flags...), &out, &errs); status != exitOK || errs.Len() > 0 {
		t.Fatalf("status %d: %s", status, &errs)
	}
	im, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	marked, err := png.Decode(bytes.NewReader(im))
	if err != nil {
		t.Fatal(err)
	}
	return &answered{body: bodies[0], out: out.String(), marked: marked}
}

// told wants these lines of a kind and no others.
func (a *answered) told(t *testing.T, kind string, want []string) {
	t.Helper()
	var got []string
	for line := range strings.Lines(a.out) {
		if words := strings.Fields(line); words[0] == kind {
			got = append(got, strings.Join(words[1:], " "))
		}
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s\n%s\nwant\n%s", kind, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// at is a pixel's colour.
func at(im image.Image, x, y int) color.NRGBA {
	return color.NRGBAModel.Convert(im.At(x, y)).(color.NRGBA)
}
