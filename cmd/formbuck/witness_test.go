package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/bucktest/witness"
	"formbuck/testdata/size"
)

// answers is what the answers say that a witness is held against.
type answers struct {
	Free  bool `json:"free"`
	Binds []struct {
		At    [2]float64 `json:"at_mm"`
		Depth float64    `json:"depth_mm"`
	} `json:"binds"`
	Boss struct {
		Sheet float64 `json:"sheet_taken_mm"`
	} `json:"boss"`
	Eyelets []struct {
		At [2]float64 `json:"at_mm"`
	} `json:"eyelets"`
	Posts []struct {
		At [2]float64 `json:"at_mm"`
	} `json:"posts"`
}

// given are the measures of the variant that a witness needs; what is not stated is as the guide of keys lists it.
type given struct {
	sheet, clipLong, clipWide, clearance, flange, room float64
}

func usual() given {
	return given{sheet: 2, clipLong: 60, clipWide: 14, clearance: 1, flange: 9.5, room: 0.5}
}

// evidence is what was found in the files of one variant.
type evidence struct {
	seen    *witness.Seen
	told    answers
	drawing []byte
	given   given
	bodies  []string // print files that are not one closed body
}

// gather makes a variant's buck in one body and its pieces as they stand on the knife, in a folder, and looks at the
// files. The variant has to have no tape, no marks, and a bed as long as the knife.
func gather(dir, toml string, m given) (e *evidence, err error) {
	ask := func(args ...string) []byte {
		var out, errs bytes.Buffer
		if code := run(args, &out, &errs); code != exitOK && err == nil {
			err = fmt.Errorf("%s: %s", strings.Join(args, " "), errs.String())
		}
		return out.Bytes()
	}
	job, sheath := filepath.Join(dir, "witness"), filepath.Join(dir, "witness.dxf")
	ask("make", toml, "--hand", "right", "--piece", "buck,standoff,ramp,drain", "--on-knife", "-o", job, "-q")
	draw := ask("draw", toml, "--hand", "right", "--json", "-q")
	laid := ask("layout", toml, "--hand", "right", "--json", "--dxf", sheath, "-q")
	if err != nil {
		return nil, err
	}
	e = &evidence{given: m}
	for _, answer := range [][]byte{draw, laid} {
		if err := json.Unmarshal(answer, &e.told); err != nil {
			return nil, err
		}
	}
	files, err := filepath.Glob(filepath.Join(job, "*.stl"))
	if err != nil {
		return nil, err
	}
	b := witness.Buck{BossFace: -1, Glue: 0.1, Sheet: m.sheet}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			return nil, err
		}
		triangles, err := witness.STL(data)
		if err != nil {
			return nil, err
		}
		name := filepath.Base(file)
		if body := witness.Measure(triangles); body.Open > 0 || body.Bodies != 1 || body.Volume <= 0 {
			e.bodies = append(e.bodies, fmt.Sprintf("%s is not one closed body: %+v", name, body))
		}
		switch {
		case strings.Contains(name, "-buck-"):
			b.Whole = append(b.Whole, triangles...)
		case strings.Contains(name, "-standoff-"):
			b.Boss = append(b.Boss, triangles...)
		case strings.Contains(name, "-drain-"):
			b.Drain = append(b.Drain, triangles...)
		default:
			b.Ramps = append(b.Ramps, triangles)
		}
	}
	e.seen = b.Look(cells)
	e.drawing, err = os.ReadFile(sheath)
	return e, err
}

// cells are as wide as a witness looks, mm.
const cells = 0.4

// faults are where what was told and what was found do not agree.
func (e *evidence) faults() []string {
	return slices.Concat(e.bodies, drawn(e.seen, e.told), clipped(e.seen, e.told, e.given), riveted(e.seen, e.drawing, e.told, e.given))
}

// drawn holds the verdict of the draw against what passes over the formed meshes.
func drawn(seen *witness.Seen, t answers) (faults []string) {
	const off = 0.15 // mm: what cells miss on walls
	for _, face := range []struct {
		name  string
		inner *witness.Field
	}{{"left", seen.Bossed}, {"right", seen.Plain}} {
		area, most, x, y := seen.Binds(face.inner, 0.05+off, cells)
		if t.Free && area > 3 {
			faults = append(faults, fmt.Sprintf("draws freely, it is said, and what passes is %.2f mm higher than the sheet at (%.1f, %.1f) on the %s face, over %.1f mm2", most, x, y, face.name, area))
		}
	}
	for _, bind := range t.Binds {
		if bind.Depth < 0.5 {
			continue
		}
		_, left, _, _ := seen.Binds(seen.Bossed, 0, cells)
		_, right, _, _ := seen.Binds(seen.Plain, 0, cells)
		if found := max(left, right); found < bind.Depth-2*off {
			faults = append(faults, fmt.Sprintf("it is said to bind by %.2f mm at (%.1f, %.1f), and nothing does by more than %.2f mm", bind.Depth, bind.At[0], bind.At[1], found))
		}
	}
	return faults
}

// clipped holds the boss's height against the outer side of the formed sheath under the clip.
func clipped(seen *witness.Seen, t answers, m given) []string {
	if len(t.Posts) != 2 {
		return nil
	}
	a, b := t.Posts[0].At, t.Posts[1].At
	deg := math.Atan2(b[1]-a[1], b[0]-a[0]) * 180 / math.Pi
	high, x, y := seen.Outer.Most((a[0]+b[0])/2, (a[1]+b[1])/2, m.clipLong/2, m.clipWide/2, deg)
	if gap := seen.Top + t.Boss.Sheet - high; gap < m.clearance-0.15 {
		return []string{fmt.Sprintf("the clip is %.2f mm over the sheath at (%.1f, %.1f), and %.2f mm are asked for", gap, x, y, m.clearance)}
	}
	return nil
}

// riveted holds the eyelets against where the formed sheet stands off the other half.
func riveted(seen *witness.Seen, drawing []byte, t answers, m given) (faults []string) {
	entities := witness.DXF(drawing)
	holes := witness.Circles(entities, "EYELETS")
	if len(holes) != len(t.Eyelets) || len(holes) < 3 {
		faults = append(faults, fmt.Sprintf("%d eyelets in the drawing, %d in the answer", len(holes), len(t.Eyelets)))
	}
	for i, h := range holes {
		x, y := h.Figures[10], h.Figures[20]
		free := min(seen.Plain.Nearest(x, y, 0.1), seen.Bossed.Nearest(x, y, 0.1)) - m.flange/2
		if free < m.room-cells-0.1 { // a cell, and 0.1 mm of height on a fillet's run-out
			faults = append(faults, fmt.Sprintf("the flange of eyelet %d at (%.1f, %.1f) is %.2f mm from where the sheets part, and %.2f mm are asked for", i+1, x, y, free, m.room))
		}
	}
	return faults
}

// TestWitness looks at the demo knives by their files alone.
func TestWitness(t *testing.T) {
	for name, m := range map[string]given{
		"thistle": {sheet: 2, clipLong: 76.2, clipWide: 14, clearance: 1, flange: 9.5, room: 0.5},
		"minnow":  {sheet: 2.032, clipLong: 57.15, clipWide: 12.7, clearance: 1, flange: 9.5, room: 0.5},
		"otter":   {sheet: 2.3622, clipLong: 60, clipWide: 14, clearance: 1, flange: 9.5, room: 0.5},
	} {
		t.Run(name, func(t *testing.T) {
			if name != "thistle" && !size.Full() {
				t.Skip("in full")
			}
			dir := t.TempDir()
			for _, file := range []string{name + ".toml", name + ".dxf"} {
				data, err := os.ReadFile(filepath.Join("../../testdata", file))
				if err != nil {
					t.Fatal(err)
				}
				if strings.HasSuffix(file, ".toml") {
					data = bare(string(data))
				}
				if err := os.WriteFile(filepath.Join(dir, file), data, 0o666); err != nil {
					t.Fatal(err)
				}
			}
			e, err := gather(dir, filepath.Join(dir, name+".toml"), m)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range e.faults() {
				t.Error(f)
			}
			e.spoil(t)
		})
	}
}

// spoil changes what was told, or what was found, in one way at a time: the witness has to find it.
func (e *evidence) spoil(t *testing.T) {
	for name, tt := range map[string]struct {
		spoil func(e *evidence)
		want  string
	}{
		"a clip much lower":             {func(e *evidence) { e.told.Boss.Sheet -= 12 }, "the clip is"},
		"flanges two millimetres wider": {func(e *evidence) { e.given.flange += 4 }, "the flange of eyelet"},
		"a knife half a millimetre thicker": {func(e *evidence) {
			thick := *e.seen
			thick.Passing = thick.Passing.Like(0)
			for n, z := range e.seen.Passing.Z {
				if z > 0 {
					thick.Passing.Z[n] = z + 0.5
				}
			}
			e.seen = &thick
		}, "draws freely, it is said"},
		"a bind that is none": {func(e *evidence) {
			e.told.Binds = append(e.told.Binds, struct {
				At    [2]float64 `json:"at_mm"`
				Depth float64    `json:"depth_mm"`
			}{Depth: 1})
		}, "it is said to bind"},
	} {
		spoilt := *e
		spoilt.told.Binds = slices.Clone(e.told.Binds)
		tt.spoil(&spoilt)
		if all := spoilt.faults(); !slices.ContainsFunc(all, func(f string) bool { return strings.HasPrefix(f, tt.want) }) {
			t.Errorf("%s: %q, want %q", name, all, tt.want)
		}
	}
}

// bare is a variant file without tape, marks and a short bed.
func bare(toml string) []byte {
	for table, keys := range map[string]string{
		"tape": "layers = 0", "whole": "bed = 600", "standoff": `mark = "no"`, "ramp": `mark = "no"`,
	} {
		head := "[" + table + "]\n"
		if strings.Contains(toml, head) {
			toml = strings.Replace(toml, head, head+keys+"\n", 1)
		} else {
			toml += "\n" + head + keys + "\n"
		}
	}
	return []byte(toml)
}
