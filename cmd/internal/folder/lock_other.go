//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package folder

import (
	"errors"
	"io/fs"
)

// lock makes the workspace; that it exists is the lock. A killed run leaves it behind, and the
// message names it so that the user can remove it.
func (j *Job) lock() error {
	err := j.sys.mkdir(j.work, 0o700)
	if errors.Is(err, fs.ErrExist) {
		return &Fault{Path: j.work, Kind: InUse, Err: err}
	}
	if err != nil {
		return j.fault(Unwritable, err)
	}
	j.unlock = func() error { return nil }
	return nil
}

// syncDir does nothing: folders cannot be synced here.
func syncDir(_ string) error { return nil }
