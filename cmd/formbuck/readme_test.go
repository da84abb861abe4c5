package main

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"formbuck/buck"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/paper"
	"formbuck/buck/path"
	"formbuck/buck/path/picture"
	"formbuck/buck/variant"

	"github.com/google/go-cmp/cmp"
)

const (
	readme     = "../../README.md"
	transcript = "```console\n"
	shell      = "```sh\n"
	snippet    = "```toml\n"
	prompt     = "$ formbuck "
)

// walks are the guides that walk a reader through commands and changes of a variant file; guides are all.
var (
	walks  = []string{"guide/first-sheath.md", "guide/measuring.md"}
	guides = append([]string{
		"guide/output.md", "guide/frame.md", "guide/programs.md", "guide/fixture.md", "guide/batch.md", "guide/json.md", "guide/changes.md",
		"guide/keys.md",
	}, walks...)
)

// TestReadmeShort holds the README to a length that is read, and every guide to a place among its links.
func TestReadmeShort(t *testing.T) {
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	if len(data) > 12_000 {
		t.Errorf("README.md has %d bytes; what is over 12 000 belongs into a guide", len(data))
	}
	found, err := filepath.Glob("guide/*.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range found {
		if !slices.Contains(guides, path) {
			t.Errorf("%s is not known to these tests", path)
		}
		if !bytes.Contains(data, []byte("(cmd/formbuck/"+path+")")) {
			t.Errorf("README.md has no link to %s", path)
		}
	}
}

// links are the places in a document's own house that it points to, with their fragments.
var links = regexp.MustCompile(`\]\(([^)#:]*)(#[^)]*)?\)`)

// TestLinks finds every file, and every heading of one, that README and guides point to.
func TestLinks(t *testing.T) {
	for _, path := range append([]string{readme}, guides...) {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, link := range links.FindAllStringSubmatch(string(data), -1) {
			target := filepath.Join(filepath.Dir(path), link[1])
			text, err := os.ReadFile(target)
			if info, dir := os.Stat(target); err != nil && (dir != nil || !info.IsDir()) {
				t.Errorf("%s points to %s, which is not there", path, link[1])
				continue
			}
			heading := strings.ReplaceAll(strings.TrimPrefix(link[2], "#"), "-", " ")
			if heading != "" && !strings.Contains(strings.ToLower(string(text)), "# "+heading+"\n") {
				t.Errorf("%s points to %s%s, which is no heading there", path, link[1], link[2])
			}
		}
	}
}

// TestTranscripts runs the commands that README and guides show, each document's in an empty folder, and compares what they say
// where that is shown. What a guide shows of a variant file is written into the file that its commands began with. With UPDATE set it rewrites the documents instead.
func TestTranscripts(t *testing.T) {
	if testing.Short() {
		t.Skip("run in full")
	}
	for _, path := range append([]string{readme}, walks...) {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		change := writeInto
		if path == readme { // it shows files of their own
			change = func(*testing.T, string, string, string) {}
		}
		real := replayed(t, string(data), change)
		if path == readme && !strings.Contains(real, transcript+prompt) {
			t.Errorf("%s shows no transcript", path)
		}
		if os.Getenv("UPDATE") != "" {
			if err := os.WriteFile(path, []byte(real), 0o666); err != nil {
				t.Fatal(err)
			}
		} else if diff := cmp.Diff(string(data), real); diff != "" {
			t.Errorf("-%s +real\n%s", path, diff)
		}
	}
}

// replayed is a document with its transcripts as they really are: those of blocks of the console with what comes out, those of the
// shell as they are. Both have to succeed. Lines of TOML are handed to change with their table.
func replayed(t *testing.T, text string, change func(t *testing.T, file, table, line string)) string {
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	defer t.Chdir(dir)
	var out strings.Builder
	block, table := "", ""
	for line := range strings.Lines(text) {
		switch {
		case strings.HasPrefix(line, "```") && block == "":
			block, table = line, ""
		case strings.HasPrefix(line, "```"):
			block = ""
		}
		words, prompted := strings.CutPrefix(line, prompt)
		switch {
		case block == snippet && strings.HasPrefix(line, "["):
			table = strings.TrimSpace(line)
		case block == snippet && strings.Contains(line, "="):
			change(t, "hunter.toml", table, line)
		}
		switch {
		case block == transcript && line != transcript && !prompted:
			continue // what came out; it is put there anew
		case block == shell:
			words, prompted = strings.CutPrefix(line, strings.TrimPrefix(prompt, "$ "))
		case block != transcript:
			prompted = false
		}
		out.WriteString(line)
		if !prompted {
			continue
		}
		var said, errs bytes.Buffer
		if status := run(strings.Fields(words), &said, &errs); status != exitOK {
			t.Errorf("%s exits %d: %s", strings.TrimSpace(line), status, &errs)
		}
		if block == transcript {
			out.Write(said.Bytes())
		}
	}
	return out.String()
}

// writeInto sets a key in a variant file as a reader of the guide would: in the line that shows it under its table.
func writeInto(t *testing.T, file, table, line string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	name, _, _ := strings.Cut(line, "=")
	lines, here := strings.SplitAfter(string(data), "\n"), ""
	for i, old := range lines {
		if strings.HasPrefix(old, "[") {
			here = strings.TrimSpace(old)
		}
		if here == table && strings.HasPrefix(strings.TrimPrefix(old, "#"), strings.TrimSpace(name)+" =") {
			lines[i] = line
			if err := os.WriteFile(file, []byte(strings.Join(lines, "")), 0o666); err != nil {
				t.Fatal(err)
			}
			return
		}
	}
	t.Errorf("%s shows no line for %q under %q", file, strings.TrimSpace(line), table)
}

// TestKeysGuide compares the guide of keys with the keys that a variant file takes, a table of it for each of theirs. With
// UPDATE set it rewrites the guide instead.
func TestKeysGuide(t *testing.T) {
	const path = "guide/keys.md"
	var b strings.Builder
	b.WriteString(`# Every key of a variant file

` + "`formbuck new`" + ` writes them all into the starter file, explained. A length takes a number of mm or a quantity in quotes such as
` + "`\"1/4 in\"`" + `, an angle a number of degrees. Where no source is given, the default is a place to begin or is found.
`)
	table := "-"
	for _, k := range append(variant.Keys(), variant.MoreKeys("NAME")...) {
		if of := k.Path[:max(0, strings.LastIndex(k.Path, "."))]; of != table {
			table = of
			heading := "[" + of + "]"
			if of == "" {
				heading = "Above the first table"
			}
			fmt.Fprintf(&b, "\n## %s\n\n| key | what it is | takes | default | source of the default |\n|---|---|---|---|---|\n", heading)
		}
		without := k.Default
		switch {
		case k.Required:
			without = "required"
		case without == "":
			without = k.Unset
		default:
			without = "`" + without + "`"
		}
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", k.Path, k.Doc, k.Allowed(), without, k.Source)
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(path, []byte(b.String()), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(data), "\n"), strings.Split(b.String(), "\n")); diff != "" {
		t.Errorf("-%s +real; UPDATE=1 rewrites it\n%s", path, diff)
	}
}

// shownPictures are those that no job has as pictures: where the draw binds, the sheath's plan, and a face with its pieces.
func shownPictures(d *buck.Design) ([]buck.File, error) {
	study, err := path.Checked(d.Knife(), measures.Hands())
	if err != nil {
		return nil, err
	}
	plan, err := picture.Map(study.Report(), d.Name()+": where the draw binds")
	if err != nil {
		return nil, err
	}
	sheath, err := layout.New(d.Knife(), nil)
	if err != nil {
		return nil, err
	}
	var files []buck.File
	for name, im := range map[string]image.Image{
		"draw":   plan,
		"sheath": sheath.Plan().Image(110),
		"face":   paper.Face(study.For(measures.Hip.Faces(measures.Right)), measures.LeftFace, d.Name()+": left face").Image(110),
	} {
		var b bytes.Buffer
		if err := png.Encode(&b, im); err != nil {
			return nil, err
		}
		files = append(files, buck.File{Name: d.Name() + "-" + name + ".png", Data: b.Bytes()})
	}
	return files, nil
}

// TestReadmePictures compares the pictures that README and guides show with those of the demo. With
// UPDATE set it rewrites them instead. The mean tone of the difference is what may differ between
// processors.
func TestReadmePictures(t *testing.T) {
	if testing.Short() {
		t.Skip("run in full")
	}
	const shown = "../../testdata/pictures/"
	names, err := filepath.Glob(shown + "*.png")
	if err != nil || len(names) == 0 {
		t.Fatalf("no pictures in %s: %v", shown, err)
	}
	var text []byte
	for _, path := range append([]string{readme}, guides...) {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		text = append(text, data...)
	}
	d, err := design(order{})
	if err != nil {
		t.Fatal(err)
	}
	made, err := d.Make(t.Context(), buck.Options{})
	if err != nil {
		t.Fatal(err)
	}
	more, err := shownPictures(d)
	if err != nil {
		t.Fatal(err)
	}
	made.Files = append(made.Files, more...)
	for _, path := range names {
		name := filepath.Base(path)
		if !bytes.Contains(text, []byte("testdata/pictures/"+name)) {
			t.Errorf("neither README.md nor a guide shows %s", name)
		}
		i := slices.IndexFunc(made.Files, func(f buck.File) bool { return f.Name == name })
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
