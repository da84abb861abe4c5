package folder

import (
	"errors"
	"io/fs"
	"path/filepath"
	"syscall"
)

// ErrInjected is what the step that is made to fail returns.
var ErrInjected = errors.New("injected")

// Faulty is a disk on which one step goes wrong.
type Faulty struct {
	At         int    // which step, from 1; 0: none
	Killed     bool   // the program dies there: the step is done by half and none follows
	Stuck      bool   // from there on every rename fails
	NoExchange bool   // the file system knows no exchange
	Before     func() // is called before step At instead of letting it fail
	Steps      int    // counts the steps taken
	Failed     string // the failing step, once it was met
	Full       bool   // the disk is full: from the failing step on nothing more can be made or written, by half where it is written
	plain
}

// OpenFaulty is Open on such a disk.
func OpenFaulty(path string, opt Options, f *Faulty) (*Job, error) { return open(f, path, opt) }

// fails counts a step and tells whether it is to fail.
func (f *Faulty) fails(step string) bool {
	f.Steps++
	if f.Steps == f.At {
		f.Failed = step
	}
	if f.Steps == f.At && f.Before != nil {
		f.Before()
		return false
	}
	if f.Before != nil {
		return false
	}
	if f.Stuck && step == "rename" && f.Steps > f.At {
		return true
	}
	if f.Full && f.At > 0 && f.Steps >= f.At {
		return step == "mkdir" || step == "write" || step == "sync" || step == "link" || step == "symlink"
	}
	return f.Steps == f.At || f.Killed && f.At > 0 && f.Steps > f.At
}

// half tells whether the failing step is to be done by half.
func (f *Faulty) half() bool { return f.Full || f.Killed && f.Steps == f.At }

// fault is what a failing step returns.
func (f *Faulty) fault() error {
	if f.Full {
		return &fs.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC}
	}
	return ErrInjected
}

func (f *Faulty) Mkdir(path string, perm fs.FileMode) error {
	if f.fails("mkdir") {
		return f.fault()
	}
	return f.plain.Mkdir(path, perm)
}

func (f *Faulty) Chmod(path string, perm fs.FileMode) error {
	if f.fails("chmod") {
		return f.fault()
	}
	return f.plain.Chmod(path, perm)
}

func (f *Faulty) Write(path string, data []byte, perm fs.FileMode) error {
	if f.fails("write") {
		if f.half() {
			return errors.Join(f.fault(), f.plain.Write(path, data[:len(data)/2], perm))
		}
		return f.fault()
	}
	return f.plain.Write(path, data, perm)
}

func (f *Faulty) Sync(paths []string) error {
	if f.fails("sync") {
		return f.fault()
	}
	return f.plain.Sync(paths)
}

func (f *Faulty) Link(from, to string) error {
	if f.fails("link") {
		return f.fault()
	}
	return f.plain.Link(from, to)
}

func (f *Faulty) Symlink(target, path string) error {
	if f.fails("symlink") {
		return f.fault()
	}
	return f.plain.Symlink(target, path)
}

func (f *Faulty) Rename(from, to string) error {
	if f.fails("rename") {
		return f.fault()
	}
	return f.plain.Rename(from, to)
}

func (f *Faulty) Exchange(a, b string) error {
	if f.NoExchange {
		return errors.ErrUnsupported
	}
	if f.fails("exchange") {
		return f.fault()
	}
	return f.plain.Exchange(a, b)
}

func (f *Faulty) SyncDir(path string) error {
	if f.fails("syncDir") {
		return f.fault()
	}
	return f.plain.SyncDir(path)
}

func (f *Faulty) Remove(path string) error {
	if f.fails("remove") {
		return f.fault()
	}
	return f.plain.Remove(path)
}

func (f *Faulty) RemoveAll(path string) error {
	if f.fails("removeAll") {
		if f.half() {
			return errors.Join(f.fault(), f.removeOne(path))
		}
		return f.fault()
	}
	return f.plain.RemoveAll(path)
}

// removeOne removes the first plain file found in a folder.
func (f *Faulty) removeOne(path string) error {
	return f.Walk(path, func(name string, info fs.FileInfo) error {
		if info.IsDir() {
			return nil
		}
		return errors.Join(f.plain.Remove(filepath.Join(path, name)), fs.SkipAll)
	})
}

// ReadManifest tells whether a manifest can be read.
func ReadManifest(data []byte) error {
	_, err := decodeManifest(data)
	return err
}
