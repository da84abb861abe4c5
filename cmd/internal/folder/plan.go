package folder

import (
	"errors"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
)

// maxForeign is how many files of others a job folder may hold. Each gets a second name during a
// run; a folder with more than this is hardly meant to be a job folder.
const maxForeign = 10000

// plan is what one Write has to do.
type plan struct {
	exists   bool        // there is an earlier folder
	perm     fs.FileMode // its permissions
	manifest []byte
	relist   bool // the manifest differs from the one that is there
	acts     []act
	dirs     []string // folders to make inside the job folder, parents first
	seen     map[string]fs.FileInfo
	report   Report
}

// act is one step of building the new folder stage out of the earlier one, old.
type act func(j *Job, stage string) error

// survey is what is found while the earlier folder is walked.
type survey struct {
	job     *Job
	plan    *plan
	want    map[string]File
	inside  map[string]bool   // folders that the wanted files need
	owned   map[string]string // name to hash, by the earlier manifest
	keep    map[string]fs.FileMode
	links   []string
	foreign int
	faults  []error
}

// same tells whether the folder already holds what is wanted.
func (p *plan) same() bool {
	r := p.report
	return p.exists && !p.relist && len(r.Written) == 0 && len(r.Removed) == 0
}

// plan compares the folder with the files wanted.
func (j *Job) plan(files []File) (*plan, error) {
	p := &plan{seen: map[string]fs.FileInfo{}, relist: true}
	var err error
	if p.manifest, err = list(files).encode(); err != nil {
		return nil, err
	}
	s := &survey{job: j, plan: p, want: map[string]File{}, inside: map[string]bool{}, keep: map[string]fs.FileMode{}}
	for _, f := range files {
		s.want[f.Name] = f
		for d := path.Dir(f.Name); d != "."; d = path.Dir(d) {
			s.inside[d] = true
		}
	}
	if err := s.look(); err != nil {
		return nil, err
	}
	s.settle(files)
	return p, nil
}

// look walks the earlier folder, if there is one.
func (s *survey) look() error {
	j, p := s.job, s.plan
	info, err := j.at.Lstat(j.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return j.fault(Unwritable, err)
	}
	p.exists, p.perm = true, info.Mode().Perm()
	m, old, err := j.readManifest()
	if err != nil && !j.opt.Force {
		return &Fault{Path: j.in(ManifestName), Kind: BadManifest, Err: err}
	}
	s.owned = m.sums()
	p.relist = string(old) != string(p.manifest)
	if err := j.at.Walk(j.dir, s.visit); err != nil {
		var f *Fault
		if errors.As(err, &f) {
			return f
		}
		return j.fault(Unwritable, err)
	}
	return errors.Join(s.faults...)
}

// visit judges one entry of the earlier folder.
func (s *survey) visit(name string, info fs.FileInfo) error {
	s.plan.seen[name] = info
	_, wanted := s.want[name]
	switch {
	case info.IsDir() && wanted, !info.IsDir() && s.inside[name]:
		s.blame(name, Blocked)
	case info.IsDir():
		s.keep[name] = info.Mode().Perm()
	case name == ManifestName:
	case wanted:
		return s.meet(name, info)
	default:
		return s.other(name, info)
	}
	return nil
}

func (s *survey) blame(name string, kind Kind) {
	s.faults = append(s.faults, &Fault{Path: s.job.in(name), Kind: kind})
}

// meet judges a file that has the name of a wanted one.
func (s *survey) meet(name string, info fs.FileInfo) error {
	was, owned := s.owned[name]
	now, err := s.sum(name, info)
	if err != nil {
		return err
	}
	r := &s.plan.report
	switch {
	case now == sum(s.want[name].Data):
		r.Unchanged = append(r.Unchanged, name)
		s.links = append(s.links, name)
		return nil
	case s.job.opt.Force:
	case !owned:
		s.blame(name, Foreign)
	case now != was:
		s.blame(name, Changed)
	}
	r.Written = append(r.Written, name)
	return nil
}

// other judges a file that the new job does not want.
func (s *survey) other(name string, info fs.FileInfo) error {
	r := &s.plan.report
	if was, owned := s.owned[name]; owned {
		now, err := s.sum(name, info)
		if err != nil {
			return err
		}
		if now == was || s.job.opt.Force {
			r.Removed = append(r.Removed, name)
			return nil
		}
		r.Kept = append(r.Kept, name)
	}
	if s.foreign++; s.foreign > maxForeign {
		return &Fault{Path: s.job.path, Kind: Crowded}
	}
	s.links = append(s.links, name)
	return nil
}

// sum is the hash of a plain file in the earlier folder; anything else has none.
func (s *survey) sum(name string, info fs.FileInfo) (string, error) {
	if !info.Mode().IsRegular() {
		return "", nil
	}
	data, err := s.job.at.ReadFile(filepath.Join(s.job.dir, filepath.FromSlash(name)), maxFile)
	if err != nil {
		return "", err
	}
	return sum(data), nil
}

// settle turns what was found into the acts that build the new folder.
func (s *survey) settle(files []File) {
	p, r := s.plan, &s.plan.report
	for _, f := range files {
		if _, there := p.seen[f.Name]; !there {
			r.Written = append(r.Written, f.Name)
		}
	}
	for _, names := range [][]string{r.Written, r.Unchanged, r.Removed, r.Kept, s.links} {
		slices.Sort(names)
	}
	s.folders()
	for _, name := range s.links {
		p.acts = append(p.acts, carry(name, p.seen[name]))
	}
	for _, name := range r.Written {
		p.acts = append(p.acts, create(s.want[name]))
	}
}

// folders plans the folders inside the job folder: those that wanted or foreign files need, and
// those that held nothing of the tool's.
func (s *survey) folders() {
	need := map[string]bool{}
	mark := func(name string) {
		for d := path.Dir(name); d != "."; d = path.Dir(d) {
			need[d] = true
		}
	}
	for name := range s.want {
		mark(name)
	}
	for _, name := range s.links {
		mark(name)
	}
	for name := range s.keep {
		ours := slices.ContainsFunc(s.plan.report.Removed, func(gone string) bool {
			return strings.HasPrefix(gone, name+"/")
		})
		if !ours {
			need[name] = true
			mark(name)
		}
	}
	for name := range need {
		s.plan.dirs = append(s.plan.dirs, name)
	}
	slices.Sort(s.plan.dirs)
	for _, name := range s.plan.dirs {
		perm, there := s.keep[name]
		if !there {
			perm = 0o777
		}
		s.plan.acts = append(s.plan.acts, mkdir(name, perm|0o700))
	}
}

func mkdir(name string, perm fs.FileMode) act {
	return func(j *Job, stage string) error {
		return j.sys.Mkdir(filepath.Join(stage, filepath.FromSlash(name)), perm)
	}
}

func create(f File) act {
	return func(j *Job, stage string) error {
		return j.sys.Write(filepath.Join(stage, filepath.FromSlash(f.Name)), f.Data, 0o666)
	}
}

// carry gives a file of the earlier folder its place in the new one.
func carry(name string, info fs.FileInfo) act {
	return func(j *Job, stage string) error {
		from, to := filepath.Join(j.dir, filepath.FromSlash(name)), filepath.Join(stage, filepath.FromSlash(name))
		if info.Mode()&fs.ModeSymlink == 0 {
			return j.sys.Link(from, to)
		}
		target, err := j.at.Readlink(from)
		if err != nil {
			return err
		}
		return j.sys.Symlink(target, to)
	}
}

// late lists the files of the earlier folder, now at old, that are not what was seen of them.
func (j *Job) late(p *plan, old string) ([]string, error) {
	var late []string
	err := j.at.Walk(old, func(name string, now fs.FileInfo) error {
		if now.IsDir() || name == ManifestName {
			return nil
		}
		was, there := p.seen[name]
		if !there || !os.SameFile(was, now) || was.Size() != now.Size() || !was.ModTime().Equal(now.ModTime()) {
			late = append(late, filepath.FromSlash(name))
		}
		return nil
	})
	return late, err
}
