package profile_test

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"

	"formbuck/profile"
	"formbuck/profile/dxf"
)

const corpus = "../testdata/drawings"

// measured is what testdata/drawings/measure.py found in a drawing with ezdxf and shapely.
type measured struct {
	Area      float64
	Perimeter float64
	Centroid  []float64
	Holes     int
	HolesArea float64 `json:"holes_area"`
}

func read(t *testing.T, file string, o profile.Options) (*profile.Profile, error) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	d, err := dxf.Parse(data, filepath.Base(file))
	if err != nil {
		return nil, err
	}
	return profile.Read(d, o)
}

// Every good drawing holds what ezdxf and shapely measure in it: area and perimeter to 1e-4; where
// the curve is known by points only, so that readers differ, to 0.06 mm along the perimeter.
func TestCorpusAgreesWithReference(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(corpus, "expected.json"))
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]measured{}
	if err := json.Unmarshal(data, &want); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(corpus, "good", "*.dxf"))
	if err != nil || len(files) != len(want) {
		t.Fatalf("%d good drawings, %d measured: %v", len(files), len(want), err)
	}
	for _, f := range files {
		t.Run(strings.TrimSuffix(filepath.Base(f), ".dxf"), func(t *testing.T) {
			p, err := read(t, f, profile.Options{Unfinished: true})
			if err != nil {
				t.Fatal(err)
			}
			compareMeasured(t, p, want[filepath.Base(f)])
		})
	}
}

func compareMeasured(t *testing.T, p *profile.Profile, w measured) {
	t.Helper()
	area, perimeter := 1e-4*w.Area, 1e-4*w.Perimeter
	if strings.HasPrefix(p.File, "spline-through-points") {
		area, perimeter = 0.06*w.Perimeter, 0.06
	}
	if strings.HasPrefix(p.File, "gap-joined") {
		area = p.WidestGap / 2 * w.Perimeter // where in the gap the ends are brought together is free
	}
	near(t, "area", p.Outline.Area(), w.Area, area)
	near(t, "perimeter", p.Outline.Perimeter(), w.Perimeter, perimeter)
	if len(w.Centroid) == 2 {
		c := r2.Vec{X: w.Centroid[0], Y: w.Centroid[1]}
		near(t, "centroid", r2.Norm(r2.Sub(p.Outline.Centroid(), c)), 0, 0.06)
	}
	holes := 0.0
	for _, h := range p.Holes {
		holes += h.Area()
	}
	near(t, "holes", float64(len(p.Holes)), float64(w.Holes), 0)
	near(t, "area of holes", holes, w.HolesArea, 3e-4*max(w.HolesArea, 1))
}

// Every faulty drawing is refused with the class that its name begins with.
func TestFaultyAreRefused(t *testing.T) {
	lines := map[string]int{
		"bad-number-word": 48, "bad-number-hex": 48, "bad-number-code": 33, "out-of-range-nan": 72, "out-of-range-inf": 72,
		"out-of-range-far": 34,
	}
	files, _ := filepath.Glob(filepath.Join(corpus, "bad", "*.dxf"))
	if len(files) == 0 {
		t.Fatal("no faulty drawings")
	}
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".dxf")
		t.Run(name, func(t *testing.T) {
			_, err := read(t, f, profile.Options{Unfinished: !strings.HasPrefix(name, string(dxf.ImplausibleSize))})
			var faults dxf.Faults
			if !errors.As(err, &faults) {
				t.Fatalf("accepted, or no Faults: %v", err)
			}
			t.Log(err)
			if name == "two-faults" {
				if len(faults) != 2 || faults[0].Class != dxf.BadNumber || faults[1].Class != dxf.BadNumber {
					t.Errorf("want both bad numbers, got %v", err)
				}
				return
			}
			if !strings.HasPrefix(name, string(faults[0].Class)) {
				t.Errorf("class %s for %s", faults[0].Class, name)
			}
			if want := lines[name]; want != 0 && faults[0].Line != want {
				t.Errorf("line %d, want %d", faults[0].Line, want)
			}
		})
	}
}
