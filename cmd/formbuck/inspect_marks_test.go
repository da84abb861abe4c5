package main

import (
	"bytes"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestInspectMarksFaults makes each fault of a surface in a cube of 20 mm about the origin, and wants
// one line for it with its place, and a picture that is another than that of the cube.
func TestInspectMarksFaults(t *testing.T) {
	tests := map[string][]string{
		"cube":               nil,
		"open":               {"open edge: 3, at (0, 0, -10) mm"},
		"twice":              {"duplicate triangle: 1, at (-3.3333, 3.3333, -10) mm", "non-manifold edge: 3, at (-10, 0, -10) mm"},
		"flipped":            {"misoriented edge: 3, at (0, 0, -10) mm"},
		"inside out":         {"inverted shell: 1, at (-3.3333, 3.3333, -10) mm", "no volume: 1, at (0, 0, 0) mm"},
		"beside, inside out": {"inverted shell: 1, at (26.667, 3.3333, -10) mm", "no volume: 1, at (15, 0, 0) mm"},
		"T-junction":         {"open edge: 3, at (10, 0, 10) mm", "T-junction: 1, at (10, 0, 10) mm", "self-intersection: 2, at (10, 10, 10) mm"},
		"crossing":           {"self-intersection: 18, at (10, -3, 10) mm"},
		"needle":             {"degenerate triangle: 1, at (3.3333, -10, -10) mm"},
		"edge to edge":       {"non-manifold edge: 1, at (10, 10, 0) mm"},
		"corner to corner":   {"non-manifold vertex: 1, at (10, 10, 10) mm"},
	}
	clean := marked(t, "cube", nil)
	for kind, want := range tests {
		t.Run(kind, func(t *testing.T) {
			if p := marked(t, kind, want); len(want) > 0 && bytes.Equal(p, clean) {
				t.Error("the picture is that of the cube")
			}
		})
	}
}

// marked inspects a part, wants these problems and no others, and gives the picture.
func marked(t *testing.T, kind string, want []string) []byte {
	t.Helper()
	data, err := partFile(kind)
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	file, picture := filepath.Join(dir, "part.stl"), filepath.Join(dir, "part.png")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if status := run([]string{"inspect", "--picture", picture, file}, &out, &errs); status != exitOK || errs.Len() > 0 {
		t.Fatalf("status %d: %s", status, &errs)
	}
	var got []string
	for line := range strings.Lines(out.String()) {
		if problem, ok := strings.CutPrefix(line, "  problem   "); ok {
			got = append(got, strings.TrimSpace(problem))
		}
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s: problems\n%s\nwant\n%s", kind, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	im, err := os.ReadFile(picture)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := png.Decode(bytes.NewReader(im)); err != nil {
		t.Error(err)
	}
	return im
}
