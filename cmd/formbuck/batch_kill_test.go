package main

import (
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"formbuck/testdata/size"
)

// TestBatchKilled kills a batch at random moments, lets it go on, and finds the same bytes as where it was let run.
func TestBatchKilled(t *testing.T) {
	if testing.Short() {
		t.Skip("run in full")
	}
	root := t.TempDir()
	for name, text := range map[string]string{
		"shop.toml": "[[sheet]]\ncolour = \"moss\"\ngauge = 2\nwidth = 610\nheight = 610\n",
		"week.csv":  "order,variant,hand,colour,quantity\n1,thistle.toml,plain,moss,1\n2,minnow.toml,plain,moss,2\n",
	} {
		if err := os.WriteFile(filepath.Join(root, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"thistle.toml", "thistle.dxf", "minnow.toml", "minnow.dxf"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", name))
		if err == nil {
			err = os.WriteFile(filepath.Join(root, name), data, 0o666)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	run := func(dir string) {
		t.Helper()
		if out, err := exec.Command("formbuck", "batch", filepath.Join(root, "week.csv"), "-o", filepath.Join(root, dir)).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
	}
	within := func(dir string) map[string]string {
		found := make(map[string]string)
		for path, sum := range digests(t, filepath.Join(root, dir)) {
			found[strings.TrimPrefix(path, filepath.Join(root, dir))] = sum
		}
		return found
	}
	begun := time.Now()
	run("whole")
	took := time.Since(begun)
	random := rand.New(rand.NewPCG(9, 9))
	killed := 0
	for range min(kills(t, size.Or(2, 4)), 4) {
		cmd := exec.Command("formbuck", "batch", filepath.Join(root, "week.csv"), "-o", filepath.Join(root, "broken"))
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration((0.1 + 0.5*random.Float64()) * float64(took)))
		if err := cmd.Process.Kill(); err == nil {
			killed++
		}
		_ = cmd.Wait() // of a killed process: an error by design
	}
	if killed == 0 {
		t.Fatal("no run was killed")
	}
	run("broken")
	want, got := within("whole"), within("broken")
	if len(want) < 30 || !maps.Equal(want, got) {
		t.Errorf("%d files of a batch that was let run, %d of one that was killed %d times, or others", len(want), len(got), killed)
	}
}
