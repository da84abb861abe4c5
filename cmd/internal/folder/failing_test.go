package folder_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"formbuck/cmd/internal/folder"

	"github.com/google/go-cmp/cmp"
)

// TestEveryStepMayFail lets each step of a run go wrong in turn, once as an error and once as the
// death of the program. The folder must then hold the earlier job or the later one, whole, with the
// foreign file; after an error nothing else may lie about; after a death the next run must succeed
// and leave nothing either.
func TestEveryStepMayFail(t *testing.T) {
	ways := map[string]folder.Faulty{"exchange": {}, "renames": {NoExchange: true}}
	for way, pattern := range ways {
		for _, killed := range []bool{false, true} {
			for _, fresh := range []bool{false, true} {
				pattern.Killed = killed
				t.Run(fmt.Sprintf("%s killed=%v fresh=%v", way, killed, fresh), func(t *testing.T) {
					failAll(t, pattern, fresh)
				})
			}
		}
	}
}

func failAll(t *testing.T, pattern folder.Faulty, fresh bool) {
	for at := 1; ; at++ {
		f := pattern
		f.At = at
		if !failOnce(t, &f, fresh) {
			if at < 8 {
				t.Fatalf("only %d steps", at-1)
			}
			return
		}
	}
}

// failOnce runs with one failing step and reports whether the run was long enough to meet it.
func failOnce(t *testing.T, f *folder.Faulty, fresh bool) bool {
	t.Helper()
	root := t.TempDir()
	dir := filepath.Join(root, "parent", "job")
	before := map[string]string{}
	if !fresh {
		mustWrite(t, dir, earlier)
		put(t, filepath.Join(dir, "notes.txt"), "by hand")
		before = tree(t, root)
	}
	err := run(dir, f)
	if f.Steps < f.At {
		if err != nil {
			t.Fatalf("error %v without a failing step", err)
		}
		return false
	}
	if err == nil {
		t.Fatalf("step %d failed unnoticed", f.At)
	}
	after := tree(t, root)
	isOld, isNew := cmp.Equal(jobOf(after), jobOf(before)), cmp.Equal(jobOf(after), wantLater(fresh))
	gone := f.Killed && f.NoExchange && !fresh && len(jobOf(after)) == 0 // between the two renames
	if !isOld && !isNew && !gone {
		t.Fatalf("step %d, %s: neither old nor new:\n%s", f.At, f.Failed, cmp.Diff(before, after))
	}
	clean := cmp.Equal(after, before) || isNew && len(after) == len(wantLater(fresh))+2+1
	if !f.Killed && !clean && f.Failed != "remove" && f.Failed != "removeAll" {
		t.Fatalf("step %d, %s: left behind:\n%s", f.At, f.Failed, cmp.Diff(before, after))
	}
	mustWrite(t, dir, later)
	want := wantLater(fresh)
	got := tree(t, root)
	same(t, jobOf(got), want)
	same(t, len(got), len(want)+2+1) // the job, its two folders, the manifest, and no workspace
	return true
}

// reopen lets the next run clear up and do nothing else.
func reopen(t *testing.T, dir string) {
	t.Helper()
	job, err := folder.Open(dir, folder.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := job.Close(); err != nil {
		t.Fatal(err)
	}
}

// run is one run on the disk f.
func run(dir string, f *folder.Faulty) error {
	job, err := folder.OpenFaulty(dir, folder.Options{}, f)
	if err != nil {
		return err
	}
	_, err = job.Write(context.Background(), later)
	return errors.Join(err, job.Close())
}

func wantLater(fresh bool) map[string]string {
	want := of(later...)
	if !fresh {
		want["notes.txt"] = "by hand"
	}
	return want
}

// jobOf is what a tree shows of the job folder itself, without the manifest.
func jobOf(all map[string]string) map[string]string {
	prefix := filepath.Join("parent", "job") + string(filepath.Separator)
	job := map[string]string{}
	for name, data := range all {
		if len(name) > len(prefix) && name[:len(prefix)] == prefix && name[len(prefix):] != folder.ManifestName {
			job[name[len(prefix):]] = data
		}
	}
	return job
}

// TestLateFilesAreRescued puts files into the folder while a run is between looking at it and
// exchanging it.
func TestLateFilesAreRescued(t *testing.T) {
	for at := 1; at < 12; at++ {
		dir := filepath.Join(t.TempDir(), "job")
		mustWrite(t, dir, earlier)
		put(t, filepath.Join(dir, "notes.txt"), "by hand")
		f := &folder.Faulty{At: at, Before: func() {
			put(t, filepath.Join(dir, "late", "late.txt"), "late")
			put(t, filepath.Join(dir, "fresh.tmp"), "edited")
			if err := os.Rename(filepath.Join(dir, "fresh.tmp"), filepath.Join(dir, "notes.txt")); err != nil {
				t.Fatal(err)
			}
		}}
		if err := run(dir, f); err != nil {
			t.Fatalf("step %d: %v", at, err)
		}
		want := wantLater(false)
		want["notes.txt"], want["late"], want[filepath.Join("late", "late.txt")] = "edited", "folder", "late"
		same(t, look(t, dir), want)
	}
}

// TestStrandedFolderIsPutBack kills the run between the two renames that stand in for the exchange
// and looks at what the next Open alone restores.
func TestStrandedFolderIsPutBack(t *testing.T) {
	stranded := 0
	for at := 1; at < 30; at++ {
		dir := filepath.Join(t.TempDir(), "job")
		mustWrite(t, dir, earlier)
		f := &folder.Faulty{At: at, Killed: true, NoExchange: true}
		if err := run(dir, f); err == nil {
			break
		}
		if _, err := os.Stat(dir); err == nil {
			continue
		}
		stranded++
		reopen(t, dir)
		same(t, look(t, dir), of(earlier...))
	}
	same(t, stranded, 1)
}

// TestStrandedFolderIsKept lets the putting back fail too: closing the job must not clear away the
// workspace, which then holds the only copy of the earlier job.
func TestStrandedFolderIsKept(t *testing.T) {
	stranded := 0
	for at := 1; at < 30; at++ {
		dir := filepath.Join(t.TempDir(), "job")
		mustWrite(t, dir, earlier)
		err := run(dir, &folder.Faulty{At: at, Stuck: true, NoExchange: true})
		var f *folder.Fault
		if !errors.As(err, &f) || f.Kind != folder.Stranded {
			continue
		}
		stranded++
		reopen(t, dir)
		same(t, look(t, dir), of(earlier...))
	}
	same(t, stranded, 1)
}

// TestDiskFull: wherever the disk becomes full on the way, the run says so in one line that names the folder, the earlier
// job is there, whole and with the foreign file, nothing else lies about, and once there is room the next run succeeds.
func TestDiskFull(t *testing.T) {
	for _, noExchange := range []bool{false, true} {
		refused := 0
		for at := 1; ; at++ {
			root := t.TempDir()
			dir := filepath.Join(root, "parent", "job")
			mustWrite(t, dir, earlier)
			put(t, filepath.Join(dir, "notes.txt"), "by hand")
			before := tree(t, root)
			f := &folder.Faulty{At: at, Full: true, NoExchange: noExchange}
			err := run(dir, f)
			if f.Steps < at {
				break
			}
			if err == nil { // nothing was left to be written
				same(t, jobOf(tree(t, root)), wantLater(false))
				continue
			}
			refused++
			if !errors.Is(err, syscall.ENOSPC) || !strings.HasPrefix(err.Error(), dir) || !strings.HasSuffix(err.Error(), ": cannot write here: no space left on device") {
				t.Errorf("step %d: %q", at, err)
			}
			if diff := cmp.Diff(before, tree(t, root)); diff != "" {
				t.Errorf("step %d: not as it was:\n%s", at, diff)
			}
			mustWrite(t, dir, later)
			same(t, jobOf(tree(t, root)), wantLater(false))
		}
		if refused < 4 {
			t.Errorf("the disk was full %d times", refused)
		}
	}
}
