package folder

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
)

// Names of what the workspace holds: the folder in the making and, where the file system knows no
// exchange, the earlier one while it is set aside.
const (
	stageName = "new"
	asideName = "old"
)

// Report says what a Write did, each list in rising order of names.
type Report struct {
	Written   []string // made anew or with new content
	Unchanged []string // there already, byte for byte
	Removed   []string // of the earlier job, of no use to this one
	Kept      []string // of the earlier job, changed by others since, therefore left
}

// Write makes the folder hold exactly these files of the tool, beside those of others. When nothing
// differs it touches nothing. Errors are [*Fault], several of them joined; after any of them but
// [Leftover] the folder is as it was.
func (j *Job) Write(ctx context.Context, files []File) (Report, error) {
	if err := j.checkNames(files); err != nil {
		return Report{}, err
	}
	p, err := j.plan(files)
	if err != nil {
		return Report{}, err
	}
	if p.same() {
		j.written = true
		return p.report, nil
	}
	if err := j.stage(ctx, p); err != nil {
		return Report{}, err
	}
	if err := j.swap(p); err != nil {
		return Report{}, err
	}
	j.written = true
	if err := j.settle(p); err != nil {
		return p.report, &Fault{Path: j.path, Kind: Leftover, Err: err}
	}
	return p.report, nil
}

func (j *Job) checkNames(files []File) error {
	seen := make(map[string]bool, len(files))
	for _, f := range files {
		local := filepath.IsLocal(filepath.FromSlash(f.Name)) && path.Clean(f.Name) == f.Name
		if !local || f.Name == "." || f.Name == ManifestName || seen[f.Name] {
			return &Fault{Path: j.in(f.Name), Kind: BadName}
		}
		seen[f.Name] = true
	}
	return nil
}

// in is the path of a file in the folder, as the caller spelt the folder.
func (j *Job) in(name string) string { return filepath.Join(j.path, filepath.FromSlash(name)) }

// stage builds the whole new folder in the workspace.
func (j *Job) stage(ctx context.Context, p *plan) error {
	stage := filepath.Join(j.work, stageName)
	if err := j.sys.Mkdir(stage, 0o777); err != nil {
		return j.fault(Unwritable, err)
	}
	for _, do := range p.acts {
		if ctx.Err() != nil {
			return j.fault(Interrupted, ctx.Err())
		}
		if err := do(j, stage); err != nil {
			return j.fault(Unwritable, err)
		}
	}
	if err := j.sys.Write(filepath.Join(stage, ManifestName), p.manifest, 0o666); err != nil {
		return j.fault(Unwritable, err)
	}
	if err := j.secure(stage, p); err != nil {
		return j.fault(Unwritable, err)
	}
	if ctx.Err() != nil {
		return j.fault(Interrupted, ctx.Err())
	}
	return nil
}

// secure brings the staged folder safely to the disk, with the permissions of the earlier one.
func (j *Job) secure(stage string, p *plan) error {
	files := []string{filepath.Join(stage, ManifestName)}
	for _, name := range p.report.Written {
		files = append(files, filepath.Join(stage, filepath.FromSlash(name)))
	}
	if err := j.sys.Sync(files); err != nil {
		return err
	}
	for _, dir := range p.dirs {
		if err := j.sys.SyncDir(filepath.Join(stage, dir)); err != nil {
			return err
		}
	}
	if p.exists {
		if err := j.sys.Chmod(stage, p.perm); err != nil {
			return err
		}
	}
	return j.sys.SyncDir(stage)
}

// swap puts the staged folder in the place of the earlier one, which ends up in the workspace.
func (j *Job) swap(p *plan) error {
	stage, aside := filepath.Join(j.work, stageName), filepath.Join(j.work, asideName)
	if !p.exists {
		return j.swapFault(j.sys.Rename(stage, j.dir))
	}
	err := j.sys.Exchange(stage, j.dir)
	if !errors.Is(err, errors.ErrUnsupported) {
		return j.swapFault(err)
	}
	// A run killed between the next two renames leaves the earlier folder aside; Open puts it back.
	if err := j.sys.Rename(j.dir, aside); err != nil {
		return j.swapFault(err)
	}
	if err := j.sys.Rename(stage, j.dir); err != nil {
		if back := j.sys.Rename(aside, j.dir); back != nil {
			return &Fault{Path: j.path, Kind: Stranded, Err: errors.Join(err, back)}
		}
		return j.swapFault(err)
	}
	return nil
}

func (j *Job) swapFault(err error) error {
	var f *Fault
	switch {
	case err == nil:
		return nil
	case errors.As(err, &f):
		return f
	case isMount(err):
		return j.fault(Mount, err)
	default:
		return j.fault(Unwritable, err)
	}
}

// settle makes the exchange last, and moves to the new folder what others put into or changed in
// the earlier one after it was looked at.
func (j *Job) settle(p *plan) error {
	errSync := j.sys.SyncDir(filepath.Dir(j.dir))
	if !p.exists {
		return errSync
	}
	old := filepath.Join(j.work, stageName)
	if _, err := j.at.Lstat(old); errors.Is(err, fs.ErrNotExist) {
		old = filepath.Join(j.work, asideName)
	}
	late, err := j.late(p, old)
	if err != nil {
		return errors.Join(errSync, err)
	}
	slices.Sort(late)
	for _, name := range late {
		errSync = errors.Join(errSync, j.rescue(old, name))
	}
	return errSync
}

// rescue moves one late file from the earlier folder into the new one.
func (j *Job) rescue(old, name string) error {
	from, to := filepath.Join(old, name), filepath.Join(j.dir, name)
	a, err := j.at.Lstat(from)
	if err != nil {
		return err
	}
	if b, err := j.at.Lstat(to); err == nil && os.SameFile(a, b) {
		return nil // a second name of the same file: the change is in both
	}
	var missing []string
	for dir := filepath.Dir(to); dir != j.dir; dir = filepath.Dir(dir) {
		if _, err := j.at.Lstat(dir); err == nil {
			break
		}
		missing = append(missing, dir)
	}
	for _, dir := range slices.Backward(missing) {
		if err := j.sys.Mkdir(dir, 0o777); err != nil {
			return err
		}
	}
	return j.sys.Rename(from, to)
}
