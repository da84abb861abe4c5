package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// TestNothingUnseenIsSaid has escape sequences and turned text in whatever is said, as in names of layers and files: a
// terminal is shown them, and obeys none. JSON is read back as it was.
func TestNothingUnseenIsSaid(t *testing.T) {
	const bad = "LAYER\x1b[2J\u202egnp.\x07\u009b\xff\rend"
	const good = `LAYER\x1b[2J\u202egnp.\a\u009b\xff\rend`
	var out, errs bytes.Buffer
	a := &app{out: &answer{to: &out}, err: &errs, verbose: true}
	a.printf("%s\tone\n", bad)
	a.done("%s\n", bad)
	a.warn(bad)
	a.notes(bad)
	if want := good + "\tone\n" + good + "\n"; out.String() != want {
		t.Errorf("said %q, want %q", out.String(), want)
	}
	if want := "formbuck: warning: " + good + "\nformbuck: " + good + "\n"; errs.String() != want {
		t.Errorf("said %q, want %q", errs.String(), want)
	}
	out.Reset()
	valid := strings.ToValidUTF8(bad, "?")
	if err := a.answerJSON(map[string]string{"layer": valid}); err != nil {
		t.Fatal(err)
	}
	var back map[string]string
	if err := json.Unmarshal(out.Bytes(), &back); err != nil || back["layer"] != valid || bytes.ContainsFunc(out.Bytes(), unseen) {
		t.Errorf("%q is read as %q: %v", out.String(), back["layer"], err)
	}
}
