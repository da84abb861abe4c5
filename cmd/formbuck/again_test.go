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
	"formbuck/testdata/size"
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
		``, `handle.thickness = "24 mm"`, `drain.diameter = 6`, ``, `hole.diameter = "6 mm"`, `blade.thickness = "4 mm"`, `standoff.mark = "no"`, ``,
	}[:size.Of(3, 4, 8)]
	pieces := []string{}
	if !size.Full() {
		pieces = []string{"--piece", "standoff,drain,nub", "--hand", "right"}
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
	if err := os.WriteFile(path, append(want, "damaged"...), 0o666); err != nil {
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

// TestAgainNeedsAllThree changes one after the other what a file must be to be taken again: of the same program, of the same
// inputs, as it was written.
func TestAgainNeedsAllThree(t *testing.T) {
	dir := t.TempDir()
	open := func() *folder.Job {
		job, err := folder.Open(dir, folder.Options{})
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() {
			if err := job.Close(); err != nil {
				t.Error(err)
			}
		})
		return job
	}
	made := func(program string) again { return again{program: func() string { return program }} }
	this, that, none := made("this"), made("that"), made("")
	if this.madeOf("inputs") == "" || none.madeOf("inputs") != "" || this.madeOf("") != "" || (again{}).madeOf("inputs") != "" {
		t.Error("a digest stands for a program and inputs, and there is none without")
	}
	first := open()
	file := folder.File{Name: "a.png", Data: []byte("drawn"), MadeOf: this.madeOf("inputs")}
	_, err := first.Write(t.Context(), []folder.File{file, {Name: "b.png", Data: []byte("drawn")}})
	if err := errors.Join(err, first.Close()); err != nil {
		t.Fatal(err)
	}
	this.job = open()
	that.job, none.job = this.job, this.job
	if got := string(this.earlier("a.png", "inputs")); got != "drawn" {
		t.Errorf("took %q", got)
	}
	for name, got := range map[string][]byte{
		"other inputs": this.earlier("a.png", "others"), "another program": that.earlier("a.png", "inputs"),
		"no program": none.earlier("a.png", "inputs"), "unknown inputs": this.earlier("b.png", "inputs"),
		"no inputs": this.earlier("b.png", ""), "no file": this.earlier("c.png", "inputs"),
	} {
		if got != nil {
			t.Errorf("%s: took %q", name, got)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "a.png"), []byte("drawm"), 0o666); err != nil {
		t.Fatal(err)
	}
	if this.earlier("a.png", "inputs") != nil {
		t.Error("took what was changed")
	}
}
