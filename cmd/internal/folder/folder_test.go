package folder_test

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/cmd/internal/folder"

	"github.com/google/go-cmp/cmp"
)

// earlier and later are two jobs that share one file, differ in one and have one each of their own.
var (
	earlier = []folder.File{file("boss.stl", "boss"), file("ramp.stl", "low ramp"), file("papers/card.txt", "card")}
	later   = []folder.File{file("boss.stl", "boss"), file("ramp.stl", "high ramp"), file("nub.stl", "nub")}
)

func file(name, data string) folder.File { return folder.File{Name: name, Data: []byte(data)} }

// tree is all that lies under dir: name to content, links to what they point at.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(full string, d fs.DirEntry, err error) error {
		if err != nil || full == dir {
			return err
		}
		name, _ := filepath.Rel(dir, full)
		switch {
		case d.IsDir():
			found[name] = "folder"
			return nil
		case d.Type()&fs.ModeSymlink != 0:
			target, err := os.Readlink(full)
			found[name] = "-> " + target
			return err
		}
		data, err := os.ReadFile(full)
		found[name] = string(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// of is the tree that a job alone leaves behind, without its manifest.
func of(files ...folder.File) map[string]string {
	want := map[string]string{}
	for _, f := range files {
		want[filepath.FromSlash(f.Name)] = string(f.Data)
		if dir := filepath.Dir(f.Name); dir != "." {
			want[dir] = "folder"
		}
	}
	return want
}

// look is the tree under dir without the manifest, which must be there.
func look(t *testing.T, dir string) map[string]string {
	t.Helper()
	found := tree(t, dir)
	if found[folder.ManifestName] == "" {
		t.Fatalf("%s has no manifest", dir)
	}
	delete(found, folder.ManifestName)
	return found
}

func put(t *testing.T, path, data string) {
	t.Helper()
	if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o777), os.WriteFile(path, []byte(data), 0o666)); err != nil {
		t.Fatal(err)
	}
}

// write is one whole run.
func write(path string, opt folder.Options, files []folder.File) (folder.Report, error) {
	job, err := folder.Open(path, opt)
	if err != nil {
		return folder.Report{}, err
	}
	r, err := job.Write(context.Background(), files)
	return r, errors.Join(err, job.Close())
}

func mustWrite(t *testing.T, path string, files []folder.File) folder.Report {
	t.Helper()
	r, err := write(path, folder.Options{}, files)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// wantFault checks the kind of an error and that it is one line.
func wantFault(t *testing.T, err error, kind folder.Kind) {
	t.Helper()
	var f *folder.Fault
	if !errors.As(err, &f) || f.Kind != kind {
		t.Fatalf("error %v, want a fault of kind %d", err, kind)
	}
	if strings.Contains(f.Error(), "\n") {
		t.Errorf("%q is more than a line", f)
	}
}

func same(t *testing.T, got, want any) {
	t.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got\n%s", diff)
	}
}

func TestWriteMakesTheFolderAndItsParents(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "orders", "Jagd-Messer für Ö", "out")
	r := mustWrite(t, dir, earlier)
	same(t, r, folder.Report{Written: []string{"boss.stl", "papers/card.txt", "ramp.stl"}})
	same(t, look(t, dir), of(earlier...))
	same(t, len(tree(t, root)), 3+5) // the parents, the folder's files and its manifest: nothing else
}

func TestWriteReplacesTheEarlierJob(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	mustWrite(t, dir, earlier)
	r := mustWrite(t, dir, later)
	same(t, r, folder.Report{
		Written: []string{"nub.stl", "ramp.stl"}, Unchanged: []string{"boss.stl"}, Removed: []string{"papers/card.txt"},
	})
	same(t, look(t, dir), of(later...))
}

func TestWriteTouchesNothingWhenNothingDiffers(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	mustWrite(t, dir, earlier)
	before, err := os.Stat(dir)
	if err != nil {
		t.Fatal(err)
	}
	r := mustWrite(t, dir, earlier)
	after, err := os.Stat(dir)
	if err != nil {
		t.Fatal(err)
	}
	if !os.SameFile(before, after) || len(r.Written) > 0 {
		t.Errorf("the folder was exchanged for nothing: %+v", r)
	}
}

func TestManifestIsTheSameWhateverTheOrder(t *testing.T) {
	root := t.TempDir()
	a, b := filepath.Join(root, "a"), filepath.Join(root, "b")
	mustWrite(t, a, earlier)
	mustWrite(t, b, []folder.File{earlier[2], earlier[0], earlier[1]})
	same(t, tree(t, a), tree(t, b))
}

func TestForeignFilesSurvive(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "job")
	mustWrite(t, dir, earlier)
	put(t, filepath.Join(dir, "notes.txt"), "by hand")
	put(t, filepath.Join(dir, "sliced", "boss.gcode"), "G1")
	put(t, filepath.Join(dir, "papers", "own.txt"), "own")
	if err := errors.Join(os.Symlink("notes.txt", filepath.Join(dir, "link")), os.Mkdir(filepath.Join(dir, "empty"), 0o750)); err != nil {
		t.Fatal(err)
	}
	mustWrite(t, dir, later)
	want := of(later...)
	want["notes.txt"], want["link"], want["empty"] = "by hand", "-> notes.txt", "folder"
	want["sliced"], want[filepath.Join("sliced", "boss.gcode")] = "folder", "G1"
	want["papers"], want[filepath.Join("papers", "own.txt")] = "folder", "own"
	same(t, look(t, dir), want)
	same(t, len(tree(t, root)), len(want)+2)
}

func TestForeignFilesAreNotOverwritten(t *testing.T) {
	tests := map[string]struct {
		spoil func(dir string)
		kind  folder.Kind
		force bool // whether force gets past it
	}{
		"a file of others in the way":   {func(d string) { put(t, filepath.Join(d, "nub.stl"), "mine") }, folder.Foreign, true},
		"a file changed since":          {func(d string) { put(t, filepath.Join(d, "ramp.stl"), "filed") }, folder.Changed, true},
		"a folder in the way":           {func(d string) { put(t, filepath.Join(d, "nub.stl", "x"), "x") }, folder.Blocked, false},
		"a link in the way":             {func(d string) { _ = os.Symlink("elsewhere", filepath.Join(d, "nub.stl")) }, folder.Foreign, true},
		"a manifest that is no JSON":    {func(d string) { put(t, filepath.Join(d, folder.ManifestName), "{") }, folder.BadManifest, true},
		"a manifest with unknown words": {func(d string) { put(t, filepath.Join(d, folder.ManifestName), `{"x":1}`) }, folder.BadManifest, true},
		"no manifest any more":          {func(d string) { _ = os.Remove(filepath.Join(d, folder.ManifestName)) }, folder.Foreign, true},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "job")
			mustWrite(t, dir, earlier)
			test.spoil(dir)
			before := tree(t, dir)
			_, err := write(dir, folder.Options{}, later)
			wantFault(t, err, test.kind)
			same(t, tree(t, dir), before)
			_, err = write(dir, folder.Options{Force: true}, later)
			if !test.force {
				wantFault(t, err, test.kind)
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range later {
				same(t, look(t, dir)[f.Name], string(f.Data))
			}
		})
	}
}

func TestEveryConflictIsNamed(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	put(t, filepath.Join(dir, "boss.stl"), "mine")
	put(t, filepath.Join(dir, "nub.stl"), "mine")
	job, err := folder.Open(dir, folder.Options{})
	if err != nil {
		t.Fatal(err)
	}
	_, err = job.Write(context.Background(), later)
	if err := job.Close(); err != nil {
		t.Fatal(err)
	}
	var many interface{ Unwrap() []error }
	if !errors.As(err, &many) || len(many.Unwrap()) != 2 {
		t.Fatalf("error %v, want two", err)
	}
	for i, name := range []string{"boss.stl", "nub.stl"} {
		var f *folder.Fault
		if !errors.As(many.Unwrap()[i], &f) || f.Path != filepath.Join(dir, name) || f.Kind != folder.Foreign {
			t.Errorf("fault %d is %v, want %s", i, many.Unwrap()[i], name)
		}
	}
}

func TestChangedFilesOfNoUseAreKept(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	mustWrite(t, dir, earlier)
	put(t, filepath.Join(dir, "papers", "card.txt"), "with my notes")
	r := mustWrite(t, dir, later)
	same(t, r.Kept, []string{"papers/card.txt"})
	same(t, look(t, dir)[filepath.Join("papers", "card.txt")], "with my notes")
}

func TestWriteKeepsMode(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	mustWrite(t, dir, earlier)
	if err := os.Chmod(dir, 0o750); err != nil {
		t.Fatal(err)
	}
	mustWrite(t, dir, later)
	if info, err := os.Stat(dir); err != nil || info.Mode().Perm() != 0o750 {
		t.Errorf("mode %v %v, want 0750", info.Mode(), err)
	}
}

func TestOpenRefuses(t *testing.T) {
	root := t.TempDir()
	put(t, filepath.Join(root, "plain"), "x")
	if err := errors.Join(os.Mkdir(filepath.Join(root, "shut"), 0o555), os.Symlink("nowhere", filepath.Join(root, "loose")), os.Mkdir(filepath.Join(root, "real"), 0o777), os.Symlink("real", filepath.Join(root, "link"))); err != nil {
		t.Fatal(err)
	}
	tests := map[string]folder.Kind{
		"plain":        folder.NotFolder,
		"plain/inside": folder.Unwritable, // the system says that plain is not a directory
		"shut":         folder.ReadOnly,
		"loose":        folder.Link,
		"link":         folder.Link,
	}
	before := tree(t, root)
	for name, kind := range tests {
		_, err := folder.Open(filepath.Join(root, name), folder.Options{})
		wantFault(t, err, kind)
	}
	_, err := folder.Open("/", folder.Options{})
	wantFault(t, err, folder.Root)
	same(t, tree(t, root), before)
}

func TestNamesThatLeaveTheFolder(t *testing.T) {
	for _, name := range []string{"", ".", "../x", "/x", "a/../b", "a//b", folder.ManifestName} {
		_, err := write(filepath.Join(t.TempDir(), "job"), folder.Options{}, []folder.File{file(name, "")})
		wantFault(t, err, folder.BadName)
	}
	_, err := write(filepath.Join(t.TempDir(), "job"), folder.Options{}, []folder.File{file("a", ""), file("a", "")})
	wantFault(t, err, folder.BadName)
}

func TestSecondRunIsRefused(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "deep", "job")
	first, err := folder.Open(dir, folder.Options{})
	if err != nil {
		t.Fatal(err)
	}
	_, err = folder.Open(dir, folder.Options{})
	wantFault(t, err, folder.InUse)
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	same(t, tree(t, root), map[string]string{}) // nothing written: no folder, no parent, no workspace
	mustWrite(t, dir, earlier)
}

// TestSideBySide writes many jobs at once below folders that are not there yet.
func TestSideBySide(t *testing.T) {
	for range 20 {
		root := t.TempDir()
		errs := make(chan error, 8)
		for n := range cap(errs) {
			go func() {
				_, err := write(filepath.Join(root, "a", "b", fmt.Sprint(n)), folder.Options{}, earlier)
				errs <- err
			}()
		}
		for range cap(errs) {
			if err := <-errs; err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestInterruptedWriteLeavesTheEarlierJob(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "job")
	mustWrite(t, dir, earlier)
	before := tree(t, root)
	job, err := folder.Open(dir, folder.Options{})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = job.Write(ctx, later)
	wantFault(t, err, folder.Interrupted)
	if err := job.Close(); err != nil {
		t.Fatal(err)
	}
	same(t, tree(t, root), before)
}

// TestOpenFromWithin calls the program from within the job folder, or from deeper down: an exchange
// would leave the caller in a folder that is gone.
func TestOpenFromWithin(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	mustWrite(t, dir, earlier)
	for _, here := range []string{dir, filepath.Join(dir, "papers")} {
		t.Chdir(here)
		_, err := folder.Open(dir, folder.Options{})
		wantFault(t, err, folder.Within)
	}
	same(t, look(t, dir), of(earlier...))
}
