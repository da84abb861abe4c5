//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package folder

import (
	"errors"
	"io/fs"
	"os"
	"strconv"
	"syscall"

	"golang.org/x/sys/unix"
)

// lock makes the workspace and locks it. The system drops the lock when the program ends, however
// it ends, so a workspace that exists and is not locked is what a killed run left behind.
func (j *Job) lock() error {
	for {
		err := j.sys.Mkdir(j.work, 0o700)
		if err != nil && !errors.Is(err, fs.ErrExist) {
			return j.fault(Unwritable, err)
		}
		f, err := j.at.Folder(j.work)
		if errors.Is(err, fs.ErrNotExist) {
			continue // the run that had it is done and has removed it
		}
		if err != nil {
			return j.fault(Unwritable, err)
		}
		if err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB); err != nil {
			return j.refuse(f, err)
		}
		// Between the opening and the locking the other run may have removed the workspace.
		if j.still(f) {
			return j.take(f)
		}
		if err := f.Close(); err != nil {
			return j.fault(Unwritable, err)
		}
	}
}

// take claims the workspace that is open and locked.
func (j *Job) take(f *os.File) error {
	if err := j.claim(f); err != nil {
		return errors.Join(err, f.Close())
	}
	j.release = func() error { return errors.Join(j.clear(), f.Close()) }
	return nil
}

// refuse closes the workspace that could not be locked and says why.
func (j *Job) refuse(f *os.File, err error) error {
	kind := Unwritable
	if errors.Is(err, unix.EWOULDBLOCK) {
		kind = InUse
	}
	return j.fault(kind, errors.Join(err, f.Close()))
}

// identity is the number that the file system gave an open folder.
func identity(f *os.File) (string, error) {
	var s unix.Stat_t
	if err := unix.Fstat(int(f.Fd()), &s); err != nil {
		return "", err
	}
	return strconv.FormatUint(s.Ino, 36), nil
}

// private reports whether a folder belongs to who calls the program and is closed to all others.
func private(info fs.FileInfo) bool {
	s, ok := info.Sys().(*syscall.Stat_t)
	return ok && int(s.Uid) == os.Geteuid() && info.Mode().Perm() == 0o700
}
