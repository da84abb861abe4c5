package folder

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
)

// undoName is the note in the workspace of how to undo a shift. While it is there, the folder is
// neither the earlier nor the new one; Open and Close follow it back to the earlier one.
const undoName = "undo.json"

// undo says how to get back to the earlier folder.
type undo struct {
	Added []string `json:"added"` // files and folders that were not there, parents first
	Taken []string `json:"taken"` // files that were moved into the workspace, or were going to be
	Empty []string `json:"empty"` // folders that held nothing but such files, parents first
}

// shift puts the staged files into the folder one by one. It is for a folder that the program's own
// shell stands in: exchanging that would leave the user in one that is gone. Others can see the
// folder half done while it runs; it takes the time of a few renames.
func (j *Job) shift(p *plan) error {
	u := undo{Taken: slices.Concat(p.report.Removed, []string{ManifestName}), Empty: p.empty}
	for _, name := range slices.Concat(p.dirs, p.report.Written) {
		if info, there := p.seen[name]; !there {
			u.Added = append(u.Added, name)
		} else if !info.IsDir() {
			u.Taken = append(u.Taken, name)
		}
	}
	if p.seen[ManifestName] == nil {
		u.Added = append(u.Added, ManifestName)
	}
	note, err := json.Marshal(u)
	if err != nil {
		return err
	}
	path := filepath.Join(j.work, undoName)
	if err := j.sys.write(path, note, 0o600); err != nil {
		return errors.Join(err, j.sys.removeAll(path))
	}
	if err := j.sys.sync([]string{path}); err != nil {
		return errors.Join(err, j.sys.removeAll(path))
	}
	if err := j.shiftAll(p, u); err != nil {
		return errors.Join(err, j.back())
	}
	return nil
}

// shiftAll moves the earlier files out and the new ones in; removing the note makes it final.
func (j *Job) shiftAll(p *plan, u undo) error {
	stage, aside := filepath.Join(j.work, stageName), filepath.Join(j.work, asideName)
	if err := j.sys.mkdir(aside, 0o700); err != nil {
		return err
	}
	for i, name := range u.Taken {
		if err := j.take(p, name, filepath.Join(aside, number(i))); err != nil {
			return err
		}
	}
	for _, name := range p.dirs {
		if p.seen[name] != nil {
			continue
		}
		if err := j.sys.mkdir(filepath.Join(j.dir, name), 0o777); err != nil {
			return err
		}
	}
	for _, name := range slices.Concat(p.report.Written, []string{ManifestName}) {
		if err := j.sys.rename(filepath.Join(stage, name), filepath.Join(j.dir, name)); err != nil {
			return err
		}
	}
	for _, name := range slices.Backward(p.empty) {
		if err := j.sys.remove(filepath.Join(j.dir, name)); err != nil {
			return err
		}
	}
	for _, name := range append([]string{"."}, p.dirs...) {
		if err := j.sys.syncDir(filepath.Join(j.dir, name)); err != nil {
			return err
		}
	}
	return j.sys.remove(filepath.Join(j.work, undoName))
}

// take moves a file of the earlier folder aside, if it is still the one that was looked at.
func (j *Job) take(p *plan, name, to string) error {
	from := filepath.Join(j.dir, name)
	now, err := os.Lstat(from)
	was := p.seen[name]
	if errors.Is(err, fs.ErrNotExist) && was == nil {
		return nil
	}
	if err != nil {
		return err
	}
	if was == nil || !os.SameFile(was, now) || !was.ModTime().Equal(now.ModTime()) || was.Size() != now.Size() {
		return &Fault{Path: j.in(name), Kind: Changed}
	}
	return j.sys.rename(from, to)
}

// back undoes a shift that has not become final.
func (j *Job) back() error {
	path := filepath.Join(j.work, undoName)
	note, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	u, err := readUndo(note)
	if err != nil {
		return err
	}
	if u == nil {
		return j.sys.remove(path)
	}
	for _, name := range slices.Backward(u.Added) {
		err := j.sys.remove(filepath.Join(j.dir, name))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	for _, name := range u.Empty {
		if err := j.sys.mkdir(filepath.Join(j.dir, name), 0o777); err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	for i, name := range u.Taken {
		err := j.sys.rename(filepath.Join(j.work, asideName, number(i)), filepath.Join(j.dir, name))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return j.sys.remove(path)
}

// readUndo is the note's undo, nil where the run died while it wrote the note, before it moved anything. A note that
// names a place outside the folder is none of ours, and is not followed.
func readUndo(note []byte) (*undo, error) {
	u := new(undo)
	if json.Unmarshal(note, u) != nil {
		return nil, nil
	}
	for _, name := range slices.Concat(u.Added, u.Taken, u.Empty) {
		if !filepath.IsLocal(name) {
			return nil, fmt.Errorf("%s names a place outside the folder: %q", undoName, name)
		}
	}
	return u, nil
}

// number names the i-th file that was moved aside.
func number(i int) string { return strconv.Itoa(i) }

// inside tells whether the program was called from within the folder dir.
func inside(dir string) bool {
	here, err := os.Getwd()
	if err != nil {
		return false
	}
	if real, err := filepath.EvalSymlinks(here); err == nil {
		here = real
	}
	rel, err := filepath.Rel(dir, here)
	return err == nil && filepath.IsLocal(rel)
}
