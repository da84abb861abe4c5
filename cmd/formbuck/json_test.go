package main

import (
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// keysOf are the keys of an answer in their order; those that may be missing end in a question mark.
func keysOf(t reflect.Type) (keys []string) {
	for f := range fields(t) {
		name, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && name == "":
			inner := f.Type
			if inner.Kind() == reflect.Pointer {
				inner = inner.Elem()
			}
			keys = append(keys, keysOf(inner)...)
		case name == "" || name == "-":
		case strings.Contains(rest, "omitempty"):
			keys = append(keys, name+"?")
		default:
			keys = append(keys, name)
		}
	}
	return keys
}

func fields(t reflect.Type) func(func(reflect.StructField) bool) {
	return func(yield func(reflect.StructField) bool) {
		for i := range t.NumField() {
			if !yield(t.Field(i)) {
				return
			}
		}
	}
}

// TestJSONGuide compares the guide's table of answers with the types of the answers. With UPDATE set it rewrites the
// guide instead.
func TestJSONGuide(t *testing.T) {
	answers := map[string]any{
		"make": makeAnswer{}, "watch": makeAnswer{}, "compare": compareAnswer{}, "new": writtenAnswer{}, "profile": drawing{},
		"draw": drawAnswer{}, "layout": layoutAnswer{}, "fixture": fixtureAnswer{}, "batch": batchAnswer{}, "inspect": solid{}, "prove": proveEntry{},
		"version": versionAnswer{}, "completion": completionAnswer{}, "manual": writtenAnswer{},
	}
	const head = "| verb | keys of its answer |\n|---|---|\n"
	var real []string
	for _, c := range newRoot(&app{out: &answer{}}).Commands() {
		answer, known := answers[c.Name()]
		if !known {
			if c.Name() != "help" {
				t.Errorf("%s: its answer is not known to this test", c.Name())
			}
			continue
		}
		real = append(real, fmt.Sprintf("| `%s` | `%s` |", c.Name(), strings.Join(keysOf(reflect.TypeOf(answer)), "` `")))
	}
	const guide = "guide/json.md"
	data, err := os.ReadFile(guide)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(data), head)
	if !found {
		t.Fatal(guide + " has no table of answers")
	}
	shown, after, _ := strings.Cut(rest, "\n\n")
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(guide, []byte(before+head+strings.Join(real, "\n")+"\n\n"+after), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(strings.Split(shown, "\n"), real); diff != "" {
		t.Errorf("-%s +real; UPDATE=1 rewrites it\n%s", guide, diff)
	}
}
