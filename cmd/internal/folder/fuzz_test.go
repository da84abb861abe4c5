package folder_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"formbuck/cmd/internal/folder"

	"github.com/google/go-cmp/cmp"
)

// Whatever the manifest: an error or its files, and no panic.
func FuzzManifest(f *testing.F) {
	f.Add([]byte(`{"files":[{"name":"a.stl","sha256":"00"}]}`))
	f.Add([]byte("{}{}"))
	f.Fuzz(func(_ *testing.T, data []byte) { _ = folder.ReadManifest(data) })
}

// travelling lays a tree as a clone or an archive can bring it: a job folder and what has the name
// of its workspace, in which, by the bits of kinds, lie folders, files and links that lead out.
func travelling(t *testing.T, root, manifest string, kinds uint16) (job string) {
	t.Helper()
	put(t, filepath.Join(root, "beside", "notes.txt"), "kept")
	put(t, filepath.Join(root, ".bashrc"), "kept")
	job = filepath.Join(root, "clone", "job")
	work := filepath.Join(root, "clone", ".formbuck-job")
	if err := errors.Join(os.MkdirAll(work, 0o777), os.Chmod(work, 0o700)); err != nil {
		t.Fatal(err)
	}
	ways := []func() error{
		func() error { return os.MkdirAll(job, 0o777) },
		func() error { return os.Symlink("../beside", job) },
		func() error { return os.Symlink("../../beside", filepath.Join(job, "papers")) },
		func() error { return os.Symlink("../../.bashrc", filepath.Join(job, "boss.stl")) },
		func() error { return os.WriteFile(filepath.Join(job, folder.ManifestName), []byte(manifest), 0o600) },
		func() error { return os.Symlink("../../beside", filepath.Join(work, "old")) },
		func() error { return os.Symlink("../../beside", filepath.Join(work, "new")) },
		func() error { return os.MkdirAll(filepath.Join(work, "old", "papers"), 0o777) },
		func() error { return os.WriteFile(filepath.Join(work, "old", "0"), []byte("taken"), 0o600) },
		func() error { return os.WriteFile(filepath.Join(work, "undo.json"), []byte(manifest), 0o600) },
		func() error { return os.WriteFile(filepath.Join(work, "made-here-1"), nil, 0o600) },
		func() error { return os.Symlink("../../.bashrc", filepath.Join(work, "made-here-2")) },
		func() error { return os.Symlink("../../beside", filepath.Join(work, "late")) },
	}
	for i, way := range ways {
		if kinds&(1<<i) != 0 {
			_ = way() // some shut each other out
		}
	}
	return job
}

// Whatever a clone brings, links among it: a job is written or there is a *folder.Fault, and
// what lies outside of the job folder stays as it is, what has the workspace's name included.
func FuzzClone(f *testing.F) {
	f.Add(`{"files":[{"name":"papers/notes.txt","sha256":"00"}]}`, uint16(1|4|16), false)
	f.Add(`{"added":["papers/notes.txt"],"taken":["boss.stl"],"empty":["papers"]}`, uint16(1|4|8|512|1024), false)
	for i := range 13 {
		f.Add(`{"files":[]}`, uint16(1<<i), i%2 == 0)
		f.Add(`{"files":[]}`, uint16(1<<i|1), i%2 == 0)
	}
	f.Fuzz(func(t *testing.T, manifest string, kinds uint16, force bool) {
		root := t.TempDir()
		job := travelling(t, root, manifest, kinds)
		before := tree(t, root)
		empty := "" // the workspace, if nothing lies in it: one that a run left as it died
		if all, err := os.ReadDir(filepath.Join(root, "clone", ".formbuck-job")); err == nil && len(all) == 0 {
			empty = filepath.Join("clone", ".formbuck-job")
		}
		j, err := folder.Open(job, folder.Options{Force: force})
		if err == nil {
			_, err = j.Write(context.Background(), later)
			err = errors.Join(err, j.Close())
		}
		if fault := new(folder.Fault); err != nil && !errors.As(err, &fault) {
			t.Errorf("error %v is no *folder.Fault", err)
		}
		after := tree(t, root)
		for _, all := range []map[string]string{before, after} {
			for name := range all {
				inside, err := filepath.Rel(filepath.Join("clone", "job"), name)
				if err == nil && filepath.IsLocal(inside) || name == empty {
					delete(all, name)
				}
			}
		}
		if diff := cmp.Diff(before, after); diff != "" {
			t.Errorf("outside of the job folder, error %v: -before +after\n%s", err, diff)
		}
	})
}

// TestWorkspaceOfOthers: what has the workspace's name and was not made here is refused and named,
// and stays as it is, also where it holds another workspace's token or is a link to a folder.
func TestWorkspaceOfOthers(t *testing.T) {
	ways := map[string]func(root, work string) error{
		"a folder": func(_, work string) error { return os.MkdirAll(filepath.Join(work, "photos"), 0o700) },
		"an undo":  func(_, work string) error { return os.WriteFile(filepath.Join(work, "undo.json"), []byte("{}"), 0o600) },
		"a token":  func(_, work string) error { return os.WriteFile(filepath.Join(work, "made-here-42"), nil, 0o600) },
		"open to all": func(root, work string) error {
			return errors.Join(killed(t, filepath.Join(root, "job")), os.Chmod(work, 0o755))
		},
		"copied": func(root, work string) error {
			return errors.Join(killed(t, filepath.Join(root, "job")), os.Rename(work, work+"-x"), os.Mkdir(work, 0o700),
				os.CopyFS(work, os.DirFS(work+"-x")))
		},
	}
	for name, lay := range ways {
		t.Run(name, func(t *testing.T) {
			root := t.TempDir()
			work := filepath.Join(root, ".formbuck-job")
			if name != "copied" && name != "open to all" {
				if err := os.Mkdir(work, 0o700); err != nil {
					t.Fatal(err)
				}
			}
			if err := lay(root, work); err != nil {
				t.Fatal(err)
			}
			before := tree(t, root)
			_, err := folder.Open(filepath.Join(root, "job"), folder.Options{})
			wantFault(t, err, folder.Strange)
			if fault := new(folder.Fault); errors.As(err, &fault) && fault.Path != work {
				t.Errorf("path %s, want %s", fault.Path, work)
			}
			same(t, tree(t, root), before)
		})
	}
}

// killed lets a run die while its workspace is full.
func killed(t *testing.T, dir string) error {
	t.Helper()
	err := run(dir, &folder.Faulty{At: 6, Killed: true})
	if !errors.Is(err, folder.ErrInjected) {
		return fmt.Errorf("the run did not die: %w", err)
	}
	return nil
}
