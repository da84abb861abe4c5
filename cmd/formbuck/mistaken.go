package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// fileKind is a kind of file that some verb reads, known by the end of its name.
type fileKind struct {
	ends []string
	what string
	hint string // what to do with one that was given in another's place; %s is its path
}

// fileKinds are all kinds. A file that ends in anything else is read as what is wanted.
func fileKinds() []fileKind {
	return []fileKind{
		{[]string{".toml"}, "variant file", "formbuck make %s makes what it says"},
		{[]string{".dxf"}, "drawing", `formbuck profile %s says what it holds; formbuck new NAME writes a variant file, in which file = "..." under [drawing] names it`},
		{[]string{".stl", ".3mf"}, "print file", "formbuck inspect %s measures it"},
		{[]string{".csv"}, "list of orders", "formbuck batch %s plans it"},
		{[]string{".ngc"}, "program", "formbuck prove %s proves it"},
	}
}

// isKnown tells whether a name's end is that of a file that some verb reads.
func isKnown(end string) bool {
	return slices.ContainsFunc(fileKinds(), func(k fileKind) bool { return slices.Contains(k.ends, strings.ToLower(end)) })
}

// shortened refuses a path that is no file where one with the end left off is.
func shortened(path string, wanted fileKind) error {
	if info, err := os.Stat(path); err == nil && !info.IsDir() {
		return nil
	}
	for _, end := range wanted.ends {
		if info, err := os.Stat(path + end); err == nil && info.Mode().IsRegular() {
			return fmt.Errorf("%s: is no %s; did you mean %s?", path, wanted.what, path+end)
		}
	}
	return nil
}

// mistaken refuses a file that is of another kind than the one wanted, which is named by one of its ends.
func mistaken(path, wanted string) error {
	end := strings.ToLower(filepath.Ext(path))
	kinds := fileKinds()
	is := slices.IndexFunc(kinds, func(k fileKind) bool { return slices.Contains(k.ends, end) })
	want := slices.IndexFunc(kinds, func(k fileKind) bool { return slices.Contains(k.ends, wanted) })
	if is < 0 {
		return shortened(path, kinds[want])
	}
	if is == want {
		return nil
	}
	return fmt.Errorf("%s: is a %s, and a %s (%s) is wanted here; "+kinds[is].hint,
		path, kinds[is].what, kinds[want].what, strings.Join(kinds[want].ends, " or "), shellWord(path))
}
