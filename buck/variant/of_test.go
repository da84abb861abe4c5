package variant_test

import (
	"strings"
	"testing"

	"formbuck/buck/measures"
	"formbuck/buck/variant"
	"formbuck/testdata"

	"github.com/google/go-cmp/cmp"
)

// TestDefaultIsAsAFileWithoutKeys compares the measures to begin with with those of the starter's required keys.
func TestDefaultIsAsAFileWithoutKeys(t *testing.T) {
	v, err := variant.Decode("knife.toml", strings.NewReader("drawing.file = \"a.dxf\"\nblade.thickness = 3.2\nhandle.thickness = 22\n"))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(v.Spec, variant.Default()); diff != "" {
		t.Errorf("-file +default\n%s", diff)
	}
}

// TestOfDemos finds the measures of the demos again, from nothing but these.
func TestOfDemos(t *testing.T) {
	for _, name := range []string{"thistle", "minnow", "otter"} {
		v, err := variant.Load(name+".toml", testdata.FS.ReadFile)
		if err != nil {
			t.Fatal(err)
		}
		again, err := variant.Of(v.Spec)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if diff := cmp.Diff(v.Spec, again.Spec); diff != "" {
			t.Errorf("%s: -file +measures\n%s", name, diff)
		}
		back, err := variant.Decode("a.toml", strings.NewReader(string(again.Source())))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if diff := cmp.Diff(v.Spec, back.Spec); diff != "" {
			t.Errorf("%s: -file +source\n%s", name, diff)
		}
	}
}

// TestOf takes changed measures, and refuses those that a file's are refused for, without a place.
func TestOf(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(*measures.Spec)
		want   string // of the error; empty: it is taken
	}{
		"nothing": {func(*measures.Spec) {}, ""},
		"thinner": {func(s *measures.Spec) { s.Blade.Thickness = 2.5 }, ""},
		"no tape": {func(s *measures.Spec) { s.Tape.Layers = 0 }, ""},
		"a further boss": {func(s *measures.Spec) {
			s.Standoff.More = []measures.Mount{{Name: "low", Placement: measures.Placement{X: 60}}}
		}, ""},
		"one hand":            {func(s *measures.Spec) { s.Hands = []measures.Hand{measures.Left} }, ""},
		"a negative blade":    {func(s *measures.Spec) { s.Blade.Thickness = -3 }, "blade.thickness: out of range"},
		"no such grind":       {func(s *measures.Spec) { s.Blade.Grind = "wavy" }, "blade.grind: unknown choice"},
		"a tip that is thick": {func(s *measures.Spec) { s.Blade.TipThickness = 4 }, "blade.tip_thickness: the tip is thicker than the heel: found blade.tip_thickness 4 mm; expected at most blade.thickness 3.2 mm"},
		"no name":             {func(s *measures.Spec) { s.Name = "a/b" }, "name: "},
	} {
		t.Run(name, func(t *testing.T) {
			s := variant.Default()
			tt.change(&s)
			v, err := variant.Of(s)
			switch {
			case tt.want == "" && err != nil:
				t.Fatal(err)
			case tt.want != "" && (err == nil || !strings.HasPrefix(err.Error(), tt.want)):
				t.Fatalf("%v, want %s", err, tt.want)
			case err != nil:
				return
			}
			if v.Spec.Blade.Thickness != s.Blade.Thickness || v.Spec.Tape.Layers != s.Tape.Layers || len(v.Spec.Standoff.More) != len(s.Standoff.More) {
				t.Errorf("%+v", v.Spec)
			}
		})
	}
}
