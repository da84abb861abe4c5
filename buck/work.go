package buck

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"

	"formbuck/buck/measures"
)

// Work is a variant in one gauge, for the hands that a batch asks for: it has one job folder.
type Work struct {
	batch  *Batch
	file   string  // of the variant
	read   *Design // the variant as it was read, in its own gauge
	design *Design // in the gauge that is asked for
	gauge  float64
	other  bool // another gauge than the variant's own
	hands  []measures.Hand
	orders []int
	made   *articleFile
	text   func(name string) ([]byte, error) // of a file in its job folder
}

// understand reads the variant in the gauge that is asked for; in its own gauge it was read already.
func (w *Work) understand() (err error) {
	w.design = w.read
	if !w.other {
		return nil
	}
	base := filepath.Base(w.file)
	gauge := fmt.Sprintf("%.4g", w.gauge)
	file := filepath.Join(filepath.Dir(w.file), strings.TrimSuffix(base, filepath.Ext(base))+"-"+gauge+"mm.toml")
	text := fmt.Sprintf("base = %q\nsheet.thickness = %s\n", base, gauge)
	from := w.batch.from
	from.Read = func(path string) ([]byte, error) {
		if path == file {
			return []byte(text), nil
		}
		return w.batch.from.Read(path)
	}
	w.design, err = from.Open(file)
	return err
}

// Name is the variant's name, and that of its job folder.
func (w *Work) Name() string { return w.design.Name() }

// File is the path of the variant's file, in the gauge that is asked for.
func (w *Work) File() string { return w.design.file }

// options are those of the work's job.
func (w *Work) options(o Options) Options {
	return Options{
		Hands: w.hands, Paper: w.batch.options.Paper, Unfinished: w.batch.options.Unfinished,
		Origin: o.Origin, Earlier: o.Earlier,
	}
}

// Kept takes up what an earlier run left in the work's job folder, and reports whether that is all there and made of the
// same.
func (w *Work) Kept(folder fs.FS) bool {
	text, err := fs.ReadFile(folder, articleName(w.Name()))
	if err != nil {
		return false
	}
	a, err := decodeArticle(bytes.NewReader(text))
	if err != nil || a.Inputs != w.design.inputs(w.options(Options{})) || len(a.Work) == 0 {
		return false
	}
	for _, file := range a.files() {
		if _, err := fs.Stat(folder, file); err != nil {
			return false
		}
	}
	w.made, w.text = a, func(name string) ([]byte, error) { return fs.ReadFile(folder, name) }
	return true
}

// Make makes the work's job. Of the options, Origin and Earlier count; all else is as the batch has it.
func (w *Work) Make(ctx context.Context, o Options) (*Made, error) {
	o = w.options(o)
	m, err := w.design.Make(ctx, o)
	if err != nil {
		return nil, err
	}
	if m.Sheath == nil {
		return nil, fmt.Errorf("%s: the sheath cannot be laid out: %s", w.design.file, strings.Join(m.Warnings, "; "))
	}
	a, err := w.design.articleOf(m, o)
	if err != nil {
		return nil, err
	}
	file, err := a.encoded()
	if err != nil {
		return nil, err
	}
	m.Files = append(m.Files, file)
	programs := make(map[string][]byte)
	for _, p := range a.Programs {
		programs[p.File] = m.Files.Named(p.File)
	}
	w.made, w.text = a, func(name string) ([]byte, error) { return programs[name], nil }
	return m, nil
}
