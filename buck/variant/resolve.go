package variant

import (
	"cmp"
	"math/big"
	"slices"
	"strings"

	"formbuck/buck/measures"
	"formbuck/buck/quantity"
)

// resolver turns the settings of a document into a variant, row by row.
type resolver struct {
	doc     *document
	variant *Variant
	known   *schema
	numbers numbers
	words   map[string]string // choices and texts, by path
	values  map[string]string // all that was understood, as text, by path
	faults  Faults
}

func resolve(known *schema, doc *document) (*Variant, error) {
	r := &resolver{
		doc: doc, known: known, numbers: numbers{}, words: map[string]string{}, values: map[string]string{}, faults: doc.faults,
		variant: &Variant{file: doc.source.file, doc: doc, byPath: map[string]int{}},
	}
	for path := range doc.settings {
		known.boss(path)
	}
	for _, row := range known.all() {
		r.fill(row)
	}
	if !doc.cut {
		r.checkTogether()
		if fault := doc.audit(r.faults); fault != nil {
			r.faults = append(r.faults, fault)
		}
	}
	if len(r.faults) > 0 {
		slices.SortStableFunc(r.faults, func(a, b *Fault) int {
			return cmp.Or(cmp.Compare(a.At.File, b.At.File), cmp.Compare(a.At.Line, b.At.Line), cmp.Compare(a.At.Column, b.At.Column))
		})
		return nil, r.faults
	}
	return r.variant, nil
}

// fill finds the value of one key and stores it.
func (r *resolver) fill(row *row) {
	s := Setting{Key: row.Key, At: Position{File: r.doc.source.file}}
	written, given := r.doc.settings[row.Path]
	switch {
	case given && !written.broken:
		s.Given, s.At, s.Written = true, written.value.at, written.value.source()
		got, fault := understand(row, written.value)
		if fault != nil {
			r.faults = append(r.faults, fault)
			break
		}
		r.store(row, got)
	case given || r.doc.meant[row.Path]:
	case row.Required:
		r.missing(row)
	default:
		r.fillUnset(row, &s)
	}
	s.Value = r.values[row.Path]
	r.variant.byPath[row.Path] = len(r.variant.settings)
	r.variant.settings = append(r.variant.settings, s)
}

// fillUnset stores the value of a key that the file does not give.
func (r *resolver) fillUnset(row *row, s *Setting) {
	switch {
	case row.reckon != nil:
		if value := row.reckon(r.numbers); value != nil {
			r.store(row, meaning{number: value})
			s.Written = r.numbers.measure(row.Key)
		}
	case row.Default != "":
		s.Written = row.Default
		if row.choose != nil {
			s.Written = cmp.Or(row.choose(r.words), row.Default)
		}
		if got, fault := understand(row, parseDefault(s.Written)); fault == nil {
			r.store(row, got)
		}
	case row.Path == "name":
		s.Written = quoted(nameOf(r.doc.source.file))
		r.fillName(row)
	}
}

// fillName takes the variant's name from its file's.
func (r *resolver) fillName(row *row) {
	name := nameOf(r.doc.source.file)
	if reason := faultOfName(name); reason != "" {
		r.faults = append(r.faults, &Fault{
			At: r.start(row), Key: row.Path, Problem: Missing, Hint: "the file's own name does not serve: " + reason,
		})
		return
	}
	r.store(row, meaning{text: name})
}

func (r *resolver) missing(row *row) {
	if r.doc.cut {
		return
	}
	r.faults = append(r.faults, &Fault{
		At: r.start(row), Key: row.Path, Problem: Missing, Expected: row.expected(), Hint: row.Doc,
	})
}

// start is the place of the header of the key's table, else the beginning of the file.
func (r *resolver) start(row *row) Position {
	if at, written := r.doc.tables[row.Table()]; written {
		return at
	}
	return Position{File: r.doc.source.file, Line: 1, Column: 1}
}

// store puts a value into its field and keeps it for checks against others.
func (r *resolver) store(row *row, got meaning) {
	if got.number != nil {
		r.numbers[row.Path] = got.number
	}
	if got.text != "" {
		r.words[row.Path] = got.text
	}
	r.values[row.Path] = r.valueOf(row, got)
	switch field := row.into(r.variant).(type) {
	case *float64:
		*field = quantity.Float(got.number)
	case **float64:
		value := quantity.Float(got.number)
		*field = &value
	case *int:
		*field = int(wholeOf(got.number))
	case *string:
		*field = got.text
	case *measures.Grind:
		*field = measures.Grind(got.text)
	case *measures.Carry:
		*field = measures.Carry(got.text)
	case *measures.Split:
		*field = measures.Split(got.text)
	case *[]measures.Hand:
		for _, word := range got.words {
			*field = append(*field, measures.Hand(word))
		}
	}
}

// valueOf is what was understood, as text.
func (r *resolver) valueOf(row *row, got meaning) string {
	switch {
	case got.number != nil:
		return r.numbers.measure(row.Key)
	case got.text != "":
		return got.text
	default:
		return strings.Join(got.words, ", ")
	}
}

// wholeOf is the whole part of a number that lies in the range of a count.
func wholeOf(r *big.Rat) int64 { return new(big.Int).Quo(r.Num(), r.Denom()).Int64() }
