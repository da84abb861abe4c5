package record_test

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"

	"formbuck/buck/record"

	"github.com/google/go-cmp/cmp"
)

// made is a record of three pieces with a digest each.
func made(handle, gauge, standoff, ramp, drain string) *record.Record {
	return &record.Record{
		Program: "1", Variant: "heron", Drawing: record.Drawing{File: "heron.dxf", SHA256: "d"},
		Keys: []record.Key{
			{Path: "handle.thickness", Value: handle, TOML: handle},
			{Path: "sheet.thickness", Value: gauge, TOML: gauge},
			{Path: "sheet.boss_thickness", Value: "0.9 of " + gauge},
		},
		Pieces: []record.Piece{
			{Name: "standoff", Hand: "right", Kind: "standoff", SHA256: standoff, Figure: "over the face", Value: float64(len(standoff))},
			{Name: "standoff", Hand: "left", Kind: "standoff", SHA256: standoff, Figure: "over the face", Value: float64(len(standoff))},
			{Name: "ramp", Hand: "any", Kind: "ramp", SHA256: ramp, Volume: 100 * float64(len(ramp))},
			{Name: "drain", Hand: "any", Kind: "drain", SHA256: drain},
		},
	}
}

func TestOneChange(t *testing.T) {
	r := record.Compare(made("22", "2", "aa", "b", "c"), made("24", "2", "aaa", "b", "c"), record.Trial{Changed: func(record.Change, []string) (map[string]string, error) {
		t.Error("one change needs no trying")
		return nil, nil
	}})
	want := []string{
		"standoff right, standoff left: 2.00 -> 3.00 mm over the face, because handle.thickness 22 -> 24",
		"still good: ramp, drain",
	}
	if diff := cmp.Diff(want, r.Lines()); diff != "" || !r.Changed() {
		t.Error(diff)
	}
}

// TestReasons has two changes: one that moves the standoff, one that cannot stand alone; the ramp changes only
// by both at once.
func TestReasons(t *testing.T) {
	var asked []string
	r := record.Compare(made("22", "2", "aa", "b", "c"), made("24", "3", "aaa", "bb", "c"), record.Trial{Changed: func(c record.Change, kinds []string) (map[string]string, error) {
		asked = append(asked, c.What)
		if !slices.Equal(kinds, []string{"standoff", "ramp"}) {
			t.Errorf("tries %v", kinds)
		}
		if c.What == "sheet.thickness" {
			return nil, errors.New("not alone")
		}
		return map[string]string{"standoff right": "x", "standoff left": "x", "ramp any": "b"}, nil
	}})
	want := []string{
		"standoff right, standoff left: 2.00 -> 3.00 mm over the face, because handle.thickness 22 -> 24",
		"ramp: 100.0 -> 200.0 mm3, because handle.thickness 22 -> 24, together with sheet.thickness 2 -> 3",
		"still good: drain",
	}
	if diff := cmp.Diff(want, r.Lines()); diff != "" || !slices.Equal(asked, []string{"handle.thickness", "sheet.thickness"}) {
		t.Error(diff, asked)
	}
}

// TestMarksDoNotCount compares two of a family, in which another name is engraved: the piece that is the same but for
// that is still good, and the name is no reason.
func TestMarksDoNotCount(t *testing.T) {
	older, newer := made("22", "2", "a", "b", "c"), made("24", "2", "aa", "b", "c")
	newer.Keys = append(newer.Keys, record.Key{Path: "name", Value: "otter", TOML: `"otter"`}, record.Key{Path: "ramp.mark", Value: "no", TOML: `"no"`})
	older.Keys = append(older.Keys, record.Key{Path: "name", Value: "heron"}, record.Key{Path: "ramp.mark", Value: "yes"})
	newer.Pieces[2].SHA256 = "marked otherwise"
	r := record.Compare(older, newer, record.Trial{Marked: func(keys, _ []string) (map[string]string, error) {
		if !slices.Equal(keys, []string{"name", "ramp.mark"}) {
			t.Errorf("tried with %v", keys)
		}
		return map[string]string{"standoff right": "aa", "standoff left": "aa", "ramp any": older.Pieces[2].SHA256}, nil
	}})
	want := []string{
		"standoff right, standoff left: 1.00 -> 2.00 mm over the face, because handle.thickness 22 -> 24",
		"still good: ramp, drain",
	}
	if diff := cmp.Diff(want, r.Lines()); diff != "" {
		t.Error(diff)
	}
}

func TestNewAndGone(t *testing.T) {
	older, newer := made("22", "2", "a", "b", "c"), made("22", "2", "a", "b", "c")
	newer.Drawing.SHA256 = "e"
	older.Pieces, newer.Pieces = older.Pieces[:3], newer.Pieces[1:]
	r := record.Compare(older, newer, record.Trial{})
	want := []string{
		"drain: was not made before, because the drawing changed", "standoff right: is no part of the job any more, because the drawing changed",
		"still good: standoff left, ramp",
	}
	if diff := cmp.Diff(want, r.Lines()); diff != "" {
		t.Error(diff)
	}
}

// TestSame tells that nothing changed, even where a value is written otherwise or another formbuck made it.
func TestSame(t *testing.T) {
	older, newer := made("22", "2", "a", "b", "c"), made("22", "2", "a", "b", "c")
	newer.Keys[0].TOML, newer.Program = `"22 mm"`, "2"
	if r := record.Compare(older, newer, record.Trial{}); r.Changed() || len(r.Lines()) != 1 {
		t.Errorf("%v", r.Lines())
	}
}

func TestRoundTrip(t *testing.T) {
	r := made("22", "2", "a", "b", "c")
	text, err := r.Encode()
	if err != nil {
		t.Fatal(err)
	}
	back, err := record.Decode(bytes.NewReader(text))
	if diff := cmp.Diff(r, back); err != nil || diff != "" {
		t.Error(err, diff)
	}
	if got := string(r.Source()); got != "name = \"heron\"\nhandle.thickness = 22\nsheet.thickness = 2\n" {
		t.Errorf("source %q", got)
	}
	for _, bad := range []string{"", "{", `{"format":7}`, "[]"} {
		if _, err := record.Decode(strings.NewReader(bad)); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
}

func FuzzDecode(f *testing.F) {
	text, _ := made("22", "2", "a", "b", "c").Encode()
	f.Add(string(text))
	f.Fuzz(func(_ *testing.T, text string) {
		if r, err := record.Decode(strings.NewReader(text)); err == nil {
			record.Compare(r, r, record.Trial{})
			r.Source()
		}
	})
}
