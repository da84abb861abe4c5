package buck

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"runtime/debug"
	"slices"
	"sync"

	"formbuck/buck/internal/job"
	"formbuck/buck/record"
	"formbuck/buck/variant"
	"formbuck/mesh/stl"
)

// RecordName is the name of a variant's record among its files.
func RecordName(variant string) string { return variant + "-record.json" }

// Version names the build of this module: its version and, where the program was built from a checkout of it, the
// commit.
func Version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	v, commit := info.Main.Version, ""
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			commit = " " + s.Value
		}
	}
	if i := slices.IndexFunc(info.Deps, func(m *debug.Module) bool { return m.Path == "formbuck" }); i >= 0 {
		v, commit = info.Deps[i].Version, "" // another program's build: its commit is none of ours
	}
	if v == "" {
		v = "(devel)"
	}
	return fmt.Sprintf("%s%s %s", v, commit, info.GoVersion)
}

// keep adds the record of the set to what was made.
func (d *Design) keep(m *Made, set *job.Set, o Options) error {
	r, err := d.record(set, o)
	if err != nil {
		return err
	}
	data, err := r.Encode()
	if err != nil {
		return err
	}
	m.Record = r
	m.Files = append(m.Files, File{Name: RecordName(d.Name()), Data: data})
	return nil
}

// record is the record of a set that was made.
func (d *Design) record(set *job.Set, o Options) (*record.Record, error) {
	r := &record.Record{
		Program: Version(), Variant: d.Name(), File: o.Origin, Tolerance: o.Tolerance,
		Drawing: record.Drawing{File: d.variant.Drawing.File, SHA256: digest(d.drawn)},
	}
	for _, s := range d.variant.Settings() {
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
		size := m.Bounds().Size()
		r.Pieces = append(r.Pieces, record.Piece{
			Name: p.Label(), Hand: p.Hand, Kind: string(p.Kind), SHA256: digest(b.Bytes()),
			Figure: p.Figure.What, Value: record.Rounded(p.Figure.Length),
			Size:   [3]float64{record.Rounded(size.X), record.Rounded(size.Y), record.Rounded(size.Z)},
			Volume: record.Rounded(m.Volume()), Governed: p.Governed,
		})
	}
	return r, nil
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// inputs is the digest of all that a job is made from.
func (d *Design) inputs(o Options) string {
	var b bytes.Buffer
	const format = 2 // of what a batch keeps of it: what other programs kept is made anew
	fmt.Fprintf(&b, "%d\n%s\n%s\n%v\n%v\n%s\n", format, Version(), digest(d.drawn), o.Hands, o.Tolerance, o.Paper)
	for _, s := range d.variant.Settings() {
		fmt.Fprintf(&b, "%s = %s %t\n", s.Key.Path, s.Value, s.Given)
	}
	if o.Unfinished {
		b.WriteString("unfinished\n")
	}
	if p := d.variant.Spec.Fixture.Made; p != nil {
		b.Write(p.Encode())
	}
	return digest(b.Bytes())
}

// Compare tells which pieces of the newer design are not those of the older one, by how much and why: each
// change is tried by itself on the older one. Of the options, hands, pieces and tolerance count.
func Compare(ctx context.Context, older, newer *Design, o Options) (*record.Report, error) {
	var records [2]*record.Record
	for i, d := range []*Design{older, newer} {
		set, err := job.Make(ctx, d.knife, o.request(d))
		if err != nil {
			return nil, d.placed(err)
		}
		if records[i], err = d.record(set, o); err != nil {
			return nil, err
		}
	}
	report := newer.Since(ctx, records[0], records[1], o)
	return report, ctx.Err()
}

// Since tells how what was made now differs from an earlier record, and why: each change is tried by itself
// on the earlier variant. The options are those that it was made with.
func (d *Design) Since(ctx context.Context, older, now *record.Record, o Options) *record.Report {
	decoded := sync.OnceValues(func() (*variant.Variant, error) {
		return variant.Decode(older.Variant+".toml", bytes.NewReader(older.Source()))
	})
	return record.Compare(older, now, record.Trial{
		Changed: func(c record.Change, kinds []string) (map[string]string, error) {
			was, err := decoded()
			if err != nil {
				return nil, err
			}
			return d.try(ctx, was, older, c, kinds, o)
		},
		Marked: func(keys, kinds []string) (map[string]string, error) {
			was, err := decoded()
			if err != nil {
				return nil, err
			}
			marked, err := d.variant.With(was, keys...)
			if err != nil {
				return nil, err
			}
			return d.digests(ctx, marked, kinds, o)
		},
	})
}

// digests are those of the pieces of another variant of the same drawing, by label.
func (d *Design) digests(ctx context.Context, v *variant.Variant, kinds []string, o Options) (map[string]string, error) {
	other, err := d.with(v, o.Unfinished)
	if err != nil {
		return nil, err
	}
	o.Pieces = nil
	for _, kind := range kinds {
		o.Pieces = append(o.Pieces, job.Kind(kind))
	}
	set, err := job.Make(ctx, other.knife, o.request(other))
	if err != nil {
		return nil, err
	}
	r, err := other.record(set, o)
	if err != nil {
		return nil, err
	}
	digests := make(map[string]string)
	for _, p := range r.Pieces {
		digests[p.Label()] = p.SHA256
	}
	return digests, nil
}

// try makes the pieces of the earlier variant with one change, for the hands that it names.
func (d *Design) try(ctx context.Context, was *variant.Variant, older *record.Record, c record.Change, kinds []string, o Options) (map[string]string, error) {
	one := was
	if c.What != record.DrawingChange && c.What != record.ToleranceChange && c.What != record.ProgramChange {
		var err error
		if one, err = was.With(d.variant, c.What); err != nil {
			return nil, err
		}
	}
	if c.What != record.ToleranceChange {
		o.Tolerance = older.Tolerance
	}
	o.Hands = nil
	return d.digests(ctx, one, kinds, o)
}
