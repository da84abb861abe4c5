package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"formbuck": main, "formbuck-knives": tryKnives})
}

// TestScripts runs every script in testdata/script against the whole program. Beside the usual
// commands a script may say "status N formbuck ...", which checks the exit status itself, and
// "replace OLD NEW FILE", which changes a text in a file, and "part KIND FILE", which writes a print
// file, and "await FILE TEXT", which waits until a text stands in a file. $DEMO holds the demo knives.
func TestScripts(t *testing.T) {
	demo, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       os.Getenv("UPDATE") != "",
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"status": status, "replace": replace, "part": part, "await": await},
		Setup: func(e *testscript.Env) error {
			e.Setenv("DEMO", demo)
			return nil
		},
	})
}

// status runs a command and checks its exit status.
func status(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N command...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

// replace changes a text that must stand in a file exactly once.
func replace(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: replace OLD NEW FILE")
	}
	path := ts.MkAbs(args[2])
	data, err := os.ReadFile(path)
	ts.Check(err)
	if n := strings.Count(string(data), args[0]); n != 1 {
		ts.Fatalf("%q stands %d times in %s", args[0], n, args[2])
	}
	ts.Check(os.WriteFile(path, []byte(strings.Replace(string(data), args[0], args[1], 1)), 0o666))
}

// await waits until a text stands in a file that another program writes.
func await(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: await FILE TEXT")
	}
	const pause, most = 10 * time.Millisecond, 6000 // a minute, for a machine that is busy
	for range most {
		if data, err := os.ReadFile(ts.MkAbs(args[0])); err == nil && strings.Contains(string(data), args[1]) {
			return
		}
		time.Sleep(pause)
	}
	ts.Fatalf("%q does not come to stand in %s", args[1], args[0])
}
