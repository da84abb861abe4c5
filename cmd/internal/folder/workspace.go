package folder

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// tokenPrefix begins the name of the empty file by which a workspace is known for one that this
// program made here: what follows is the number that the file system gave the workspace itself.
// A clone, an archive or a copy can carry a file of any name, but not one that fits the number which
// its own folder is going to get.
const tokenPrefix = "made-here-"

// lockName is the file in the workspace by which it is locked where a folder itself cannot be.
const lockName = "lock"

// stays reports whether what has the name belongs to the workspace itself.
func stays(name string) bool { return name == lockName || strings.HasPrefix(name, tokenPrefix) }

// list returns the names of what the workspace holds.
func (j *Job) list() ([]string, error) {
	f, err := j.at.Folder(j.work)
	if err != nil {
		return nil, err
	}
	names, err := f.Readdirnames(-1)
	return names, errors.Join(err, f.Close())
}

// claim makes sure that the workspace, which is open and locked, is this program's own: an empty
// one is given a token, and one with anything in it has to hold the token that fits it, belong to
// who calls, and be closed to others.
func (j *Job) claim(work *os.File) error {
	token, err := identity(work)
	if err != nil {
		return j.fault(Unwritable, err)
	}
	token = tokenPrefix + token
	names, err := j.list()
	if err != nil {
		return j.fault(Unwritable, err)
	}
	if len(names) == 0 {
		if err := j.sys.Write(filepath.Join(j.work, token), nil, 0o600); err != nil {
			return j.fault(Unwritable, errors.Join(err, j.sys.RemoveAll(j.work)))
		}
		return nil
	}
	ours := false
	for _, name := range names {
		ours = ours || name == token
	}
	info, err := work.Stat()
	if err != nil {
		return j.fault(Unwritable, err)
	}
	if !ours || !private(info) {
		return &Fault{Path: filepath.Join(filepath.Dir(j.path), filepath.Base(j.work)), Kind: Strange}
	}
	return nil
}

// empty removes what the workspace holds beside token and lock.
func (j *Job) empty() error {
	names, err := j.list()
	for _, name := range names {
		if err == nil && !stays(name) {
			err = j.sys.RemoveAll(filepath.Join(j.work, name))
		}
	}
	return err
}

// clear removes the workspace, unless the only copy of the earlier folder lies in it: its token goes
// last, so that a run which dies meanwhile leaves what the next one knows.
func (j *Job) clear() error {
	if j.stranded() {
		return nil
	}
	if err := j.empty(); err != nil {
		return err
	}
	return j.sys.RemoveAll(j.work)
}

// still reports whether f is the workspace that has its name now.
func (j *Job) still(f *os.File) bool {
	a, errA := f.Stat()
	b, errB := j.at.Lstat(j.work)
	return errA == nil && errB == nil && os.SameFile(a, b)
}

// stranded reports whether the only copy of the earlier folder lies in the workspace.
func (j *Job) stranded() bool {
	_, errJob := j.at.Lstat(j.dir)
	_, errAside := j.at.Lstat(filepath.Join(j.work, asideName))
	return errors.Is(errJob, fs.ErrNotExist) && errAside == nil
}
