package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// create writes a new file, whole or not at all. It never overwrites one; what to do instead is
// said by the advice.
func create(path string, data []byte, advice string) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return fmt.Errorf("%s: is there already; %s", path, advice)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", path, reason(err))
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		return errors.Join(fmt.Errorf("%s: %w", path, reason(err)), os.Remove(path))
	}
	return nil
}

// overwrite puts a file in the place of whatever plain file is there: the earlier one or the new
// one, whole.
func overwrite(path string, data []byte) error {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s: is not a plain file", path)
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	beside := filepath.Join(filepath.Dir(path), ".formbuck-"+filepath.Base(path))
	if err := create(beside, data, "another run is writing here, or was killed; remove it"); err != nil {
		return err
	}
	if err := os.Rename(beside, path); err != nil {
		return errors.Join(fmt.Errorf("%s: %w", path, reason(err)), os.Remove(beside))
	}
	return nil
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
