package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"formbuck/buck/variant"
	"formbuck/cmd/internal/disk"
)

// maxInput is the most that is read of any one file, in bytes: 40 million triangles.
const maxInput = 2 << 30

// input reads the file at path with decode. An error that the system gives is worded with the path.
func input[T any](path string, decode func(io.Reader) (T, error)) (T, error) {
	var none T
	info, err := os.Stat(path) // before it is opened: opening a pipe waits for its writer
	switch {
	case err != nil:
		return none, fmt.Errorf("%s: %w", path, disk.Reason(err))
	case info.IsDir():
		return none, fmt.Errorf("%s: is a folder, and a file is wanted here", path)
	case !info.Mode().IsRegular():
		return none, fmt.Errorf("%s: is not a plain file", path)
	case info.Size() > maxInput:
		return none, fmt.Errorf("%s: has %d bytes; at most %d are read", path, info.Size(), int64(maxInput))
	}
	f, err := os.Open(path)
	if err != nil {
		return none, fmt.Errorf("%s: %w", path, disk.Reason(err))
	}
	defer f.Close() //nolint:errcheck // only read from
	v, err := decode(f)
	var system *fs.PathError
	if errors.As(err, &system) {
		return none, fmt.Errorf("%s: %w", path, system.Err)
	}
	return v, err
}

// matching are the paths with those that are patterns (*, ?, [a-z]) and no files in the place of these the files that
// match, in order: some shells leave patterns to the program.
func matching(paths []string) ([]string, error) {
	var all []string
	for _, path := range paths {
		if _, err := os.Lstat(path); err == nil || !strings.ContainsAny(path, "*?[") {
			all = append(all, path)
			continue
		}
		found, err := filepath.Glob(path)
		if err != nil || len(found) == 0 {
			return nil, fmt.Errorf("%s: no file matches", path)
		}
		all = append(all, found...)
	}
	return all, nil
}

// maxFolder is how long the last part of a job folder's path may be, in bytes: file systems take 255 (POSIX's NAME_MAX
// on Linux, from memory), and the workspace beside the folder puts .formbuck- before it.
const maxFolder = 245

// folderName refuses a path whose last part cannot be a job folder's name.
func folderName(path string) error {
	name := filepath.Base(path)
	if len(name) > maxFolder {
		return fmt.Errorf("%s...: the folder's name has %d bytes; at most %d are possible: give a shorter one (-o)", name[:20], len(name), maxFolder)
	}
	if runtime.GOOS == "windows" && variant.Device(name) {
		return fmt.Errorf("%s: is the name of a device on Windows; give the folder another (-o)", path)
	}
	return nil
}

// seenFrom is a path that a file gives, seen from the folder of the file.
func seenFrom(file, path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(filepath.Dir(file), path)
}

// escaped is a path in which nothing is a pattern.
func escaped(path string) string {
	return strings.NewReplacer("*", `\*`, "?", `\?`, "[", `\[`, `\`, `\\`).Replace(path)
}
