// Package folder writes a job folder as one act: whoever looks into it finds the earlier job,
// whole, or the new one, whole, whatever stops the program in between.
//
// The new job is built in a hidden workspace beside the folder and then exchanged with it. Beside
// the job's own files the folder holds a manifest, [ManifestName], that lists what was written and
// the SHA-256 of each file. By it later runs tell their own files from those of other people: a
// file that is not listed, or whose content is no longer the listed one, is neither overwritten nor
// removed unless [Options].Force says so. Files that the job has no use for stay where they are.
//
// The workspace carries the lock. One that a killed run has left behind is cleared by the next
// [Open], which also puts the earlier folder back if the run died between the two renames that
// stand in for the exchange on file systems without one. What merely has the workspace's name is
// refused and left as it is: a workspace holds a token that no copy of it carries (see claim).
//
// Everything happens in the folder that holds the job folder, through [disk.Dir]: no link is
// followed, and nothing outside is reached.
package folder

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"sync"

	"formbuck/cmd/internal/disk"
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
	at      *disk.Dir // the nearest folder above that was there; the names below are seen from it
	path    string    // as given, for messages
	dir     string    // the job folder
	work    string    // the hidden workspace beside it
	made    []string  // parents that Open made, outermost first
	release func() error
	earlier func() map[string]entry // of the manifest that is there, by name
	written bool
}

// Open locks the job folder at path, which need not exist yet; missing parents are made. It clears
// what a killed run left behind. Errors are of type [*Fault]: not a folder, a link, read-only, in
// use, or one that the program was called from within, which would be exchanged under its caller.
func Open(path string, opt Options) (*Job, error) { return open(&plain{}, path, opt) }

func open(sys system, path string, opt Options) (*Job, error) {
	abs, err := resolve(path)
	if err != nil {
		return nil, err
	}
	if sys.within(abs) {
		return nil, &Fault{Path: path, Kind: Within}
	}
	j := &Job{sys: sys, opt: opt, path: path}
	j.earlier = sync.OnceValue(j.entries)
	if err := j.enter(abs); err != nil {
		return nil, err
	}
	for _, step := range []func() error{j.makeParents, j.lock} {
		if err := step(); err != nil {
			return nil, j.undo(err)
		}
	}
	if err := j.recover(); err != nil {
		_ = j.Close() // the first error is the one that tells
		return nil, j.fault(Unwritable, err)
	}
	return j, nil
}

// Close removes the workspace and lets the next run in. Without a successful Write the folder and
// its surroundings are as they were.
func (j *Job) Close() error {
	if j.release == nil {
		return nil
	}
	err := j.release()
	j.release = nil
	if !j.written {
		return j.undo(err)
	}
	return errors.Join(err, j.at.Close())
}

// undo removes the parents that Open made, and returns err.
func (j *Job) undo(err error) error {
	for i := len(j.made) - 1; i >= 0; i-- {
		if j.sys.Remove(j.made[i]) != nil {
			break // somebody else has put something there: not ours to remove
		}
	}
	j.made = nil
	return errors.Join(err, j.at.Close())
}

// resolve returns the absolute path of a job folder and refuses what cannot be one.
func resolve(path string) (string, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", &Fault{Path: path, Kind: Unwritable, Err: err}
	}
	info, err := os.Lstat(abs)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return abs, nil
	case err != nil:
		return "", &Fault{Path: path, Kind: Unwritable, Err: err}
	case info.Mode()&fs.ModeSymlink != 0:
		return "", &Fault{Path: path, Kind: Link}
	case !info.IsDir():
		return "", &Fault{Path: path, Kind: NotFolder}
	case filepath.Dir(abs) == abs:
		return "", &Fault{Path: path, Kind: Root}
	case info.Mode().Perm()&0o222 == 0: // asked of the mode, so that it also holds for root
		return "", &Fault{Path: path, Kind: ReadOnly}
	}
	return abs, nil
}

// enter opens the nearest folder above the job folder that is there.
func (j *Job) enter(abs string) error {
	for p := filepath.Dir(abs); ; p = filepath.Dir(p) {
		info, err := os.Stat(p)
		if errors.Is(err, fs.ErrNotExist) && p != filepath.Dir(p) {
			continue
		}
		if err == nil && !info.IsDir() {
			return &Fault{Path: p, Kind: NotFolder}
		}
		if err == nil {
			j.at, err = disk.Open(p)
		}
		if err == nil {
			j.dir, err = filepath.Rel(p, abs)
		}
		if err != nil {
			return j.fault(Unwritable, err)
		}
		j.work = disk.Beside(j.dir)
		j.sys.enter(j.at)
		return nil
	}
}

// makeParents makes the folders above the job folder and remembers which.
func (j *Job) makeParents() error {
	var missing []string
	for p := filepath.Dir(j.dir); p != "."; p = filepath.Dir(p) {
		missing = append(missing, p)
	}
	for i := len(missing) - 1; i >= 0; i-- {
		err := j.sys.Mkdir(missing[i], 0o777)
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
	if j.stranded() {
		if err := j.sys.Rename(filepath.Join(j.work, asideName), j.dir); err != nil {
			return err
		}
	}
	return j.empty()
}

func (j *Job) fault(kind Kind, err error) error {
	return &Fault{Path: j.path, Kind: kind, Err: err}
}
