package folder_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"formbuck/cmd/internal/folder"
)

// Whatever the manifest: an error or its files, and no panic.
func FuzzManifest(f *testing.F) {
	f.Add([]byte(`{"files":[{"name":"a.stl","sha256":"00"}]}`))
	f.Add([]byte("{}{}"))
	f.Fuzz(func(t *testing.T, data []byte) {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, folder.ManifestName), data, 0o600); err != nil {
			t.Fatal(err)
		}
		_ = folder.ReadManifest(dir)
	})
}

// Whatever the note of how to undo a shift: the folder opens or there is a *folder.Fault, and what lies beside the
// folder stays as it is.
func FuzzUndo(f *testing.F) {
	f.Add([]byte(`{"added":["new","new/a.stl"],"taken":["b.stl"],"empty":["was"]}`))
	f.Add([]byte(`{"added":["../beside"],"taken":null}`))
	f.Add([]byte(`{"taken":["../beside"]}`))
	f.Add([]byte(`{"added":["a.st`))
	f.Fuzz(func(t *testing.T, note []byte) {
		dir := t.TempDir()
		beside, job, work := filepath.Join(dir, "beside"), filepath.Join(dir, "job"), filepath.Join(dir, ".formbuck-job")
		for _, d := range []string{job, filepath.Join(work, "aside")} {
			if err := os.MkdirAll(d, 0o777); err != nil {
				t.Fatal(err)
			}
		}
		for path, data := range map[string]string{beside: "kept", filepath.Join(work, "aside", "0"): "taken", filepath.Join(work, "undo.json"): string(note)} {
			if err := os.WriteFile(path, []byte(data), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		j, err := folder.Open(job, folder.Options{})
		if err == nil {
			err = j.Close()
		} else if fault := new(folder.Fault); !errors.As(err, &fault) {
			t.Errorf("error %v is no *folder.Fault", err)
		}
		if data, lost := os.ReadFile(beside); lost != nil || string(data) != "kept" {
			t.Errorf("beside the folder: %q, %v; opened and closed: %v", data, lost, err)
		}
	})
}
