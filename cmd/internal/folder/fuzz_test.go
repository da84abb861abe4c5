package folder_test

import (
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
