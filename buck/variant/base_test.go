package variant_test

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/buck/variant"
)

// shelf is a few files by path.
type shelf map[string]string

func (s shelf) open(path string) ([]byte, error) {
	text, found := s[filepath.ToSlash(path)]
	if !found {
		return nil, fmt.Errorf("%s: %w", path, fs.ErrNotExist)
	}
	return []byte(text), nil
}

const whole = "name = \"heron\"\n[drawing]\nfile = \"heron.dxf\"\n[blade]\nthickness = 3\n[handle]\nthickness = 20\nrounding = 6\n"

func TestBase(t *testing.T) {
	v, err := variant.Load("shop/thick.toml", shelf{
		"shop/thick.toml":      "base = \"knives/mid.toml\"\nhandle.thickness = \"24 mm\"\n",
		"shop/knives/mid.toml": "base = '../heron.toml'\n[sheet]\nthickness = \"0.093 in\"\n",
		"shop/heron.toml":      whole,
	}.open)
	if err != nil {
		t.Fatal(err)
	}
	s := v.Spec
	if s.Name != "thick" || s.Handle.Thickness != 24 || s.Handle.Rounding != 6 || s.Sheet.Thickness != 2.3622 || s.Blade.Thickness != 3 {
		t.Errorf("%+v", s)
	}
	if at := v.Where("drawing.file").String(); filepath.ToSlash(at) != "shop/heron.toml:3:8" {
		t.Errorf("the drawing is given at %s", at)
	}
	var files []string
	for _, f := range v.Files() {
		files = append(files, filepath.ToSlash(f))
	}
	if got := strings.Join(files, " "); got != "shop/thick.toml shop/knives/mid.toml shop/heron.toml" {
		t.Errorf("files %s", got)
	}
}

func TestBaseFaults(t *testing.T) {
	chain := shelf{}
	for n := range 12 {
		chain[fmt.Sprintf("%d.toml", n)] = fmt.Sprintf("base = \"%d.toml\"\n", n+1)
	}
	for _, tt := range []struct {
		name  string
		files shelf
		want  []string
	}{
		{"itself", shelf{"0.toml": "base = './0.toml'\n"}, []string{"0.toml:1:8: base: the files build on each other in a circle: 0.toml -> 0.toml"}},
		{"circle", shelf{"0.toml": "base = 'a.toml'\n", "a.toml": "base = 'b.toml'\n", "b.toml": "base = 'a.toml'\n"}, []string{
			"b.toml:1:8: base: the files build on each other in a circle: 0.toml -> a.toml -> b.toml -> a.toml",
		}},
		{"missing", shelf{"0.toml": "base = 'a.toml'\n", "a.toml": "base = 'b.toml'\n"}, []string{
			"a.toml:1:8: base: cannot be read: 0.toml -> a.toml -> b.toml: file does not exist",
		}},
		{"deep", chain, []string{"8.toml:1:8: base: more than 8 files build on each other: 0.toml -> 1.toml"}},
		{"fault in the base", shelf{"0.toml": "base = 'a.toml'\n", "a.toml": whole + "angle = 3\n"}, []string{"a.toml:9:1: handle.angle: unknown key"}},
		{"faults in both", shelf{"0.toml": "base = 'a.toml'\n[blade]\nthickness = -3\n", "a.toml": whole + "[tape]\nlayers = 2.5\n"}, []string{
			"0.toml:3:13: blade.thickness: out of range", "a.toml:10:10: tape.layers: wrong type",
		}},
		{"impossible together", shelf{"0.toml": "base = 'a.toml'\n[handle]\nthickness = 10\n", "a.toml": whole}, []string{
			"a.toml:8:12: handle.rounding: the rounding is more than half of the handle's thickness: found 2 x handle.rounding 6 mm (a.toml:8:12) = 12 mm; expected at most handle.thickness 10 mm (line 3)",
		}},
		{"still missing", shelf{"0.toml": "base = 'a.toml'\n", "a.toml": "[drawing]\nfile = 'a.dxf'\n[blade]\nthickness = 3\n"}, []string{"0.toml:1:1: handle.thickness: missing"}},
		{"not a text", shelf{"0.toml": "base = 3\n"}, []string{"0.toml:1:8: base: wrong type"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			_, err := variant.Load("0.toml", tt.files.open)
			var faults variant.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("%v", err)
			}
			for i, want := range tt.want {
				if i >= len(faults) || !strings.HasPrefix(faults[i].Error(), want) {
					t.Errorf("fault %d of\n%v\nwant %s", i, err, want)
				}
			}
			if len(faults) != len(tt.want) {
				t.Errorf("%d faults, want %d:\n%v", len(faults), len(tt.want), err)
			}
		})
	}
}

// TestSourceAndWith checks that a variant can be told as one file, and that single keys of another can
// be laid into it.
func TestSourceAndWith(t *testing.T) {
	files := shelf{
		"old.toml": whole, "new.toml": "base = 'old.toml'\n[blade]\nthickness = \"1/8 in\"\n[handle]\nthickness = 22\n",
	}
	older, err := variant.Load("old.toml", files.open)
	if err != nil {
		t.Fatal(err)
	}
	newer, err := variant.Load("new.toml", files.open)
	if err != nil {
		t.Fatal(err)
	}
	again, err := variant.Decode("new.toml", strings.NewReader(string(newer.Source())))
	if err != nil || again.Spec.Blade != newer.Spec.Blade || again.Spec.Handle != newer.Spec.Handle || again.Spec.Name != "new" {
		t.Errorf("%+v, %v, from\n%s", again, err, newer.Source())
	}
	one, err := older.With(newer, "handle.thickness")
	if err != nil || one.Spec.Handle.Thickness != 22 || one.Spec.Blade.Thickness != 3 || older.Spec.Handle.Thickness != 20 {
		t.Errorf("%+v, %v", one, err)
	}
	back, err := newer.With(older, "handle.rounding", "sheet.thickness")
	if err != nil || back.Spec.Handle.Rounding != 6 || back.Spec.Sheet.Thickness != 2 {
		t.Errorf("%+v, %v", back, err)
	}
}
