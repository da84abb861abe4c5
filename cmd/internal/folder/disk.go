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
	mkdir(name string, perm fs.FileMode) error
	chmod(name string, perm fs.FileMode) error
	write(name string, data []byte, perm fs.FileMode) error
	sync(names []string) error
	link(from, to string) error
	symlink(target, name string) error
	rename(from, to string) error
	exchange(a, b string) error
	syncDir(name string) error
	remove(name string) error
	removeAll(name string) error
	// within reports whether the program was called from within a folder, given its path.
	within(dir string) bool
}

// plain is the system itself.
type plain struct{ *disk.Dir }

func (p *plain) enter(d *disk.Dir)                             { p.Dir = d }
func (p *plain) mkdir(name string, perm fs.FileMode) error     { return p.Mkdir(name, perm) }
func (p *plain) chmod(name string, perm fs.FileMode) error     { return p.Chmod(name, perm) }
func (p *plain) write(n string, d []byte, m fs.FileMode) error { return p.Write(n, d, m) }
func (p *plain) sync(names []string) error                     { return p.Sync(names) }
func (p *plain) link(from, to string) error                    { return p.Link(from, to) }
func (p *plain) symlink(target, name string) error             { return p.Symlink(target, name) }
func (p *plain) rename(from, to string) error                  { return p.Rename(from, to) }
func (p *plain) exchange(a, b string) error                    { return p.Exchange(a, b) }
func (p *plain) syncDir(name string) error                     { return p.SyncDir(name) }
func (p *plain) remove(name string) error                      { return p.Remove(name) }
func (p *plain) removeAll(name string) error                   { return p.RemoveAll(name) }
func (p *plain) within(dir string) bool                        { return within(dir) }

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
