package main

import (
	"context"
	"errors"
	"fmt"
	"io"

	"formbuck/buck"
	"formbuck/profile/dxf"
	"formbuck/testdata"
)

// demo is the variant that is made when none is given.
const demo = "thistle.toml"

// work is a variant that has been read and can be made.
type work interface {
	// Name is the variant's name, fit for file names.
	Name() string
	// Make makes all files of the job; it stops early when the context is done.
	Make(ctx context.Context, o buck.Options) (*buck.Made, error)
}

// opened is the work that an order is for.
func opened(o order) (work, error) {
	d, err := design(o)
	if err != nil {
		return nil, err
	}
	return d, nil
}

// design reads the variant of an order and its drawing, or the demo's.
func design(o order) (*buck.Design, error) {
	file, from := o.variant, o.source()
	if file == "" {
		file, from.Read = demo, testdata.FS.ReadFile
	}
	if err := mistaken(file, ".toml"); err != nil {
		return nil, err
	}
	d, err := from.Open(file)
	return d, passable(err)
}

// source reads from the disk, or as the order says.
func (o order) source() buck.Source {
	if o.read == nil {
		o.read = readFile
	}
	return buck.Source{Read: o.read, Unfinished: o.options.Unfinished}
}

// readFile reads a whole file of the disk, up to the size of a drawing.
func readFile(path string) ([]byte, error) {
	data, err := input(path, func(r io.Reader) ([]byte, error) { return io.ReadAll(io.LimitReader(r, dxf.MaxBytes+1)) })
	if len(data) > dxf.MaxBytes {
		return nil, fmt.Errorf("%s: has more than %d MB, more than is read of a drawing or a file of measures", path, dxf.MaxBytes>>20)
	}
	return data, err
}

// passable is the error of a variant or drawing; faults that --unfinished lets pass say so.
func passable(err error) error {
	var faults dxf.Faults
	if errors.As(err, &faults) {
		for _, f := range faults {
			if f.Class == dxf.ImplausibleSize {
				f.What += " (--unfinished takes it as it is)"
			}
		}
	}
	var f *buck.Fault
	if errors.As(err, &f) && f.Kind == buck.Binds {
		return fmt.Errorf("%w; nothing was written (--unfinished makes the pieces all the same)", err)
	}
	return err
}
