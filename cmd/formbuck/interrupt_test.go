package main

import (
	"bytes"
	"context"
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

// TestInterruptEndsReading interrupts work that never looks up: it ends at once where nothing is held, and where something
// is, when that is let go.
func TestInterruptEndsReading(t *testing.T) {
	for name, held := range map[string]time.Duration{"reading": 0, "writing": 300 * time.Millisecond} {
		var errs bytes.Buffer
		a := &app{out: &answer{to: &errs}, err: &errs}
		ctx, cancel := context.WithCancel(t.Context())
		began := time.Now()
		status := a.interruptible(ctx, func() int {
			if held > 0 {
				release := a.hold()
				time.AfterFunc(held, release)
			}
			cancel()
			<-t.Context().Done()
			return exitOK
		})
		if took := time.Since(began); status != exitFault || took < held || took > held+20*time.Second || errs.String() != "formbuck: interrupted\n" {
			t.Errorf("%s: exits %d after %v: %s", name, status, took, &errs)
		}
	}
	a := &app{}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if status := a.interruptible(ctx, func() int { return exitOther }); status != exitOther {
		t.Errorf("what had ended already exits %d", status)
	}
}
