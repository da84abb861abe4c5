package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// names lists a folder.
func names(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range entries {
		all = append(all, e.Name())
	}
	return strings.Join(all, " ")
}

// TestInterrupt interrupts the whole program earlier and later in its run. The folder must then hold
// the earlier job, or the new one if the program was quicker, and nothing may lie beside it.
func TestInterrupt(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	root := t.TempDir()
	dir := filepath.Join(root, "job")
	command := func(piece string) *exec.Cmd { return exec.Command("formbuck", "make", "--piece", piece, "-o", dir) }
	if out, err := command("nub").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	earlier := names(t, dir)
	stopped := 0
	for wait := 20 * time.Millisecond; ; wait *= 2 {
		cmd := command("drain")
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(wait)
		if err := cmd.Process.Signal(os.Interrupt); err != nil && !errors.Is(err, os.ErrProcessDone) {
			t.Fatal(err)
		}
		err := cmd.Wait()
		if left := names(t, root); left != "job" {
			t.Fatalf("after %v: left behind %q", wait, left)
		}
		if err == nil {
			break
		}
		stopped++
		if now := names(t, dir); now != earlier {
			t.Fatalf("after %v: %q, want %q", wait, now, earlier)
		}
	}
	if now := names(t, dir); now == earlier || stopped == 0 {
		t.Errorf("%q after %d interrupted runs", now, stopped)
	}
}
