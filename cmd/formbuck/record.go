package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"sync"

	"formbuck/buck"
	"formbuck/buck/job"
	"formbuck/buck/record"
	"formbuck/buck/variant"
	"formbuck/cmd/internal/folder"
	"formbuck/mesh/stl"
)

// recordName is the name of a variant's record in its job folder.
func recordName(name string) string { return name + "-record.json" }

// keep adds the record of the set to the files of the product.
func (w *knifeWork) keep(p *product, set *job.Set) error {
	r, err := w.record(set)
	if err != nil {
		return err
	}
	data, err := r.Encode()
	if err != nil {
		return err
	}
	p.Record = r
	p.Files = append(p.Files, folder.File{Name: recordName(w.Name()), Data: data})
	return nil
}

// record is the record of a set that was made.
func (w *knifeWork) record(set *job.Set) (*record.Record, error) {
	r := &record.Record{
		Program: version(), Variant: w.Name(), File: w.order.origin(w.Name()), Tolerance: w.order.close,
		Drawing: record.Drawing{File: w.variant.Drawing.File, SHA256: digest(w.drawn)},
	}
	for _, s := range w.variant.Settings() {
		k := record.Key{Path: s.Key.Path, Value: s.Value}
		if s.Given {
			k.TOML = s.Written
		}
		r.Keys = append(r.Keys, k)
	}
	for _, p := range set.Pieces {
		m, err := (job.Format{}).InFile(p)
		if err != nil {
			return nil, err
		}
		var b bytes.Buffer
		if err := stl.Encode(&b, m, ""); err != nil {
			return nil, err
		}
		r.Pieces = append(r.Pieces, record.Piece{
			Name: p.Label(), Hand: p.Hand, Kind: string(p.Kind), SHA256: digest(b.Bytes()),
			Figure: p.Figure.What, Value: figure(p.Figure.Length), Size: vector(m.Bounds().Size()),
			Volume: figure(m.Volume()), Governed: p.Governed,
		})
	}
	return r, nil
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// earlier is the record that lies in a job folder, nil where there is none.
func earlier(dir, name string) (*record.Record, error) {
	path := filepath.Join(dir, recordName(name))
	if _, err := os.Lstat(path); err != nil {
		return nil, nil //nolint:nilerr // no record, or none that can be looked at: the same to a first make
	}
	r, err := input(path, record.Decode)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return r, nil
}

// compare tells how what was made differs from an earlier record, and why: each change is tried by itself
// on the earlier variant.
func (w *knifeWork) compare(ctx context.Context, older, newer *record.Record) *record.Report {
	decoded := sync.OnceValues(func() (*variant.Variant, error) {
		return variant.Decode(older.Variant+".toml", bytes.NewReader(older.Source()))
	})
	return record.Compare(older, newer, record.Trial{
		Changed: func(c record.Change, kinds []string) (map[string]string, error) {
			was, err := decoded()
			if err != nil {
				return nil, err
			}
			return w.try(ctx, was, older, c, kinds)
		},
		Marked: func(keys, kinds []string) (map[string]string, error) {
			was, err := decoded()
			if err != nil {
				return nil, err
			}
			marked, err := w.variant.With(was, keys...)
			if err != nil {
				return nil, err
			}
			return w.digests(ctx, marked, w.order.hands, kinds, w.order.close)
		},
	})
}

// digests are those of the pieces of another variant of the same drawing, by label; no hands: all of the variant's.
func (w *knifeWork) digests(ctx context.Context, v *variant.Variant, hands []buck.Hand, kinds []string, tolerance float64) (map[string]string, error) {
	other, err := w.with(v)
	if err != nil {
		return nil, err
	}
	other.order.hands, other.order.pieces, other.order.close = hands, kinds, tolerance
	set, err := job.Make(ctx, other.knife, other.request())
	if err != nil {
		return nil, err
	}
	r, err := other.record(set)
	if err != nil {
		return nil, err
	}
	digests := make(map[string]string)
	for _, p := range r.Pieces {
		digests[p.Label()] = p.SHA256
	}
	return digests, nil
}

// try makes the pieces of the earlier variant with one change.
func (w *knifeWork) try(ctx context.Context, was *variant.Variant, older *record.Record, c record.Change, kinds []string) (map[string]string, error) {
	one := was
	if c.What != record.DrawingChange && c.What != record.ToleranceChange && c.What != record.ProgramChange {
		var err error
		if one, err = was.With(w.variant, c.What); err != nil {
			return nil, err
		}
	}
	tolerance := older.Tolerance
	if c.What == record.ToleranceChange {
		tolerance = w.order.close
	}
	return w.digests(ctx, one, nil, kinds, tolerance)
}

// sinceAnswer is a report as it is answered in JSON.
type sinceAnswer struct {
	Changed bool          `json:"changed"`
	Changes []sinceChange `json:"changes"`
	Pieces  []sincePiece  `json:"pieces"`
}

type sinceChange struct {
	What string `json:"what"`
	Was  string `json:"was"`
	Now  string `json:"now"`
}

type sincePiece struct {
	Piece    string   `json:"piece"`
	Hand     string   `json:"hand"`
	State    string   `json:"state"`
	Delta    string   `json:"delta"`
	Figure   string   `json:"figure"`
	Was      *float64 `json:"was_mm"`
	Now      *float64 `json:"now_mm"`
	Because  []string `json:"because"`
	Together bool     `json:"together"`
}

func sinceOf(r *record.Report) *sinceAnswer {
	t := &sinceAnswer{Changed: r.Changed(), Changes: []sinceChange{}, Pieces: []sincePiece{}}
	for _, c := range r.Changes {
		t.Changes = append(t.Changes, sinceChange(c))
	}
	for _, o := range r.Outcomes {
		p := o.Piece()
		one := sincePiece{
			Piece: p.Name, Hand: p.Hand, State: string(o.State), Delta: o.Delta(), Figure: p.Figure,
			Because: []string{}, Together: o.Together,
		}
		if o.State != record.Added {
			one.Was = &o.Was.Value
		}
		if o.State != record.Gone {
			one.Now = &o.Now.Value
		}
		for _, c := range o.Because {
			one.Because = append(one.Because, c.What)
		}
		t.Pieces = append(t.Pieces, one)
	}
	return t
}
