package anyknife_test

import (
	"bytes"
	"strings"
	"testing"

	"formbuck/buck/bucktest/anyknife"
	"formbuck/buck/variant"
	"formbuck/profile/dxf"
)

// TestFiles reads the files of many knives: each seed gives the same ones every time, and other seeds others; every drawing
// and every variant file is well-formed.
func TestFiles(t *testing.T) {
	seen := map[string]uint64{}
	kinds := map[string]int{}
	for seed := range uint64(200) {
		k := anyknife.New(seed)
		kinds[k.Kind]++
		drawing, toml := k.DXF(), k.TOML("knife.dxf")
		again := anyknife.New(seed)
		if !bytes.Equal(drawing, again.DXF()) || !bytes.Equal(toml, again.TOML("knife.dxf")) {
			t.Errorf("%s: other files the second time", k)
		}
		if other, ok := seen[string(drawing)]; ok {
			t.Errorf("seeds %d and %d are one drawing", other, seed)
		}
		seen[string(drawing)] = seed
		if _, err := dxf.Parse(drawing, "knife.dxf"); err != nil {
			t.Errorf("%s: %v", k, err)
		}
		if _, err := variant.Decode("knife.toml", bytes.NewReader(toml)); err != nil {
			t.Errorf("%s: %v", k, err)
		}
	}
	for kind, n := range kinds {
		if n < 200/9/3 {
			t.Errorf("only %d of 200 are of the kind %s", n, kind)
		}
	}
	if len(kinds) != 9 {
		t.Errorf("%d kinds", len(kinds))
	}
}

// TestAnswer answers a refusal with the key that it names first, and each once.
func TestAnswer(t *testing.T) {
	k := anyknife.New(2)
	refusal := "knife.dxf: which side the edge is on is not told: state drawing.edge; or drawing.tip"
	for _, want := range []string{"drawing.edge", "drawing.tip"} {
		key, ok := k.Answer(refusal)
		if !ok || key != want {
			t.Errorf("answered %q, want %q", key, want)
		}
		if !strings.Contains(string(k.TOML("knife.dxf")), strings.TrimPrefix(want, "drawing.")+" = ") {
			t.Errorf("%s is not in the file", want)
		}
	}
	if key, ok := k.Answer(refusal); ok {
		t.Errorf("answered %q a second time", key)
	}
}
