package main

import (
	"fmt"
	"os"
	"path/filepath"

	"formbuck/buck"
	"formbuck/buck/record"
)

// earlier is the record that lies in a job folder, nil where there is none.
func earlier(dir, name string) (*record.Record, error) {
	path := filepath.Join(dir, buck.RecordName(name))
	if _, err := os.Lstat(path); err != nil {
		return nil, nil //nolint:nilerr // no record, or none that can be looked at: the same to a first make
	}
	r, err := input(path, record.Decode)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return r, nil
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
