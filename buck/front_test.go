package buck_test

import (
	"errors"
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"formbuck/buck"
	"formbuck/testdata"
)

// binding is the otter with a ramp that ends before the belly: its sheath binds on the cutting edge.
const binding = `drawing.file = "otter.dxf"
blade.thickness = 4
handle.thickness = 24
ramp.x = -25
`

// folder is the demos' folder with further files.
func folder(t *testing.T, more map[string]string) fstest.MapFS {
	t.Helper()
	all := fstest.MapFS{}
	names, err := fs.Glob(testdata.FS, "*")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		data, err := testdata.FS.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all[name] = &fstest.MapFile{Data: data}
	}
	for name, text := range more {
		all[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return all
}

func opened(t *testing.T, fsys fs.FS, file string) *buck.Design {
	t.Helper()
	d, err := buck.Open(fsys, file)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// TestGate makes a buck whose sheath binds on the cutting edge: it is refused with the key and its place, checked or made,
// and made with a warning where that is asked for.
func TestGate(t *testing.T) {
	d := opened(t, folder(t, map[string]string{"short.toml": binding}), "short.toml")
	one := buck.Options{Pieces: []buck.PieceKind{buck.Nub}}
	_, made := d.Make(t.Context(), one)
	_, checked := d.Check(t.Context(), one)
	for name, err := range map[string]error{"made": made, "checked": checked} {
		var f *buck.Fault
		if !errors.As(err, &f) || f.Kind != buck.Binds {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if f.File != "short.toml" || f.Line != 4 || f.Key != "ramp.x" || !strings.Contains(f.What, "binds on the cutting edge") {
			t.Errorf("%s: %+v", name, f)
		}
		if all := buck.Faults(err); len(all) != 1 || all[0] != f {
			t.Errorf("%s: taken apart: %v", name, all)
		}
	}
	one.Unfinished = true
	m, err := d.Make(t.Context(), one)
	if err != nil {
		t.Fatal(err)
	}
	if len(m.Pieces) == 0 || len(m.Grave) == 0 || !strings.HasSuffix(m.Grave[0], "the pieces are not finished") {
		t.Errorf("%d pieces, grave: %v", len(m.Pieces), m.Grave)
	}
	if c, err := d.Check(t.Context(), one); err != nil || c.Free {
		t.Errorf("%+v %v", c, err)
	}
}

// TestCheckDemos finds nothing that binds in the demos.
func TestCheckDemos(t *testing.T) {
	d := opened(t, testdata.FS, "thistle.toml")
	c, err := d.Check(t.Context(), buck.Options{})
	if err != nil || !c.Free {
		t.Errorf("%+v %v", c, err)
	}
}

// TestFaults takes errors of every room apart.
func TestFaults(t *testing.T) {
	for name, tt := range map[string]struct {
		text string
		want buck.Fault // as far as it is given
		many int
	}{
		"variant":  {"blade.thickness = -1\nhandle.thickness = 22\ndrawing.file = \"thistle.dxf\"\n", buck.Fault{Kind: "out of range", File: "a.toml", Line: 1, Column: 19, Key: "blade.thickness", Value: "-1 mm"}, 1},
		"two":      {"blade.thickness = -1\nhandle.thickness = \"x\"\ndrawing.file = \"thistle.dxf\"\n", buck.Fault{Kind: "out of range", File: "a.toml", Line: 1, Column: 19, Key: "blade.thickness", Value: "-1 mm"}, 2},
		"drawing":  {"blade.thickness = 3\nhandle.thickness = 22\ndrawing.file = \"b.dxf\"\n", buck.Fault{Kind: "no-outline", File: "b.dxf"}, 1},
		"no file":  {"blade.thickness = 3\nhandle.thickness = 22\ndrawing.file = \"c.dxf\"\n", buck.Fault{Kind: buck.Other}, 1},
		"measures": {"base = \"thistle.toml\"\nname = \"a\"\nhandle.rounding = 10.5\nstandoff.x = -500\n", buck.Fault{Kind: "out of range", File: "a.toml", Line: 4, Column: 14, Key: "standoff.x", Value: "-500 mm"}, 1},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := buck.Open(folder(t, map[string]string{"a.toml": tt.text, "b.dxf": "0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n"}), "a.toml")
			all := buck.Faults(err)
			if len(all) != tt.many {
				t.Fatalf("%v", all)
			}
			f := all[0]
			got := buck.Fault{Kind: f.Kind, File: f.File, Line: f.Line, Column: f.Column, Key: f.Key, Value: f.Value}
			if got != tt.want {
				t.Errorf("%+v, want %+v", got, tt.want)
			}
			if !strings.Contains(err.Error(), f.Error()) {
				t.Errorf("%q is not in %q", f, err)
			}
		})
	}
	if buck.Faults(nil) != nil {
		t.Error("no error has a fault")
	}
}

// TestFiles holds what was made to what a file system is.
func TestFiles(t *testing.T) {
	d := opened(t, testdata.FS, "minnow.toml")
	m, err := d.Make(t.Context(), buck.Options{Pieces: []buck.PieceKind{buck.Nub, buck.Drain}})
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range m.Files {
		names = append(names, f.Name)
	}
	if err := fstest.TestFS(m.Files, names...); err != nil {
		t.Error(err)
	}
	if m.Files.Named(m.Pieces[0].File) == nil || m.Files.Named("x") != nil {
		t.Error("a file is found by its name")
	}
}

// TestCompare finds which pieces a thicker handle changes, and why.
func TestCompare(t *testing.T) {
	all := folder(t, map[string]string{"thick.toml": "base = \"thistle.toml\"\nname = \"thistle\"\nhandle.thickness = 24\n"})
	r, err := buck.Compare(t.Context(), opened(t, all, "thistle.toml"), opened(t, all, "thick.toml"), buck.Options{Pieces: []buck.PieceKind{buck.Standoff, buck.Drain}})
	if err != nil {
		t.Fatal(err)
	}
	states := map[string]bool{}
	for _, o := range r.Outcomes {
		states[o.Piece().Name+" "+string(o.State)] = true
	}
	if got := slices.Sorted(maps.Keys(states)); !slices.Equal(got, []string{"drain good", "standoff changed"}) {
		t.Errorf("%v", got)
	}
}
