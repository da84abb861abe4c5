package buck

import (
	"io"
	"io/fs"
	"slices"
	"testing/fstest"
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

// Open opens a file, or the folder ".". The files have no time: the same input makes the same.
func (f Files) Open(name string) (fs.File, error) {
	all := make(fstest.MapFS, len(f))
	for _, one := range f {
		all[one.Name] = &fstest.MapFile{Data: one.Data, Mode: 0o444}
	}
	return all.Open(name)
}
