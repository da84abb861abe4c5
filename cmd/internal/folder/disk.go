package folder

import (
	"io/fs"
	"os"
	"path/filepath"

	"formbuck/cmd/internal/disk"
)

// system is every act by which this package changes the disk, so that tests can let each one fail.
// Names are seen from the folder that was entered; see [disk.Dir] for what each act does.
type system interface {
	// enter says where names are seen from.
	enter(d *disk.Dir)
	Mkdir(name string, perm fs.FileMode) error
	Chmod(name string, perm fs.FileMode) error
	Write(name string, data []byte, perm fs.FileMode) error
	Sync(names []string) error
	Link(from, to string) error
	Symlink(target, name string) error
	Rename(from, to string) error
	Exchange(a, b string) error
	SyncDir(name string) error
	Remove(name string) error
	RemoveAll(name string) error
	// within reports whether the program was called from within a folder, given its path.
	within(dir string) bool
}

// plain is the system itself.
type plain struct{ *disk.Dir }

func (p *plain) enter(d *disk.Dir)    { p.Dir = d }
func (*plain) within(dir string) bool { return within(dir) }

// within reports whether the program was called from within the folder dir.
func within(dir string) bool {
	here, err := os.Getwd()
	if err != nil {
		return false
	}
	if real, err := filepath.EvalSymlinks(here); err == nil {
		here = real
	}
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	rel, err := filepath.Rel(dir, here)
	return err == nil && filepath.IsLocal(rel)
}
