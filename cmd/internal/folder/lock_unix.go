//go:build darwin || dragonfly || freebsd || linux || netbsd || openbsd

package folder

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/unix"
)

// lock makes the workspace and locks it. The system drops the lock when the program ends, however
// it ends, so a workspace that exists and is not locked is what a killed run left behind.
func (j *Job) lock() error {
	for {
		err := j.sys.mkdir(j.work, 0o700)
		if err != nil && !errors.Is(err, fs.ErrExist) {
			return j.fault(Unwritable, err)
		}
		f, err := os.OpenFile(j.work, os.O_RDONLY|unix.O_DIRECTORY|unix.O_NOFOLLOW, 0)
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
			j.unlock = f.Close
			return nil
		}
		if err := f.Close(); err != nil {
			return j.fault(Unwritable, err)
		}
	}
}

// refuse closes the workspace that could not be locked and says why.
func (j *Job) refuse(f *os.File, err error) error {
	kind := Unwritable
	if errors.Is(err, unix.EWOULDBLOCK) {
		kind = InUse
	}
	return j.fault(kind, errors.Join(err, f.Close()))
}

// still tells whether f is the workspace that has its name now.
func (j *Job) still(f *os.File) bool {
	a, errA := f.Stat()
	b, errB := os.Lstat(j.work)
	return errA == nil && errB == nil && os.SameFile(a, b)
}

func syncDir(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	err = f.Sync()
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOTSUP) {
		err = nil // a file system that keeps no folders on a disk
	}
	return errors.Join(err, f.Close())
}
