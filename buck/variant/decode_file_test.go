package variant_test

import (
	"errors"
	"io"
	"os"
	"strings"
	"testing"
	"testing/iotest"

	"formbuck/buck/measures"
	"formbuck/buck/variant"

	"github.com/google/go-cmp/cmp"
)

func TestWhere(t *testing.T) {
	v := mustDecode(t, "[drawing]\nfile='a.dxf'\nlayers={tip='ä', edge='x'}\n[blade]\n thickness =  3\n"+
		"[handle]\nthickness=9\n[nub]\n'fit' = 0.1 # tight\n")
	for key, want := range map[string]string{
		"drawing.file":        "knife.toml:2:6",
		"drawing.layers.tip":  "knife.toml:3:13",
		"drawing.layers.edge": "knife.toml:3:23",
		"blade.thickness":     "knife.toml:5:15",
		"nub.fit":             "knife.toml:9:9",
		"nub.angle":           "knife.toml",
		"no.such.key":         "knife.toml",
	} {
		if got := v.Where(key).String(); got != want {
			t.Errorf("%s is at %s, want %s", key, got, want)
		}
	}
}

func TestTextThatIsTaken(t *testing.T) {
	plain := mustDecode(t, least)
	for name, text := range map[string]string{
		"byte order mark":  "\ufeff" + least,
		"carriage returns": strings.ReplaceAll(least, "\n", "\r\n"),
		"no last line end": strings.TrimSuffix(least, "\n"),
		"comments":         "# é\n" + strings.ReplaceAll(least, "\n", " # é\n"),
		"one line tables":  "drawing={file='knife.dxf'}\nblade={thickness=3.2}\nhandle={thickness=22}",
		"quoted keys":      "'drawing'.\"file\" = 'knife.dxf'\n'blade' . thickness = 3.2\n[\"handle\"]\nthickness = 22",
		"long strings":     "drawing.file = '''knife.dxf'''\nblade.thickness = \"\"\"\n3.2 mm\"\"\"\nhandle.thickness=22",
	} {
		if diff := cmp.Diff(plain.Spec, mustDecode(t, text).Spec); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

func TestNameFromTheFile(t *testing.T) {
	for file, want := range map[string]string{
		"knives/Big Otter.toml":  "Big Otter",
		`C:\knives\otter 2.toml`: "otter 2",
		"otter.v2.toml":          "otter.v2",
		"otter":                  "otter",
	} {
		v, err := variant.Decode(file, strings.NewReader(least))
		if err != nil || v.Spec.Name != want {
			t.Errorf("%s: %v, want %s", file, err, want)
		}
	}
	_, err := variant.Decode(".toml", strings.NewReader(least))
	const want = ".toml:1:1: name: missing: the file's own name does not serve: a name has at least one character"
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

func TestReaderFailure(t *testing.T) {
	_, err := variant.Decode("knife.toml", iotest.ErrReader(io.ErrUnexpectedEOF))
	var faults variant.Faults
	if !errors.Is(err, io.ErrUnexpectedEOF) || errors.As(err, &faults) {
		t.Errorf("got %v", err)
	}
}

func TestDemos(t *testing.T) {
	for _, c := range []struct {
		name          string
		blade, handle float64
		sheet, width  float64
		grind         measures.Grind
	}{
		{"thistle", 3.2, 22, 2, 12, measures.Flat},
		{"minnow", 2.3622, 18, 2.032, 10, measures.Hollow},
		{"otter", 4, 24, 2.3622, 12, measures.Convex},
	} {
		text, err := os.ReadFile("../../testdata/" + c.name + ".toml")
		if err != nil {
			t.Fatal(err)
		}
		s := mustDecode(t, string(text)).Spec
		got := []any{s.Name, s.Blade.Thickness, s.Handle.Thickness, s.Sheet.Thickness, s.Plate.Width, s.Blade.Grind}
		if diff := cmp.Diff([]any{c.name, c.blade, c.handle, c.sheet, c.width, c.grind}, got); diff != "" {
			t.Error(diff)
		}
	}
}

func FuzzDecode(f *testing.F) {
	starter, err := variant.Starter("otter")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(starter))
	f.Add(every)
	f.Add(least)
	for _, c := range refusals() {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := decode(text)
		if err == nil {
			if len(v.Settings()) != len(variant.Keys()) {
				t.Fatalf("%d settings of %d keys", len(v.Settings()), len(variant.Keys()))
			}
			return
		}
		var faults variant.Faults
		if v != nil || !errors.As(err, &faults) || len(faults) == 0 {
			t.Fatalf("got %v, %v", v, err)
		}
		lines := strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n")
		for _, fault := range faults {
			at := fault.At
			if at.File != "knife.toml" || at.Line < 1 || at.Line > len(lines) ||
				at.Column < 1 || at.Column > len([]rune(lines[at.Line-1]))+1 {
				t.Errorf("%v has no place in a text of %d lines", fault, len(lines))
			}
			if strings.ContainsAny(fault.Error(), "\n\r") {
				t.Errorf("%q is more than one line", fault.Error())
			}
		}
		if _, again := decode(text); again == nil || again.Error() != err.Error() {
			t.Errorf("read again: %v; before: %v", again, err)
		}
	})
}
