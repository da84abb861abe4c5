// Package folder writes a job folder as one act: whoever looks into it finds the earlier job,
// whole, or the new one, whole, whatever stops the program in between.
//
// The new job is built in a hidden workspace beside the folder and then exchanged with it. The one
// exception is a folder that the program was called from within: its files are moved one by one,
// with a note of how to undo that, since an exchange would leave the caller in a folder that is
// gone. Beside the job's own files the folder holds a manifest, [ManifestName], that lists what was written and
// the SHA-256 of each file. By it later runs tell their own files from those of other people: a
// file that is not listed, or whose content is no longer the listed one, is neither overwritten nor
// removed unless [Options].Force says so. Files that the job has no use for stay where they are.
//
// The workspace carries the lock. One that a killed run has left behind is cleared by the next
// [Open], which also puts the earlier folder back if the run died between the two renames that
// stand in for the exchange on file systems without one.
package folder

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
)

// File is one file of a job.
type File struct {
	Name   string // slash-separated, relative to the job folder
	Data   []byte
	MadeOf string // digest of all that it was made from, for [Job.Earlier]; empty: it is not known
}

// Options say how to treat what is already there. The zero value protects every file that the
// manifest does not vouch for.
type Options struct {
	Force bool // overwrite and remove files that others wrote or changed
}

// Job is a job folder that is locked for writing. Close it.
type Job struct {
	sys     system
	opt     Options
	path    string   // as given, for messages
	dir     string   // the folder itself: absolute, links resolved
	work    string   // the hidden workspace beside it
	made    []string // parents that Open made, outermost first
	unlock  func() error
	earlier func() map[string]entry // of the manifest that is there, by name
	written bool
}

// workPrefix begins the name of a workspace; the folder's own name follows.
const workPrefix = ".formbuck-"

// Open locks the job folder at path, which need not exist yet; missing parents are made. It clears
// what a killed run left behind. Errors are of type [*Fault]: not a folder, read-only, in use.
func Open(path string, opt Options) (*Job, error) { return open(disk{}, path, opt) }

func open(sys system, path string, opt Options) (*Job, error) {
	dir, err := resolve(path)
	if err != nil {
		return nil, err
	}
	j := &Job{sys: sys, opt: opt, path: path, dir: dir}
	j.earlier = sync.OnceValue(j.entries)
	j.work = filepath.Join(filepath.Dir(dir), workPrefix+filepath.Base(dir))
	if err := j.makeParents(); err != nil {
		return nil, j.undo(err)
	}
	if err := j.lock(); err != nil {
		return nil, j.undo(err)
	}
	if err := j.recover(); err != nil {
		_ = j.Close() // the first error is the one that tells
		return nil, j.fault(Unwritable, err)
	}
	return j, nil
}

// Dir is the job folder: absolute, with links resolved.
func (j *Job) Dir() string { return j.dir }

// Close removes the workspace and lets the next run in. Without a successful Write the folder and
// its surroundings are as they were.
func (j *Job) Close() error {
	if j.unlock == nil {
		return nil
	}
	var err error
	if !j.stranded() {
		err = j.sys.removeAll(j.work)
	}
	err = errors.Join(err, j.unlock())
	j.unlock = nil
	if !j.written {
		return j.undo(err)
	}
	return err
}

// undo removes the parents that Open made, and returns err.
func (j *Job) undo(err error) error {
	for i := len(j.made) - 1; i >= 0; i-- {
		if j.sys.remove(j.made[i]) != nil {
			break // somebody else has put something there: not ours to remove
		}
	}
	j.made = nil
	return err
}

// resolve finds the real place of a job folder and refuses what cannot be one.
func resolve(path string) (string, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", &Fault{Path: path, Kind: Unwritable, Err: err}
	}
	info, err := os.Lstat(abs)
	if errors.Is(err, fs.ErrNotExist) {
		return abs, nil
	}
	if err != nil {
		return "", &Fault{Path: path, Kind: Unwritable, Err: err}
	}
	if info.Mode()&fs.ModeSymlink != 0 {
		if abs, err = filepath.EvalSymlinks(abs); err != nil {
			return "", &Fault{Path: path, Kind: Dangling, Err: err}
		}
		if info, err = os.Lstat(abs); err != nil {
			return "", &Fault{Path: path, Kind: Dangling, Err: err}
		}
	}
	switch {
	case !info.IsDir():
		return "", &Fault{Path: path, Kind: NotFolder}
	case filepath.Dir(abs) == abs:
		return "", &Fault{Path: path, Kind: Root}
	case info.Mode().Perm()&0o222 == 0: // asked of the mode, so that it also holds for root
		return "", &Fault{Path: path, Kind: ReadOnly}
	}
	return abs, nil
}

// makeParents makes the folders above the job folder and remembers which.
func (j *Job) makeParents() error {
	var missing []string
	for p := filepath.Dir(j.dir); ; p = filepath.Dir(p) {
		info, err := os.Stat(p)
		if err == nil && !info.IsDir() {
			return &Fault{Path: p, Kind: NotFolder}
		}
		if err == nil || p == filepath.Dir(p) {
			break
		}
		if !errors.Is(err, fs.ErrNotExist) {
			return j.fault(Unwritable, err)
		}
		missing = append(missing, p)
	}
	for i := len(missing) - 1; i >= 0; i-- {
		err := j.sys.mkdir(missing[i], 0o777)
		if errors.Is(err, fs.ErrExist) {
			continue // made by a run beside this one since
		}
		if err != nil {
			return j.fault(Unwritable, err)
		}
		j.made = append(j.made, missing[i])
	}
	return nil
}

// recover clears a workspace that a killed run has left, after putting back the earlier folder if
// the run died while it was set aside.
func (j *Job) recover() error {
	if err := j.back(); err != nil {
		return err
	}
	if j.stranded() {
		if err := j.sys.rename(filepath.Join(j.work, asideName), j.dir); err != nil {
			return err
		}
	}
	entries, err := os.ReadDir(j.work)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if err := j.sys.removeAll(filepath.Join(j.work, e.Name())); err != nil {
			return err
		}
	}
	return nil
}

func (j *Job) fault(kind Kind, err error) error {
	return &Fault{Path: j.path, Kind: kind, Err: err}
}
