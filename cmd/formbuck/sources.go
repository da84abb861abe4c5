package main

import (
	"crypto/sha256"
	"os"
	"slices"
)

// Counts of looks at the files that are watched; common practice, no source.
const (
	// freshLooks is for how many looks after a change in a file's entry its content is read all the same:
	// some file systems keep times to two seconds, and a second save within them would not show in the entry.
	freshLooks = 15
	// quietLooks is how many looks at files must find the same before a save counts as finished.
	quietLooks = 2
	// goneLooks is the same where a file is missing: some editors take the old one away before they put the
	// new one in its place.
	goneLooks = 6
)

// sources are the files that a variant was read from, as they were when they were read, and as they were
// last seen.
type sources struct {
	files []source // in the order in which they were first read
}

// source is one file.
type source struct {
	path       string
	read, seen stamp
	info       os.FileInfo // at the last look; nil: there was none
	fresh      int         // looks for which the content is read whatever the entry says
	used       bool        // was read since begin
}

// stamp tells contents apart: the digest of a file, or why it cannot be read.
type stamp struct {
	sum  [sha256.Size]byte
	lack string
}

func stampOf(data []byte, err error) stamp {
	if err != nil {
		return stamp{lack: err.Error()}
	}
	return stamp{sum: sha256.Sum256(data)}
}

// open reads a file for the variant and keeps in mind what it held.
func (s *sources) open(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		info = nil
	}
	data, err := readFile(path) // after the look at the entry: what is saved in between shows in the next look
	now := source{path: path, read: stampOf(data, err), seen: stampOf(data, err), info: info, fresh: freshLooks, used: true}
	if i := slices.IndexFunc(s.files, func(f source) bool { return f.path == path }); i >= 0 {
		s.files[i] = now
	} else {
		s.files = append(s.files, now)
	}
	return data, err
}

// begin takes the files as they are for read: what follows reads those anew that it comes to.
func (s *sources) begin() {
	for i := range s.files {
		s.files[i].read, s.files[i].used = s.files[i].seen, false
	}
}

// forget drops the files that were not read since begin: a variant that was understood needs no others.
func (s *sources) forget() {
	s.files = slices.DeleteFunc(s.files, func(f source) bool { return !f.used })
}

// look sees how the files are now, and tells whether one of them is not as it was at the look before.
func (s *sources) look() (moved bool) {
	for i := range s.files {
		moved = s.files[i].look() || moved
	}
	return moved
}

func (f *source) look() (moved bool) {
	info, err := os.Stat(f.path)
	if err != nil {
		info = nil
	}
	if !sameEntry(info, f.info) {
		f.fresh = freshLooks
	}
	f.info = info
	if f.fresh == 0 {
		return false
	}
	f.fresh--
	was := f.seen
	f.seen = stampOf(readFile(f.path))
	return f.seen != was
}

// sameEntry tells whether a folder's entry for a file is what it was.
func sameEntry(a, b os.FileInfo) bool {
	if a == nil || b == nil {
		return a == nil && b == nil
	}
	return os.SameFile(a, b) && a.Size() == b.Size() && a.ModTime().Equal(b.ModTime())
}

// changed are the files that are not as they were when they were read.
func (s *sources) changed() []string {
	var paths []string
	for _, f := range s.files {
		if f.seen != f.read {
			paths = append(paths, f.path)
		}
	}
	return paths
}

// lacking tells whether one of the files that changed cannot be read now.
func (s *sources) lacking() bool {
	return slices.ContainsFunc(s.files, func(f source) bool { return f.seen != f.read && f.seen.lack != "" })
}

// paths are the files, in the order in which they were read.
func (s *sources) paths() []string {
	var all []string
	for _, f := range s.files {
		all = append(all, f.path)
	}
	return all
}
