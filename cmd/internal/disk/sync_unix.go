//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package disk

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// syncDir brings an open folder's entries safely to the disk.
func syncDir(f *os.File) error {
	err := f.Sync()
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTSUP) {
		return nil // a file system that keeps no folders on a disk
	}
	return err
}
