package profile_test

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

// Whatever the bytes, reading them ends within seconds, on a busy machine too, in a profile or in faults of the closed list;
// an accepted outline is closed, runs counter-clockwise and has a finite area, and its plan, if it has
// one, has its landmarks on the outline.
func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"drawings/good/*-90.dxf", "drawings/good/units*.dxf", "drawings/bad/*.dxf", "*.dxf"} {
		files, err := filepath.Glob(filepath.Join("../testdata", pattern))
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
	f.Fuzz(func(t *testing.T, data []byte) {
		start := time.Now()
		p, err := readAll(data)
		if took := time.Since(start); took > 5*time.Second {
			t.Fatalf("took %v", took)
		}
		if err != nil {
			var faults dxf.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("not Faults: %v", err)
			}
			return
		}
		checkOutline(t, p)
		if w, err := p.Plan(profile.Hints{ThroatDepth: 2}); err == nil {
			if d := w.Outline.Distance(w.Tip); !(d < 1e-3) {
				t.Fatalf("tip %g off the outline", d)
			}
		}
	})
}

func checkOutline(t *testing.T, p *profile.Profile) {
	t.Helper()
	if a := p.Outline.Area(); !(a >= 0) || math.IsInf(a, 0) || len(p.Outline) == 0 {
		t.Fatalf("area %g of %d segments", a, len(p.Outline))
	}
	for i, s := range p.Outline {
		if s.B != p.Outline[(i+1)%len(p.Outline)].A {
			t.Fatalf("gap after segment %d", i)
		}
	}
}
