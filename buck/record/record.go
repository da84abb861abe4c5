// Package record keeps what was made from what, so that after a change it can be told which pieces
// changed, by how much and why, and which of those that lie in the drawer are still good.
//
// A record is a file of the job folder: JSON, the same bytes for the same making. Lengths are mm,
// volumes mm3. It holds every key of the variant with its value, so that the earlier variant can be
// computed again with one key changed: a reason is found by trying, not by guessing.
package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
)

// format is the number of the records' form.
const format = 1

// Record is what was made from what.
type Record struct {
	Format    int     `json:"format"`
	Program   string  `json:"program"` // that made it
	Variant   string  `json:"variant"`
	File      string  `json:"file,omitempty"` // of the variant, see the caller; empty: not known
	Tolerance float64 `json:"tolerance_mm"`   // of the meshes; 0: as usual
	Drawing   Drawing `json:"drawing"`
	Keys      []Key   `json:"keys"`
	Pieces    []Piece `json:"pieces"`
}

// Drawing is the knife's drawing.
type Drawing struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"` // of its bytes, in hex
}

// Key is one key of the variant with the value that held.
type Key struct {
	Path  string `json:"key"`
	Value string `json:"value"`
	TOML  string `json:"toml,omitempty"` // as it was given; empty: it was not
}

// Piece is one piece that was made.
type Piece struct {
	Name     string     `json:"piece"` // without the hand
	Hand     string     `json:"hand"`
	Kind     string     `json:"kind"`
	SHA256   string     `json:"sha256"` // of its mesh as it is printed, as binary STL
	Figure   string     `json:"figure"` // what its governing measure is
	Value    float64    `json:"value_mm"`
	Size     [3]float64 `json:"size_mm"`
	Volume   float64    `json:"volume_mm3"`
	Governed string     `json:"governed"`
}

// Label is the piece's name and hand.
func (p Piece) Label() string { return p.Name + " " + p.Hand }

// Encode writes the record.
func (r *Record) Encode() ([]byte, error) {
	r.Format = format
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(r); err != nil {
		return nil, fmt.Errorf("record: %w", err)
	}
	return b.Bytes(), nil
}

// maxSize is the longest record in bytes.
const maxSize = 4 << 20

// Decode reads a record. The error tells why it is none, or that it is of another form.
func Decode(from io.Reader) (*Record, error) {
	text, err := io.ReadAll(io.LimitReader(from, maxSize+1))
	if err != nil {
		return nil, err
	}
	if len(text) > maxSize {
		return nil, errors.New("too long for a record")
	}
	var r Record
	if err := json.Unmarshal(text, &r); err != nil {
		return nil, fmt.Errorf("not a record: %w", err)
	}
	if r.Format != format {
		return nil, fmt.Errorf("a record of form %d, and only form %d is read", r.Format, format)
	}
	return &r, nil
}

// Source is the variant file that the record was made from, a key a line.
func (r *Record) Source() []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "name = %q\n", r.Variant)
	for _, k := range r.Keys {
		if k.TOML != "" && k.Path != "name" && k.Path != "base" {
			fmt.Fprintf(&b, "%s = %s\n", k.Path, k.TOML)
		}
	}
	return []byte(b.String())
}

// value is the value of a key, and whether it was given.
func (r *Record) value(path string) (string, bool) {
	for _, k := range r.Keys {
		if k.Path == path {
			return k.Value, k.TOML != ""
		}
	}
	return "", false
}

// piece finds a piece of the same name and hand.
func (r *Record) piece(p Piece) (Piece, bool) {
	i := slices.IndexFunc(r.Pieces, func(q Piece) bool { return q.Name == p.Name && q.Hand == p.Hand })
	if i < 0 {
		return Piece{}, false
	}
	return r.Pieces[i], true
}

// Rounded is a figure as a record has it: rounded to 1e-9 of its unit, which is far below what any file
// holds, so that the last bits of different processors do not show, and never -0.
func Rounded(x float64) float64 {
	if math.Abs(x) < 1e6 {
		x = math.Round(x*1e9) / 1e9
	}
	return x + 0
}
