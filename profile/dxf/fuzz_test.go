package dxf_test

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"formbuck/profile/dxf"
)

// seeds adds the corpus, one turn of each drawing.
func seeds(f *testing.F, dir string) {
	f.Helper()
	for _, pattern := range []string{"good/*-90.dxf", "good/[a-km-z]*[a-z].dxf", "bad/*.dxf"} {
		files, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil || len(files) == 0 {
			f.Fatalf("no seeds for %s: %v", pattern, err)
		}
		for _, name := range files {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
}

// Whatever the bytes, Parse returns a drawing, or faults of its closed list; a drawing walks; and what
// can be written again comes back the same.
func FuzzParse(f *testing.F) {
	seeds(f, "../../testdata/drawings")
	classes := map[dxf.Class]bool{}
	for _, c := range dxf.Classes() {
		classes[c] = true
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := dxf.Parse(data, "fuzz.dxf")
		if err != nil {
			var faults dxf.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("not Faults: %v", err)
			}
			for _, e := range faults {
				if !classes[e.Class] || e.What == "" {
					t.Fatalf("fault out of the list: %v", e)
				}
			}
			return
		}
		_ = d.Walk(&sink{})
		var once, twice bytes.Buffer
		if dxf.Encode(&once, d) != nil {
			return
		}
		again, err := dxf.Parse(once.Bytes(), "again.dxf")
		if err != nil {
			t.Fatalf("what was written is refused: %v", err)
		}
		if err := dxf.Encode(&twice, again); err != nil || len(d.Entities) > len(again.Entities)+polylines(d) {
			t.Fatalf("%d entities became %d: %v", len(d.Entities), len(again.Entities), err)
		}
	})
}

func polylines(d *dxf.Drawing) int {
	n := 0
	for _, e := range d.Entities {
		if _, ok := e.Shape.(*dxf.Polyline); ok {
			n++
		}
	}
	return n
}
