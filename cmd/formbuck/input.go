package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// maxInput is the most that is read of any one file, in bytes: 40 million triangles.
const maxInput = 2 << 30

// input reads the file at path with decode. An error that the system gives is worded with the path.
func input[T any](path string, decode func(io.Reader) (T, error)) (T, error) {
	var none T
	info, err := os.Stat(path) // before it is opened: opening a pipe waits for its writer
	switch {
	case err != nil:
		return none, fmt.Errorf("%s: %w", path, reason(err))
	case info.IsDir():
		return none, fmt.Errorf("%s: is a folder, and a file is wanted here", path)
	case !info.Mode().IsRegular():
		return none, fmt.Errorf("%s: is not a plain file", path)
	case info.Size() > maxInput:
		return none, fmt.Errorf("%s: has %d bytes; at most %d are read", path, info.Size(), int64(maxInput))
	}
	f, err := os.Open(path)
	if err != nil {
		return none, fmt.Errorf("%s: %w", path, reason(err))
	}
	defer f.Close() //nolint:errcheck // only read from
	v, err := decode(f)
	var system *fs.PathError
	if errors.As(err, &system) {
		return none, fmt.Errorf("%s: %w", path, system.Err)
	}
	return v, err
}

// reason is the system's word for what is wrong, without the path.
func reason(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}

// seenFrom is a path that a file gives, seen from the folder of the file.
func seenFrom(file, path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(filepath.Dir(file), path)
}
