package folder

import (
	"errors"
	"syscall"
)

// isMount tells whether a rename was refused because the folder is where a file system is mounted.
func isMount(err error) bool {
	return errors.Is(err, syscall.EBUSY) || errors.Is(err, syscall.EXDEV)
}
