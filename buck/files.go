package buck

import (
	"bytes"
	"io"
	"io/fs"
	"slices"
	"strings"
	"time"
)

// File is one file of what was made.
type File struct {
	Name   string // slash-separated
	Data   []byte
	Inputs string // digest of all that it was made from, for [Options].Earlier; empty: it is not known
}

// WriteTo writes the file's content.
func (f File) WriteTo(to io.Writer) (int64, error) {
	n, err := to.Write(f.Data)
	return int64(n), err
}

// Files are files of one folder, in the order in which they were made. They are an [fs.FS], so that
// os.CopyFS writes them and fs.Glob finds some of them.
type Files []File

// Named is the content of the file of a name; nil: there is none.
func (f Files) Named(name string) []byte {
	i := slices.IndexFunc(f, func(one File) bool { return one.Name == name })
	if i < 0 {
		return nil
	}
	return f[i].Data
}

// Open opens a file, or the folder ".".
func (f Files) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	if name == "." {
		return &folder{files: f.sorted()}, nil
	}
	i := slices.IndexFunc(f, func(one File) bool { return one.Name == name })
	if i < 0 {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &opened{entry: entry{f[i]}, Reader: bytes.NewReader(f[i].Data)}, nil
}

// sorted are the entries of the folder by name.
func (f Files) sorted() []fs.DirEntry {
	all := make([]fs.DirEntry, len(f))
	for i, one := range f {
		all[i] = entry{one}
	}
	slices.SortFunc(all, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return all
}

// entry is a file as its folder lists it. It has no time: the same input makes the same files.
type entry struct{ file File }

// Name is the file's name.
func (e entry) Name() string { return e.file.Name }

// Size is its length in bytes.
func (e entry) Size() int64 { return int64(len(e.file.Data)) }

// Mode is that of a file to be read.
func (e entry) Mode() fs.FileMode { return 0o444 }

// Type is that of a plain file.
func (e entry) Type() fs.FileMode { return 0 }

// ModTime is no time.
func (e entry) ModTime() time.Time { return time.Time{} }

// IsDir is false.
func (e entry) IsDir() bool { return false }

// Sys is nothing.
func (e entry) Sys() any { return nil }

// Info is the entry itself.
func (e entry) Info() (fs.FileInfo, error) { return e, nil }

// opened is a file that is read.
type opened struct {
	entry
	*bytes.Reader
}

// Stat is the file's entry.
func (o *opened) Stat() (fs.FileInfo, error) { return o.entry, nil }

// Close does nothing.
func (o *opened) Close() error { return nil }

// Size is the file's length in bytes.
func (o *opened) Size() int64 { return o.entry.Size() }

// folder is the folder that is read.
type folder struct {
	files []fs.DirEntry
	read  int
}

// Stat is the folder's own entry.
func (d *folder) Stat() (fs.FileInfo, error) { return root{}, nil }

// Close does nothing.
func (d *folder) Close() error { return nil }

// Read fails: a folder is listed.
func (d *folder) Read([]byte) (int, error) {
	return 0, &fs.PathError{Op: "read", Path: ".", Err: fs.ErrInvalid}
}

// ReadDir lists the next n files, or all that are left where n is not above 0.
func (d *folder) ReadDir(n int) ([]fs.DirEntry, error) {
	left := d.files[d.read:]
	if n > 0 && len(left) == 0 {
		return nil, io.EOF
	}
	if n > 0 {
		left = left[:min(n, len(left))]
	}
	d.read += len(left)
	return slices.Clone(left), nil
}

// root is the folder's own entry.
type root struct{ entry }

// Name is the folder's.
func (root) Name() string { return "." }

// Mode is that of a folder to be read.
func (root) Mode() fs.FileMode { return fs.ModeDir | 0o555 }

// Type is that of a folder.
func (root) Type() fs.FileMode { return fs.ModeDir }

// IsDir is true.
func (root) IsDir() bool { return true }
