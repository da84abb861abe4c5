package main

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"formbuck/testdata/size"
)

// kills is how often a run is killed: a few times, or as often as FORMBUCK_KILLS says.
func kills(t *testing.T, few int) int {
	t.Helper()
	if text := os.Getenv("FORMBUCK_KILLS"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	return few
}

// digests are the files under dir with their SHA-256; nil: there is no such folder.
func digests(t *testing.T, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		sum := sha256.Sum256(data)
		found[path] = hex.EncodeToString(sum[:])
		return err
	})
	if errors.Is(err, fs.ErrNotExist) && len(found) == 0 {
		return nil
	}
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// TestKill kills the whole program, with the signal that it cannot catch, at random moments of its run: every other
// time while it writes. One of two jobs whose files have the same names and other contents is to take the
// other's place. The folder must then hold the one or the other, whole, with a file of somebody else; and the
// next run must find its way and leave nothing but the folder.
func TestKill(t *testing.T) {
	random := rand.New(rand.NewPCG(22, 24))
	root := t.TempDir()
	dir := filepath.Join(root, "job")
	jobs := [2][]string{{"make", "--piece", "nub,drain", "-o", dir}, {"make", "--piece", "nub,drain", "--tolerance", "0.02", "-o", dir}}
	var whole [2]map[string]string
	var took time.Duration
	for i, args := range jobs {
		begun := time.Now()
		if out, err := exec.Command("formbuck", args...).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		took = time.Since(begun)
		if i == 0 {
			if err := os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("by hand"), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		whole[i] = digests(t, dir)
	}
	if len(whole[0]) != len(whole[1]) || maps.Equal(whole[0], whole[1]) {
		t.Fatalf("two jobs of %d and %d files, or the same", len(whole[0]), len(whole[1]))
	}
	holds, changed, killed := 1, 0, 0
	for range kills(t, size.Of(2, 4, 8)) {
		next := 1 - holds
		if killOnce(t, random, took, filepath.Join(root, ".formbuck-job", "new"), jobs[next]) {
			killed++
		}
		now := digests(t, dir)
		switch {
		case now == nil: // between two renames, where the file system knows no exchange
		case maps.Equal(now, whole[next]):
			holds, changed = next, changed+1
		case !maps.Equal(now, whole[holds]):
			t.Fatalf("neither the earlier nor the later job: %v", now)
		}
	}
	t.Logf("%d runs killed, of them with the later job in place %d", killed, changed)
	if killed == 0 {
		t.Error("no run was killed")
	}
	if out, err := exec.Command("formbuck", jobs[0]...).CombinedOutput(); err != nil {
		t.Fatalf("the next run: %v: %s", err, out)
	}
	if now := digests(t, dir); !maps.Equal(now, whole[0]) {
		t.Errorf("after the next run: %v", now)
	}
	if left := names(t, root); left != "job" {
		t.Errorf("left behind: %q", left)
	}
}

// killOnce starts a run and kills it: after any part of the time that a run takes or, every other time, soon after
// the folder in the making has come to be. It tells whether the run was still going.
func killOnce(t *testing.T, random *rand.Rand, took time.Duration, making string, args []string) bool {
	t.Helper()
	cmd := exec.Command("formbuck", args...)
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- cmd.Wait() }()
	wait := time.Duration(random.Int64N(int64(took)))
	if random.IntN(2) == 0 {
		wait = time.Duration(random.Int64N(int64(15 * time.Millisecond)))
		for range int(2 * took / time.Millisecond) {
			if _, err := os.Stat(making); err == nil {
				break
			}
			time.Sleep(time.Millisecond)
		}
	}
	select {
	case err := <-ended:
		if err != nil {
			t.Fatal(err)
		}
		return false
	case <-time.After(wait):
	}
	if err := cmd.Process.Kill(); err != nil && !errors.Is(err, os.ErrProcessDone) {
		t.Fatal(err)
	}
	return <-ended != nil
}
