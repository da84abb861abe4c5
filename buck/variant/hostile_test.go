package variant_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/buck/variant"
	"formbuck/testdata/hostile"
)

// bounded reads a variant file, and holds its faults to a line each.
func bounded(t *testing.T) func([]byte) error {
	return func(data []byte) error {
		_, err := decode(string(data))
		if err == nil {
			return nil
		}
		var faults variant.Faults
		if !errors.As(err, &faults) || len(faults) == 0 {
			t.Errorf("%v: no faults", err)
		}
		for _, f := range faults {
			if strings.ContainsAny(f.Error(), "\n\r\x1b\u202e\x00") {
				t.Errorf("%q is not plain", f.Error())
			}
		}
		return err
	}
}

// TestHostile reads damaged variant files: the starter and the demos'.
func TestHostile(t *testing.T) {
	starter, err := variant.Starter("otter")
	if err != nil {
		t.Fatal(err)
	}
	good := []string{string(starter), least}
	files, err := filepath.Glob(filepath.Join("..", "..", "testdata", "*.toml"))
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		good = append(good, string(text))
	}
	hostile.Run(t, 200, good, bounded(t))
}

// TestLarge reads what is made to take long: it is refused in time.
func TestLarge(t *testing.T) {
	var keys, tables strings.Builder
	for i := range 100_000 {
		fmt.Fprintf(&keys, "k%d = 1\n", i)
		fmt.Fprintf(&tables, "[t%d]\n", i)
	}
	for name, text := range map[string]string{
		"keys":          least + keys.String(),
		"keys that fit": least + keys.String()[:1<<16-200],
		"tables":        least + tables.String()[:1<<16-200],
		"one key":       least + strings.Repeat("handle.thickness = 2\n", 3000),
		"deep":          least + "name = " + strings.Repeat("[", 1<<16-200),
		"closed":        least + "name = " + strings.Repeat("[", 1<<15-200) + strings.Repeat("]", 1<<15-200),
		"inline":        least + "name = " + strings.Repeat("{a=", 21_000),
		"dots":          least + "a" + strings.Repeat(".a", 1<<15-200) + " = 1",
		"slips":         least + strings.Repeat("=\n", 32_000),
		"faults":        least + strings.Repeat("a b\n", 16_000),
		"one line":      least + "name = \"" + strings.Repeat("x", 1<<16-200) + "\"",
		"nothing":       strings.Repeat("\x00", 1<<16-200),
		"hands":         least + "hands = [" + strings.Repeat("\"x\",", 16_000) + "]",
		"too long":      strings.Repeat("#\n", 10<<20),
	} {
		t.Run(name, func(t *testing.T) {
			if err := hostile.Bounded(t, name, []byte(text), bounded(t)); err == nil {
				t.Error("taken")
			}
		})
	}
}
