package buck_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// TestOutside builds a program of a module of its own against this one, as any Go programmer would, without a network: it
// makes the demo, and is refused the variant that binds on the cutting edge.
func TestOutside(t *testing.T) {
	if os.Getenv("FORMBUCK_OUTSIDE") == "" {
		t.Skip("links a program and makes a whole job: FORMBUCK_OUTSIDE=1 runs it")
	}
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	read := func(path string) string {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	module := regexp.MustCompile(`(?m)^module .*$`).ReplaceAllString(read(filepath.Join(root, "go.mod")), "module outside")
	write("go.mod", module+"\nrequire formbuck v0.0.0\nreplace formbuck => "+root+"\n")
	write("go.sum", read(filepath.Join(root, "go.sum")))
	write("main.go", read("testdata/outside/main.go"))
	run := func(name string, args ...string) (string, error) {
		cmd := exec.Command(name, args...)
		cmd.Dir, cmd.Env = dir, append(os.Environ(), "GOFLAGS=-mod=mod", "GOPROXY=off", "GOWORK=off")
		out, err := cmd.CombinedOutput()
		return string(out), err
	}
	if out, err := run("go", "build", "-o", "outside", "."); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	program := filepath.Join(dir, "outside")
	if out, err := run(program, filepath.Join(root, "testdata"), "thistle.toml", "job"); err != nil {
		t.Errorf("%v: %s", err, out)
	}
	for _, name := range []string{"thistle-ramp-any.stl", "thistle.3mf", "thistle-sheath.dxf", "index.html"} {
		if info, err := os.Stat(filepath.Join(dir, "job", name)); err != nil || info.Size() == 0 {
			t.Errorf("%v", err)
		}
	}
	write("short.toml", binding)
	write("otter.dxf", read(filepath.Join(root, "testdata", "otter.dxf")))
	out, err := run(program, ".", "short.toml", "refused")
	if err == nil || !strings.Contains(out, "short.toml:4:10: ramp.x: the sheath binds on the cutting edge") {
		t.Errorf("%v: %s", err, out)
	}
	if _, err := os.Stat(filepath.Join(dir, "refused")); err == nil {
		t.Error("something was written")
	}
}
