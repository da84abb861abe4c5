package main

import (
	"fmt"
	"path/filepath"

	"formbuck/buck"
	"formbuck/buck/record"
)

// origin is the variant file that a job folder is made from, as its record keeps it: seen from where the folder
// lies, where the file is there or below, else its name alone, so that no path of the machine is kept. The name is
// the variant's, for a folder that is named for it. Empty for the demo.
func origin(variant, dir, name string) string {
	if variant == "" {
		return ""
	}
	if dir == "" {
		dir = name
	}
	last := filepath.Base(variant)
	file, err := filepath.Abs(variant)
	if err != nil {
		return last
	}
	if dir, err = filepath.Abs(dir); err != nil {
		return last
	}
	seen, err := filepath.Rel(filepath.Dir(dir), file)
	if err != nil || !filepath.IsLocal(seen) {
		return last
	}
	return filepath.ToSlash(seen)
}

// taken refuses to put the order into a job folder that was made from another variant file. A folder whose records
// do not tell the file, as those of the demo and of earlier versions, is anybody's.
func taken(o order, dir string) error {
	file := origin(o.variant, dir, "")
	paths, _ := filepath.Glob(filepath.Join(escaped(dir), "*"+buck.RecordName("")))
	for _, path := range paths {
		r, err := input(path, record.Decode)
		if err != nil || r.File == "" || r.File == file {
			continue // a record that cannot be read is told by recall
		}
		if file == "" {
			return fmt.Errorf("%s: was made from %s, and the demo knife would replace it; give it another folder (-o), or use --force", dir, r.File)
		}
		return fmt.Errorf("%s: was made from %s, and %s would replace it; give %s another name (name = ...) or another folder (-o), or use --force", dir, r.File, o.variant, o.variant)
	}
	return nil
}
