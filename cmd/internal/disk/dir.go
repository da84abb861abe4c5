// Package disk is the one way by which the commands change what lies on a disk.
//
// Every act goes through an [os.Root]: a name that would leave the folder is refused by the
// system, whatever links lie on its way, and no act follows a link that the last part of a name is.
// The linter holds everything else in cmd to it.
package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// Dir is a folder; all names are seen from it. Close it.
type Dir struct{ root *os.Root }

// Open opens the folder at path, which may be a link to one.
func Open(path string) (*Dir, error) {
	root, err := os.OpenRoot(path)
	if err != nil {
		return nil, err
	}
	return &Dir{root: root}, nil
}

// Close ends the use of the folder.
func (d *Dir) Close() error { return d.root.Close() }

// Lstat describes what has the name, a link itself rather than what it leads to.
func (d *Dir) Lstat(name string) (fs.FileInfo, error) { return d.root.Lstat(name) }

// Readlink returns where a link leads.
func (d *Dir) Readlink(name string) (string, error) { return d.root.Readlink(name) }

// Mkdir makes a folder.
func (d *Dir) Mkdir(name string, perm fs.FileMode) error { return d.root.Mkdir(name, perm) }

// Chmod changes the permissions of a file or folder.
func (d *Dir) Chmod(name string, perm fs.FileMode) error { return d.root.Chmod(name, perm) }

// Symlink makes a link that leads to target, which may lie anywhere.
func (d *Dir) Symlink(target, name string) error { return d.root.Symlink(target, name) }

// Rename moves a file or folder.
func (d *Dir) Rename(from, to string) error { return d.root.Rename(from, to) }

// Remove removes a file, a link or an empty folder.
func (d *Dir) Remove(name string) error { return d.root.Remove(name) }

// RemoveAll removes a file, a link, or a folder with all that is in it.
func (d *Dir) RemoveAll(name string) error { return d.root.RemoveAll(name) }

// Write makes a new file; [Dir.Sync] brings it safely to the disk.
func (d *Dir) Write(name string, data []byte, perm fs.FileMode) error {
	f, err := d.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

// Sync brings what files hold safely to the disk, all side by side: one after the other takes a
// disk ten times as long.
func (d *Dir) Sync(names []string) error {
	errs := make([]error, len(names))
	var wait sync.WaitGroup
	slots := make(chan struct{}, 32) // each waits in a thread of its own
	for i, name := range names {
		slots <- struct{}{}
		wait.Go(func() {
			defer func() { <-slots }()
			f, err := d.root.OpenFile(name, os.O_WRONLY, 0)
			if err == nil {
				err = errors.Join(f.Sync(), f.Close())
			}
			errs[i] = err
		})
	}
	wait.Wait()
	return errors.Join(errs...)
}

// Link gives the file at from a second name; it copies where the file system has no links.
func (d *Dir) Link(from, to string) error {
	if d.root.Link(from, to) == nil {
		return nil
	}
	return d.copy(from, to)
}

// copy stands in for a link: content, mode and time.
func (d *Dir) copy(from, to string) error {
	in, info, err := d.open(from)
	if err != nil {
		return err
	}
	defer in.Close() //nolint:errcheck // only read from
	out, err := d.root.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, info.Mode().Perm())
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err := errors.Join(err, out.Sync(), out.Close()); err != nil {
		return err
	}
	return d.root.Chtimes(to, info.ModTime(), info.ModTime())
}

// ReadFile returns what a regular file of at most limit bytes holds.
func (d *Dir) ReadFile(name string, limit int64) ([]byte, error) {
	f, info, err := d.open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close() //nolint:errcheck // only read from
	if info.Size() > limit {
		return nil, &fs.PathError{Op: "read", Path: name, Err: fmt.Errorf("%d bytes; at most %d are read", info.Size(), limit)}
	}
	return io.ReadAll(io.LimitReader(f, limit))
}

// open opens a regular file to be read. It is looked at first, since opening a pipe waits for its
// writer, and again when it is open, since it may be another one by then.
func (d *Dir) open(name string) (*os.File, fs.FileInfo, error) {
	before, err := d.root.Lstat(name)
	if err != nil {
		return nil, nil, err
	}
	irregular := &fs.PathError{Op: "open", Path: name, Err: errors.New("is not a plain file")}
	if !before.Mode().IsRegular() {
		return nil, nil, irregular
	}
	f, err := d.root.Open(name)
	if err != nil {
		return nil, nil, err
	}
	now, err := f.Stat()
	if err == nil && !os.SameFile(before, now) {
		err = irregular
	}
	if err != nil {
		return nil, nil, errors.Join(err, f.Close())
	}
	return f, now, nil
}

// Folder opens a folder to be listed, locked or told from others, never through a link.
func (d *Dir) Folder(name string) (*os.File, error) {
	before, err := d.root.Lstat(name)
	if err != nil {
		return nil, err
	}
	if !before.IsDir() {
		return nil, &fs.PathError{Op: "open", Path: name, Err: errors.New("is not a folder")}
	}
	f, err := d.root.Open(name)
	if err != nil {
		return nil, err
	}
	if now, err := f.Stat(); err != nil || !os.SameFile(before, now) {
		return nil, errors.Join(&fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}, err, f.Close())
	}
	return f, nil
}

// SyncDir brings a folder's entries safely to the disk.
func (d *Dir) SyncDir(name string) error {
	f, err := d.Folder(name)
	if err != nil {
		return err
	}
	return errors.Join(syncDir(f), f.Close())
}

// Exchange swaps two folders in one act, or returns [errors.ErrUnsupported].
func (d *Dir) Exchange(a, b string) error {
	in, err := d.Folder(filepath.Dir(a))
	if err != nil {
		return err
	}
	at, err := d.Folder(filepath.Dir(b))
	if err != nil {
		return errors.Join(err, in.Close())
	}
	err = exchange(in, filepath.Base(a), at, filepath.Base(b))
	return errors.Join(err, in.Close(), at.Close())
}

// Walk visits everything in the folder of the name, by its slash-separated name seen from it,
// without following links.
func (d *Dir) Walk(name string, visit func(name string, info fs.FileInfo) error) error {
	f, err := d.Folder(name)
	if err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	top := filepath.ToSlash(name)
	return fs.WalkDir(d.root.FS(), top, func(full string, e fs.DirEntry, err error) error {
		if err != nil || full == top {
			return err
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		inside, err := filepath.Rel(name, filepath.FromSlash(full))
		if err != nil {
			return err
		}
		return visit(filepath.ToSlash(inside), info)
	})
}
