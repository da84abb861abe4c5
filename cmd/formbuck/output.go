package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"formbuck/cmd/internal/disk"
)

// create writes a new file, whole or not at all. It never overwrites one; what to do instead is
// said by the advice.
func create(path string, data []byte, advice string) error {
	err := disk.Create(path, data)
	switch {
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%s: is there already; %s", path, advice)
	case err != nil:
		return fmt.Errorf("%s: %w", path, disk.Reason(err))
	}
	return nil
}

// overwrite puts a file in the place of whatever plain file is there: the earlier one or the new
// one, whole.
func overwrite(path string, data []byte) error {
	err := disk.Replace(path, data)
	switch {
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%s: is there already; another run is writing here, or was killed; remove it", disk.Beside(path))
	case err != nil:
		return fmt.Errorf("%s: %w", path, disk.Reason(err))
	}
	return nil
}

// written writes a file where none is, or over another where that is wanted.
func written(path string, data []byte, force bool) error {
	if force {
		return overwrite(path, data)
	}
	return create(path, data, "use --force to overwrite it")
}

// sameFile tells whether two paths are the same file.
func sameFile(a, b string) bool {
	one, err := os.Stat(a)
	if err != nil {
		return false
	}
	two, err := os.Stat(b)
	return err == nil && os.SameFile(one, two)
}
