//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd || windows)

package folder

import (
	"errors"
	"io/fs"
	"os"
)

// lock makes the workspace; that it exists is the lock. A killed run leaves it behind, and the
// message names it so that the user can remove it.
func (j *Job) lock() error {
	err := j.sys.Mkdir(j.work, 0o700)
	if errors.Is(err, fs.ErrExist) {
		return &Fault{Path: j.work, Kind: InUse, Err: err}
	}
	if err != nil {
		return j.fault(Unwritable, err)
	}
	j.release = j.clear
	return nil
}

// identity is not needed here, where a workspace that is there is never taken over.
func identity(*os.File) (string, error) { return "", nil }

func private(fs.FileInfo) bool { return false }
