package main

import (
	"bytes"
	"errors"
	"io"
	"maps"
	"os"
	"path/filepath"
	"testing"

	"formbuck/cmd/internal/folder"
	"formbuck/testdata"
)

// demoFolder is a fresh folder that holds the demo's variant and drawing, in which the test runs.
func demoFolder(t *testing.T) {
	t.Helper()
	t.Chdir(t.TempDir())
	for _, name := range []string{demo, "thistle.dxf"} {
		data, err := testdata.FS.ReadFile(name)
		if err == nil {
			err = os.WriteFile(name, data, 0o666)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

// mustRun runs a command line that must succeed.
func mustRun(t *testing.T, args ...string) {
	t.Helper()
	var errs bytes.Buffer
	if status := run(args, io.Discard, &errs); status != exitOK {
		t.Fatalf("%v: status %d: %s", args, status, errs.String())
	}
}

// within are the digests of a folder's files by their names.
func within(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	for path, sum := range digests(t, dir) {
		all[filepath.Base(path)] = sum
	}
	return all
}

// TestMadeOverIsMadeFresh changes one key after the other, over the job before and in a fresh folder: both must hold the same
// bytes, whatever was taken from before.
func TestMadeOverIsMadeFresh(t *testing.T) {
	demoFolder(t)
	changes := []string{
		``, `handle.thickness = "24 mm"`, `drain.diameter = 6`, `hole.diameter = "6 mm"`, `blade.thickness = "4 mm"`, `standoff.mark = "no"`, ``,
	}
	pieces := []string{}
	if testing.Short() {
		changes, pieces = changes[:3], []string{"--piece", "standoff,drain,nub", "--hand", "right"}
	}
	for i, change := range changes {
		if err := os.WriteFile("v.toml", []byte("base = \"thistle.toml\"\nname = \"v\"\n"+change+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		fresh := "fresh" + string(rune('a'+i))
		mustRun(t, append([]string{"make", "v.toml", "-o", "over"}, pieces...)...)
		mustRun(t, append([]string{"make", "v.toml", "-o", fresh}, pieces...)...)
		over, want := within(t, "over"), within(t, fresh)
		if !maps.Equal(over, want) {
			t.Errorf("after %q: over the job before %v, fresh %v", change, over, want)
		}
	}
}

// TestAgain takes a picture again from where the program left it, and from nowhere else.
func TestAgain(t *testing.T) {
	demoFolder(t)
	order := []string{"make", "--piece", "nub", "-o", "job", "--force"}
	const name = "thistle-nub-any.png"
	path := filepath.Join("job", name)
	mustRun(t, order...)
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	g := again{dir: "job", program: "this"}
	if g.label("inputs", want) == "" || (again{dir: "job"}).label("inputs", want) != "" || g.label("", want) != "" {
		t.Error("a label stands for a program and inputs, and there is none without")
	}
	if g.earlier(name, "inputs") != nil {
		t.Error("another program's picture was taken")
	}
	if err := os.WriteFile(path, append(want, "damaged"...), 0o666); err != nil { // its label stays
		t.Fatal(err)
	}
	mustRun(t, order...)
	if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
		t.Errorf("a damaged picture was left as it was: %v", err)
	}
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
	mustRun(t, order...)
	if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, want) {
		t.Errorf("a picture that was taken away is not back: %v", err)
	}
}

// TestAgainNeedsAllThree has a label and changes one of what it stands for.
func TestAgainNeedsAllThree(t *testing.T) {
	dir := t.TempDir()
	g := again{dir: dir, program: "this"}
	target, err := folder.Open(dir, folder.Options{})
	if err != nil {
		t.Fatal(err)
	}
	file := folder.File{Name: "a.png", Data: []byte("drawn"), Label: g.label("inputs", []byte("drawn"))}
	_, err = target.Write(t.Context(), []folder.File{file})
	if err := errors.Join(err, target.Close()); err != nil {
		t.Fatal(err)
	}
	if g.earlier("a.png", "inputs") == nil {
		t.Skip("no labels on this file system")
	}
	other := again{dir: dir, program: "that"}
	if got := string(g.earlier("a.png", "inputs")); got != "drawn" {
		t.Errorf("took %q", got)
	}
	if g.earlier("a.png", "others") != nil || other.earlier("a.png", "inputs") != nil || g.earlier("b.png", "inputs") != nil {
		t.Error("took what was made of other inputs, by another program or not at all")
	}
	if err := os.WriteFile(filepath.Join(dir, "a.png"), []byte("drawm"), 0o666); err != nil {
		t.Fatal(err)
	}
	if g.earlier("a.png", "inputs") != nil {
		t.Error("took what was changed")
	}
}
