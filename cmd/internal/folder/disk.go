package folder

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"sync"
)

// system is every act by which this package changes the disk, so that tests can let each one fail.
type system interface {
	mkdir(path string, perm fs.FileMode) error
	chmod(path string, perm fs.FileMode) error
	// write makes a new file; sync brings it safely to the disk.
	write(path string, data []byte, perm fs.FileMode) error
	// sync brings what files hold safely to the disk, all side by side: one after the other takes a disk ten times as long.
	sync(paths []string) error
	// link gives the file at from a second name; it copies where the file system has no links.
	link(from, to string) error
	symlink(target, path string) error
	rename(from, to string) error
	// exchange swaps two folders in one act, or returns errors.ErrUnsupported.
	exchange(a, b string) error
	// syncDir brings a folder's entries safely to the disk.
	syncDir(path string) error
	remove(path string) error
	removeAll(path string) error
	// inside tells whether the program was called from within a folder.
	inside(dir string) bool
}

// disk is the system itself.
type disk struct{}

func (disk) mkdir(path string, perm fs.FileMode) error { return os.Mkdir(path, perm) }
func (disk) chmod(path string, perm fs.FileMode) error { return os.Chmod(path, perm) }
func (disk) symlink(target, path string) error         { return os.Symlink(target, path) }
func (disk) rename(from, to string) error              { return os.Rename(from, to) }
func (disk) exchange(a, b string) error                { return exchange(a, b) }
func (disk) remove(path string) error                  { return os.Remove(path) }
func (disk) removeAll(path string) error               { return os.RemoveAll(path) }
func (disk) syncDir(path string) error                 { return syncDir(path) }
func (disk) inside(dir string) bool                    { return inside(dir) }

func (disk) write(path string, data []byte, perm fs.FileMode) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, f.Close())
}

func (disk) sync(paths []string) error {
	errs := make([]error, len(paths))
	var wait sync.WaitGroup
	slots := make(chan struct{}, 32) // each waits in a thread of its own
	for i, path := range paths {
		slots <- struct{}{}
		wait.Go(func() {
			defer func() { <-slots }()
			f, err := os.OpenFile(path, os.O_WRONLY, 0)
			if err == nil {
				err = errors.Join(f.Sync(), f.Close())
			}
			errs[i] = err
		})
	}
	wait.Wait()
	return errors.Join(errs...)
}

func (d disk) link(from, to string) error {
	if os.Link(from, to) == nil {
		return nil
	}
	return d.copy(from, to)
}

// copy stands in for a link: content, mode and time.
func (disk) copy(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return err
	}
	defer in.Close() //nolint:errcheck // only read from
	info, err := in.Stat()
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() {
		return &fs.PathError{Op: "copy", Path: from, Err: errors.New("not a plain file")}
	}
	out, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, info.Mode().Perm())
	if err != nil {
		return err
	}
	_, err = io.Copy(out, in)
	if err := errors.Join(err, out.Sync(), out.Close()); err != nil {
		return err
	}
	return os.Chtimes(to, info.ModTime(), info.ModTime())
}
