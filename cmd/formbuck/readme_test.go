package main

import (
	"bytes"
	"fmt"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/variant"
	"formbuck/cmd/internal/folder"

	"github.com/google/go-cmp/cmp"
)

const (
	readme     = "../../README.md"
	transcript = "```console\n"
	prompt     = "$ formbuck "
)

// TestReadmeTranscript runs the commands that the README shows and compares what they say. With
// UPDATE set it rewrites the README instead.
func TestReadmeTranscript(t *testing.T) {
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(data), transcript)
	shown, after, closed := strings.Cut(rest, "```")
	if !found || !closed || !strings.HasPrefix(shown, prompt) {
		t.Fatalf("README.md shows no transcript that begins with %q", prompt)
	}
	real := replay(t, shown)
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(readme, []byte(before+transcript+real+"```"+after), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(shown, real); diff != "" {
		t.Errorf("-README +real\n%s", diff)
	}
}

// TestReadmeKeys compares the README's table of keys with the keys that a variant file takes. With
// UPDATE set it rewrites the README instead.
func TestReadmeKeys(t *testing.T) {
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	const head = "| key | what it is | takes | without it |\n|---|---|---|---|\n"
	before, rest, found := strings.Cut(string(data), head)
	if !found {
		t.Fatal("README.md has no table of keys")
	}
	shown, after, _ := strings.Cut(rest, "\n\n")
	var real []string
	for _, k := range append(variant.Keys(), variant.MoreKeys("NAME")...) {
		without := k.Default
		switch {
		case k.Required:
			without = "required"
		case without == "":
			without = k.Unset
		default:
			without = "`" + without + "`"
		}
		real = append(real, fmt.Sprintf("| `%s` | %s | %s | %s |", k.Path, k.Doc, k.Allowed(), without))
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(readme, []byte(before+head+strings.Join(real, "\n")+"\n\n"+after), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(strings.Split(shown, "\n"), real); diff != "" {
		t.Errorf("-README +real\n%s", diff)
	}
}

// replay runs the commands of a transcript in an empty folder and writes down what comes out.
func replay(t *testing.T, shown string) string {
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	defer t.Chdir(dir)
	var out bytes.Buffer
	for line := range strings.Lines(shown) {
		words, isCommand := strings.CutPrefix(line, prompt)
		if !isCommand {
			continue
		}
		out.WriteString(line)
		if status := run(strings.Fields(words), &out, &out); status != exitOK {
			t.Errorf("%s exits %d", strings.TrimSpace(line), status)
		}
	}
	return out.String()
}

// TestReadmePictures compares the pictures that the README shows with those of the demo's job. With
// UPDATE set it rewrites them instead. The mean tone of the difference is what may differ between
// processors.
func TestReadmePictures(t *testing.T) {
	const shown = "../../testdata/pictures/"
	names, err := filepath.Glob(shown + "*.png")
	if err != nil || len(names) == 0 {
		t.Fatalf("no pictures in %s: %v", shown, err)
	}
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	w, err := loadWork(order{})
	if err != nil {
		t.Fatal(err)
	}
	made, err := w.Build(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range names {
		name := filepath.Base(path)
		if !bytes.Contains(text, []byte("testdata/pictures/"+name)) {
			t.Errorf("README.md does not show %s", name)
		}
		i := slices.IndexFunc(made.Files, func(f folder.File) bool { return f.Name == name })
		if i < 0 {
			t.Errorf("the demo's job has no %s", name)
			continue
		}
		comparePicture(t, path, made.Files[i].Data)
	}
}

func comparePicture(t *testing.T, path string, made []byte) {
	t.Helper()
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(path, made, 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	a, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	b, err := png.Decode(bytes.NewReader(made))
	if err != nil {
		t.Fatal(err)
	}
	if a.Bounds() != b.Bounds() {
		t.Fatalf("%s: %v, the demo's is %v", path, a.Bounds(), b.Bounds())
	}
	sum := 0.0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			p, _, _, _ := a.At(x, y).RGBA()
			q, _, _, _ := b.At(x, y).RGBA()
			sum += math.Abs(float64(p)-float64(q)) / 257
		}
	}
	if mean := sum / float64(a.Bounds().Dx()*a.Bounds().Dy()); mean > 0.05 {
		t.Errorf("%s: differs from the demo's by %.3f tones in the mean; UPDATE=1 rewrites it", path, mean)
	}
}
