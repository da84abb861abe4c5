package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
)

// TestEveryVerb: every verb takes --json, --quiet and --verbose, and has a page in the manual.
func TestEveryVerb(t *testing.T) {
	root := newRoot(&app{out: &answer{to: &bytes.Buffer{}}, err: &bytes.Buffer{}})
	verbs := 0
	dir := t.TempDir()
	if _, err := manual(root, dir, false); err != nil {
		t.Fatal(err)
	}
	for _, c := range root.Commands() {
		if c.Name() == "help" {
			continue
		}
		verbs++
		if c.Flags().Lookup("json") == nil {
			t.Errorf("%s: no --json", c.Name())
		}
		for _, name := range []string{"quiet", "verbose"} {
			if c.InheritedFlags().Lookup(name) == nil {
				t.Errorf("%s: no --%s", c.Name(), name)
			}
		}
		text, err := os.ReadFile(filepath.Join(dir, pageName(c)+".1"))
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range []string{".TH FORMBUCK\\-" + strings.ToUpper(c.Name()) + " 1", ".SH SYNOPSIS", ".SH EXIT STATUS", `\-\-json`, `\-q, \-\-quiet`} {
			if !strings.Contains(string(text), want) {
				t.Errorf("%s: its page has no %q", c.Name(), want)
			}
		}
		if c.Example != "" && !strings.Contains(string(text), strings.TrimSpace(roff(c.Example))) {
			t.Errorf("%s: its page has no examples", c.Name())
		}
	}
	if verbs < 10 {
		t.Errorf("%d verbs", verbs)
	}
}

func TestRoff(t *testing.T) {
	if got, want := roff(".SH a\n'b c-d \\e"), "\\&.SH a\n\\&'b c\\-d \\ee"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestColour: a fault is red and a warning yellow where colours are wanted, and plain elsewhere; NO_COLOR and a
// terminal that is dumb want none, and neither does a file.
func TestColour(t *testing.T) {
	for _, on := range []bool{true, false} {
		var b bytes.Buffer
		a := &app{err: &b, colour: on}
		a.warn("w")
		a.complain(os.ErrClosed)
		want := "formbuck: warning: w\nformbuck: file already closed\n"
		if on {
			want = "\x1b[33mformbuck: warning:\x1b[0m w\n\x1b[31mformbuck:\x1b[0m file already closed\n"
		}
		if b.String() != want {
			t.Errorf("colour %v: %q", on, b.String())
		}
	}
	file, err := os.Create(filepath.Join(t.TempDir(), "out"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close() //nolint:errcheck // nothing is written
	device, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer device.Close() //nolint:errcheck // nothing is written
	t.Setenv("TERM", "xterm")
	t.Setenv("NO_COLOR", "")
	if colourful(file) || colourful(&bytes.Buffer{}) || !colourful(device) {
		t.Error("a file is taken for a terminal, or a device is not")
	}
	t.Setenv("NO_COLOR", "1")
	if colourful(device) || !terminal(device) {
		t.Error("NO_COLOR is not heeded, or takes the progress away too")
	}
	t.Setenv("TERM", "dumb")
	if terminal(device) {
		t.Error("a dumb terminal gets more than plain lines")
	}
}

// shared is a buffer that two may write to.
type shared struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *shared) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *shared) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// TestProgress: work of more than a second is told, once it is at an end nothing is left of that, and the answer comes
// after it; quick work is not told.
func TestProgress(t *testing.T) {
	if testing.Short() {
		t.Skip("takes two seconds")
	}
	var out shared
	a := &app{out: &answer{to: &out}, err: &out, progress: &progress{to: &out}}
	a.out.before = a.progress.hush
	a.load = func(order) (work, error) {
		return &bench{during: func() {
			for range 100 {
				if time.Sleep(50 * time.Millisecond); strings.Contains(out.String(), ", 1 s") {
					return
				}
			}
		}}, nil
	}
	t.Chdir(t.TempDir())
	if status := execute(context.Background(), a, []string{"make"}); status != 0 {
		t.Fatalf("status %d: %s", status, out.String())
	}
	if !regexp.MustCompile(`(?s)^(\r\x1b\[Kformbuck make, [0-9]+ s)+\r\x1b\[K[^\r]*formbuck: warning: the throat is short\n.*1 file written\n$`).MatchString(out.String()) {
		t.Errorf("%q", out.String())
	}
	out.b.Reset()
	if status := execute(context.Background(), a, []string{"version"}); status != 0 || strings.Contains(out.String(), "\r") {
		t.Errorf("status %d: %q", status, out.String())
	}
}

// TestQuiet: --quiet leaves the faults, --verbose adds what was measured; together they are misuse.
func TestQuiet(t *testing.T) {
	for _, tt := range []struct {
		flag, out, errs string
		status          int
	}{
		{"--quiet", `^$`, `^$`, 0},
		{"-v", `(?s)^ piece.*1 file written\n$`, `(?s)warning: the throat is short\n.*measured something\n.*took [0-9.]+ s\n$`, 0},
		{"-qv", `^$`, `^formbuck: --quiet and --verbose exclude each other`, 2},
	} {
		t.Run(tt.flag, func(t *testing.T) {
			t.Chdir(t.TempDir())
			status, out, errs := try(t, &bench{}, tt.flag)
			if status != tt.status || !regexp.MustCompile(tt.out).MatchString(out) || !regexp.MustCompile(tt.errs).MatchString(errs) {
				t.Errorf("status %d\n%q\n%q", status, out, errs)
			}
		})
	}
}

// TestCompletion asks what a shell completes arguments and flags by.
func TestCompletion(t *testing.T) {
	for words, want := range map[string]string{
		"make": "toml\n:8\n", "inspect": "stl\n3mf\n:8\n", "profile": "dxf\n:8\n", "batch --shop": "toml\n:8\n",
		"make --output": ":16\n", "new": ":4\n", "manual": ":16\n", "completion": "bash\nfish\npowershell\nzsh\n:4\n",
	} {
		var out, errs bytes.Buffer
		status := run(append(append([]string{"__complete"}, strings.Fields(words)...), ""), &out, &errs)
		if status != exitOK || out.String() != want {
			t.Errorf("%s: exits %d, %q, want %q", words, status, out.String(), want)
		}
	}
}
