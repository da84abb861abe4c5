package disk_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"formbuck/cmd/internal/disk"
)

// outside lays a folder with links out of it and returns it with the file that they lead to.
func outside(t *testing.T) (d *disk.Dir, secret string) {
	t.Helper()
	root := t.TempDir()
	secret = filepath.Join(root, "secret")
	at := filepath.Join(root, "at")
	err := errors.Join(os.WriteFile(secret, []byte("kept"), 0o600), os.Mkdir(at, 0o777), os.Symlink("..", filepath.Join(at, "up")),
		os.Symlink(secret, filepath.Join(at, "link")), os.WriteFile(filepath.Join(at, "plain"), []byte("plain"), 0o600))
	if err != nil {
		t.Fatal(err)
	}
	d, err = disk.Open(at)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = d.Close() })
	return d, secret
}

// No act reaches what lies outside, by a name that climbs or through a link.
func TestNothingOutside(t *testing.T) {
	for _, name := range []string{"../secret", "up/secret", "/etc/passwd"} {
		acts := map[string]func(d *disk.Dir) error{
			"write":       func(d *disk.Dir) error { return d.Write(name+"x", nil, 0o600) },
			"mkdir":       func(d *disk.Dir) error { return d.Mkdir(name+"x", 0o700) },
			"remove":      func(d *disk.Dir) error { return d.Remove(name) },
			"remove all":  func(d *disk.Dir) error { return d.RemoveAll(name) },
			"rename from": func(d *disk.Dir) error { return d.Rename(name, "taken") },
			"rename to":   func(d *disk.Dir) error { return d.Rename("plain", name) },
			"link":        func(d *disk.Dir) error { return d.Link(name, "taken") },
			"read":        func(d *disk.Dir) error { _, err := d.ReadFile(name, 10); return err },
			"exchange":    func(d *disk.Dir) error { return d.Exchange("plain", name) },
		}
		for act, do := range acts {
			d, secret := outside(t)
			if err := do(d); err == nil {
				t.Errorf("%s of %s: no error", act, name)
			}
			if data, err := os.ReadFile(secret); err != nil || string(data) != "kept" {
				t.Errorf("%s of %s: the file outside holds %q, %v", act, name, data, err)
			}
		}
	}
}

func TestReadFile(t *testing.T) {
	d, _ := outside(t)
	if data, err := d.ReadFile("plain", 5); err != nil || string(data) != "plain" {
		t.Errorf("plain holds %q, %v", data, err)
	}
	for name, limit := range map[string]int64{"plain": 4, "link": 10, "up": 10, ".": 10, "none": 10} {
		if _, err := d.ReadFile(name, limit); err == nil {
			t.Errorf("%s with a limit of %d is read", name, limit)
		}
	}
}

// A link is neither written through nor replaced, and a new file never takes the place of another.
func TestSingleFiles(t *testing.T) {
	_, secret := outside(t)
	at := filepath.Join(filepath.Dir(secret), "at")
	plain, link := filepath.Join(at, "plain"), filepath.Join(at, "link")
	for _, path := range []string{plain, link} {
		if err := disk.Create(path, []byte("new")); !errors.Is(err, fs.ErrExist) {
			t.Errorf("create %s: %v", path, err)
		}
	}
	if err := disk.Replace(link, []byte("new")); err == nil {
		t.Error("a link is replaced")
	}
	if err := disk.Replace(plain, []byte("new")); err != nil {
		t.Error(err)
	}
	if data, err := os.ReadFile(plain); err != nil || string(data) != "new" {
		t.Errorf("plain holds %q, %v", data, err)
	}
	if data, err := os.ReadFile(secret); err != nil || string(data) != "kept" {
		t.Errorf("the file outside holds %q, %v", data, err)
	}
	if err := os.WriteFile(disk.Beside(plain), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := disk.Replace(plain, []byte("newer")); !errors.Is(err, fs.ErrExist) {
		t.Errorf("beside a leftover: %v", err)
	}
}
