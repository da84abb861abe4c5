package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// workPrefix begins the name of what is written beside a file or folder before it takes its place.
const workPrefix = ".formbuck-"

// in opens the folder of a path and runs an act on the path's last part there.
func in(path string, act func(d *Dir, name string) error) error {
	d, err := Open(filepath.Dir(path))
	if err != nil {
		return err
	}
	return errors.Join(act(d, filepath.Base(path)), d.Close())
}

// Create writes a new file, whole or not at all. Where there is one already it returns
// [fs.ErrExist].
func Create(path string, data []byte) error {
	return in(path, func(d *Dir, name string) error { return d.create(name, data) })
}

func (d *Dir) create(name string, data []byte) error {
	err := d.Write(name, data, 0o666)
	if errors.Is(err, fs.ErrExist) {
		return err
	}
	if err == nil {
		err = d.Sync([]string{name})
	}
	if err != nil {
		if left := d.Remove(name); left != nil && !errors.Is(left, fs.ErrNotExist) {
			err = errors.Join(err, left)
		}
	}
	return err
}

// Replace puts a file in the place of whatever plain file is there: the earlier one or the new one,
// whole. It returns [fs.ErrExist] with the path of the leftover where a killed run has left one.
func Replace(path string, data []byte) error {
	return in(path, func(d *Dir, name string) error {
		if info, err := d.Lstat(name); err == nil && !info.Mode().IsRegular() {
			return &fs.PathError{Op: "replace", Path: path, Err: errors.New("is not a plain file")}
		}
		beside := Beside(name)
		if err := d.create(beside, data); err != nil {
			return err
		}
		if err := d.Rename(beside, name); err != nil {
			return errors.Join(err, d.Remove(beside))
		}
		return nil
	})
}

// Beside returns where the new is written before it takes the place of the file or folder at path.
func Beside(path string) string {
	return filepath.Join(filepath.Dir(path), workPrefix+filepath.Base(path))
}

// Remove removes a file.
func Remove(path string) error {
	return in(path, func(d *Dir, name string) error { return d.Remove(name) })
}

// MakeDir makes a folder and those above it that are missing.
func MakeDir(path string) error { return os.MkdirAll(path, 0o777) }

// Reason returns the system's word for what is wrong, without the path, which messages name already.
func Reason(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}
