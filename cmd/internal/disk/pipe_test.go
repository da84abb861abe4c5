//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package disk_test

import (
	"path/filepath"
	"testing"

	"golang.org/x/sys/unix"

	"formbuck/cmd/internal/disk"
)

// A pipe has no end and a device no size: neither is opened.
func TestPipe(t *testing.T) {
	at := t.TempDir()
	if err := unix.Mkfifo(filepath.Join(at, "pipe"), 0o600); err != nil {
		t.Fatal(err)
	}
	d, err := disk.Open(at)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close() //nolint:errcheck // a temporary folder
	if _, err := d.ReadFile("pipe", 10); err == nil {
		t.Error("a pipe is read")
	}
}
