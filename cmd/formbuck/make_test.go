package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/buck"
	"formbuck/buck/measures"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// bench is a work that makes one file, so that the verb can be tested by itself.
type bench struct {
	order  order
	err    error
	during func()
}

func (b *bench) Name() string { return "kestrel" }

func (b *bench) Make(_ context.Context, _ buck.Options) (*buck.Made, error) {
	if b.during != nil {
		b.during()
	}
	return &buck.Made{
		Files: buck.Files{{Name: "kestrel-ramp-right.stl", Data: []byte("ramp")}},
		Pieces: []buck.Piece{{
			Piece: "ramp", Hand: "right", File: "kestrel-ramp-right.stl", Picture: "kestrel-ramp-right.png",
			Size: r3.Vec{X: 38.125, Y: 14, Z: 9}, Volume: 2345.678, Mass: 2.4355, Governed: "belly",
			Printing: buck.Advice{Down: "glue face", FirstLayer: 12.25, Hangs: 1.5, Walls: 4, Infill: 100},
		}},
		Warnings: []string{"the throat is short"},
		Notes:    []string{"measured something"},
	}, b.err
}

// try runs make in a fresh folder, with b as its work.
func try(t *testing.T, b *bench, args ...string) (status int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	a := &app{out: &answer{to: &o}, err: &e, load: func(order order) (work, error) {
		b.order = order
		return b, nil
	}}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	if b.during == nil && errors.Is(b.err, context.Canceled) {
		b.during = cancel
	}
	status = execute(ctx, a, append([]string{"make"}, args...))
	return status, o.String(), e.String()
}

func TestMakeSummary(t *testing.T) {
	t.Chdir(t.TempDir())
	status, out, errs := try(t, &bench{})
	want := strings.TrimPrefix(`
 piece  hand   size mm               volume mm3  mass g
────────────────────────────────────────────────────────
 ramp   right  38.12 x 14.00 x 9.00      2345.7    2.44
        belly
kestrel: 1 file written
`, "\n")
	if diff := cmp.Diff(want, out); diff != "" || status != exitOK {
		t.Errorf("status %d, -want +got\n%s", status, diff)
	}
	if errs != "formbuck: warning: the throat is short\n" {
		t.Errorf("stderr %q", errs)
	}
	if data, err := os.ReadFile(filepath.Join("kestrel", "kestrel-ramp-right.stl")); err != nil || string(data) != "ramp" {
		t.Errorf("file %q %v", data, err)
	}
}

func TestMakePassesTheOrderOn(t *testing.T) {
	t.Chdir(t.TempDir())
	b := &bench{}
	status, _, errs := try(t, b, "a.toml", "--hand", "left,right", "--hand=left", "--piece", "nub", "--ascii", "--on-knife", "-v", "-o", "out")
	want := order{variant: "a.toml", dir: "out", options: buck.Options{
		Hands: []measures.Hand{measures.Right, measures.Left}, Pieces: []buck.PieceKind{buck.Nub}, ASCII: true, Place: buck.OnKnife, Paper: "a4", Measure: true,
	}}
	if diff := cmp.Diff(want, b.order, cmp.AllowUnexported(order{})); diff != "" || status != exitOK {
		t.Errorf("status %d, -want +got\n%s", status, diff)
	}
	said := "formbuck: measured something\nformbuck: wrote " + filepath.Join("out", "kestrel-ramp-right.stl") + "\nformbuck: took "
	if !strings.Contains(errs, said) {
		t.Errorf("stderr %q, want %q in it", errs, said)
	}
}

func TestMakeAnswersInJSON(t *testing.T) {
	t.Chdir(t.TempDir())
	_, out, _ := try(t, &bench{}, "--json")
	want := `{"variant":"kestrel","folder":"kestrel","pieces":[{"piece":"ramp","hand":"right",` +
		`"file":"kestrel-ramp-right.stl","picture":"kestrel-ramp-right.png","size_mm":[38.125,14,9],` +
		`"volume_mm3":2345.678,"mass_g":2.4355,"governed":"belly","printing":{"down":"glue face","first_layer_mm2":12.25,"overhang_mm2":1.5,"supports":false,"walls":4,"infill_percent":100}}],"written":["kestrel-ramp-right.stl"],` +
		`"unchanged":[],"removed":[],"kept":[],"warnings":["the throat is short"],"since":null,"reasons":[]}` + "\n"
	if diff := cmp.Diff(want, out); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

func TestMakeThatFailsLeavesNothing(t *testing.T) {
	tests := map[string]struct {
		err  error
		want string
	}{
		"input at fault": {errors.New("a.toml:3:1: blade.thickness: missing"), "formbuck: a.toml:3:1: blade.thickness: missing\n"},
		"several faults": {errors.Join(errors.New("a"), errors.New("b")), "formbuck: a\nformbuck: b\n"},
		"interrupted":    {context.Canceled, "formbuck: kestrel: interrupted; the folder is as it was\n"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			t.Chdir(t.TempDir())
			status, out, errs := try(t, &bench{err: test.err})
			if status != exitFault || out != "" || errs != test.want {
				t.Errorf("status %d, stdout %q, stderr %q, want %q", status, out, errs, test.want)
			}
			if left, err := os.ReadDir("."); err != nil || len(left) > 0 {
				t.Errorf("left behind: %v %v", left, err)
			}
		})
	}
}

func TestMakeTwiceAtOnce(t *testing.T) {
	t.Chdir(t.TempDir())
	b := &bench{}
	b.during = func() {
		status, _, errs := try(t, &bench{})
		if want := "formbuck: kestrel: another run is writing here; try again when it is done\n"; status != exitFault || errs != want {
			t.Errorf("status %d, stderr %q, want %q", status, errs, want)
		}
	}
	if status, _, errs := try(t, b); status != exitOK {
		t.Errorf("status %d, stderr %q", status, errs)
	}
}

func TestMakeProtectsTheFilesOfOthers(t *testing.T) {
	t.Chdir(t.TempDir())
	path := filepath.Join("kestrel", "kestrel-ramp-right.stl")
	if err := errors.Join(os.Mkdir("kestrel", 0o777), os.WriteFile(path, []byte("mine"), 0o666)); err != nil {
		t.Fatal(err)
	}
	status, _, errs := try(t, &bench{})
	want := "formbuck: " + path + ": was not written by formbuck; move it away, or use --force to overwrite it\n"
	if status != exitFault || errs != want {
		t.Errorf("status %d, stderr %q, want %q", status, errs, want)
	}
	if data, _ := os.ReadFile(path); string(data) != "mine" {
		t.Errorf("overwritten with %q", data)
	}
	if status, _, errs := try(t, &bench{}, "--force"); status != exitOK {
		t.Errorf("with --force: status %d, stderr %q", status, errs)
	}
}
