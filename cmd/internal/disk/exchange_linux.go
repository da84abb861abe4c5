package disk

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// exchange swaps two folders in one act (renameat2(2), RENAME_EXCHANGE).
func exchange(in *os.File, a string, at *os.File, b string) error {
	err := unix.Renameat2(int(in.Fd()), a, int(at.Fd()), b, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) || errors.Is(err, unix.ENOTSUP) {
		return errors.ErrUnsupported // an old kernel, or a file system that cannot
	}
	return err
}
