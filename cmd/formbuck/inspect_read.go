package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"formbuck/mesh"
	"formbuck/mesh/stl"
	"formbuck/mesh/threemf"
)

// body is one solid of a print file.
type body struct {
	name   string // of the object; empty in an STL file
	format string
	unit   string // of the file's lengths, where it states one
	mesh   *mesh.Mesh
	turned int // triangles whose stated normal points against their winding
}

// readBodies reads a print file of either format.
func readBodies(path string) ([]body, error) {
	if err := mistaken(path, ".stl"); err != nil {
		return nil, err
	}
	bodies, err := input(path, decodeBodies)
	if err != nil {
		return nil, placed(path, err)
	}
	return bodies, nil
}

// decodeBodies tells the format by the first bytes.
func decodeBodies(r io.Reader) ([]body, error) {
	head := make([]byte, len(threemf.Signature))
	n, err := io.ReadFull(r, head)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, err
	}
	// What is read at once needs half the memory, so that a file is set back where it can be.
	whole := io.MultiReader(bytes.NewReader(head[:n]), r)
	if s, ok := r.(io.Seeker); ok {
		if _, err := s.Seek(0, io.SeekStart); err == nil {
			whole = r
		}
	}
	if start := string(head[:n]); start == threemf.Signature || start == threemf.EmptySignature {
		return decode3MF(whole)
	}
	f, err := stl.Decode(whole)
	if err != nil {
		return nil, err
	}
	return []body{{format: string(f.Format), mesh: f.Mesh, turned: f.Turned}}, nil
}

// decode3MF takes what is to be built.
func decode3MF(r io.Reader) ([]body, error) {
	f, err := threemf.Decode(r)
	if err != nil {
		return nil, err
	}
	var bodies []body
	for _, item := range f.Items {
		bodies = append(bodies, body{name: item.Name, format: "3MF", unit: f.Unit, mesh: item.Mesh})
	}
	return bodies, nil
}

// placed words a fault of a print file as every other: FILE:LINE: what.
func placed(path string, err error) error {
	var p *threemf.Error
	if errors.As(err, &p) {
		return fmt.Errorf("%s: %s%s", path, p.Place(), p.What())
	}
	var f *stl.Error
	if !errors.As(err, &f) {
		return err
	}
	what := f.Class.String()
	if f.Class == stl.Unknown {
		what = "neither STL nor 3MF"
	}
	if f.Found != "" {
		what += ": " + f.Found
	}
	switch {
	case f.Line > 0:
		return fmt.Errorf("%s:%d: %s", path, f.Line, what)
	case f.Offset > 0:
		return fmt.Errorf("%s: at byte %d: %s", path, f.Offset, what)
	default:
		return fmt.Errorf("%s: %s", path, what)
	}
}
