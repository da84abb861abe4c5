package variant

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"formbuck/buck/internal/nearest"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"
)

// setting is one known key of a file with the value written for it. It carries its own place, file
// included, so that the settings of one document can be laid over those of another.
type setting struct {
	at     Position // of the key
	value  value
	broken bool // the value is not TOML and has been reported
}

// document is what one file sets, before any value is understood.
type document struct {
	source   source
	settings map[string]setting
	tables   map[string]Position // written, by path
	meant    map[string]bool     // keys that were probably meant by unknown ones
	faults   Faults
	readable []byte   // the text without the lines that are not TOML
	cut      bool     // reading stopped before the end
	bases    []string // files that it was laid over, the nearest first
}

// maxSlips is how many lines that are not TOML are reported before reading stops.
const maxSlips = 20

// newDocument reads the text. A line that is not TOML is reported and, where it is a plain
// key = value, taken out, so that the rest is still read.
func newDocument(src source, known *schema) *document {
	text := slices.Clone(src.text)
	var slips []slip
	for {
		r := &reader{known: known, doc: emptyDocument(src)}
		err := r.read(text)
		if err == nil {
			r.doc.addSlips(slips)
			r.doc.readable = text
			return r.doc
		}
		s := r.findSlip(err)
		slips = append(slips, s)
		if !s.plain || len(slips) == maxSlips {
			if s.fault.Hint == "" {
				s.fault.Hint = "what follows was not read"
			}
			r.doc.addSlips(slips)
			r.doc.cut = true
			return r.doc
		}
		for i := s.start; i < s.end; i++ {
			text[i] = ' '
		}
	}
}

func emptyDocument(src source) *document {
	return &document{
		source: src, settings: map[string]setting{}, tables: map[string]Position{}, meant: map[string]bool{},
	}
}

func (d *document) addSlips(slips []slip) {
	for _, s := range slips {
		d.faults = append(d.faults, s.fault)
		if _, twice := d.settings[s.fault.Key]; s.fault.Key != "" && !twice {
			d.settings[s.fault.Key] = setting{at: s.fault.At, broken: true, value: value{at: s.fault.At}}
		}
	}
}

// audit lets the TOML decoder judge the document as a whole: it knows rules of TOML that the walk
// over single expressions does not see, such as a table that reopens dotted keys. It stops at its
// first fault and yields it, or nil where that is among the known ones.
func (d *document) audit(known Faults) *Fault {
	var decoded map[string]any
	var broken *toml.DecodeError
	if !errors.As(toml.Unmarshal(d.readable, &decoded), &broken) {
		return nil
	}
	line, column := broken.Position()
	var names []string
	for _, part := range broken.Key() {
		names = append(names, bare(part))
	}
	key := strings.Join(names, ".")
	if slices.ContainsFunc(known, func(f *Fault) bool { return f.At.Line == line || key != "" && f.Key == key }) {
		return nil
	}
	fault := &Fault{
		At: d.source.position(d.source.lineStart(line) + column - 1), Key: key,
		Problem: Syntax, What: "not TOML: " + strings.TrimPrefix(broken.Error(), "toml: "),
	}
	if d.source.header(key) == line {
		fault.What, fault.Hint = "the table begins here, and a key of it stands above already", "write that key below this line"
	}
	return fault
}

// reader walks over the expressions of a document.
type reader struct {
	known *schema
	doc   *document
	p     unstable.Parser
	table string // the one whose keys are being read
	skip  bool   // the keys of the table are not read, because its header is at fault
}

// read walks over the text, which has the length of the source's. It yields the parser's error.
func (r *reader) read(text []byte) error {
	r.p.Reset(text)
	for r.p.NextExpression() {
		switch e := r.p.Expression(); e.Kind {
		case unstable.Table, unstable.ArrayTable:
			r.header(e)
		default:
			if !r.skip {
				r.keyValue(r.table, e)
			}
		}
	}
	return r.p.Error()
}

// header begins a table. The keys below a misspelt header are read as those of the table that was
// probably meant.
func (r *reader) header(e *unstable.Node) {
	path, first, _ := r.path("", e)
	r.known.boss(path)
	at := r.doc.source.position(first)
	r.table, r.skip = path, false
	if key := r.known.byPath[path]; key != nil {
		r.skip = true
		r.doc.meant[path] = true
		r.refuse(&Fault{At: at, Key: path, Problem: WrongType, Found: "a table", Expected: key.expected()})
		return
	}
	if !r.known.isTable(path) {
		r.table = r.unknownTable(path, at)
		r.skip = r.table == ""
		return
	}
	if e.Kind == unstable.ArrayTable {
		r.refuse(&Fault{
			At: at, Key: path, Problem: WrongType, Found: "[[" + path + "]]", Expected: "[" + path + "]",
		})
		return
	}
	if before, twice := r.doc.tables[path]; twice {
		r.refuse(&Fault{
			At: at, Key: path, Problem: Repeated, What: fmt.Sprintf("table given twice, first in line %d", before.Line),
			Hint: "put its keys there",
		})
		return
	}
	r.doc.tables[path] = at
}

// keyValue takes a key with its value into the document.
func (r *reader) keyValue(table string, e *unstable.Node) {
	path, first, end := r.path(table, e)
	r.known.boss(path)
	at := r.doc.source.position(first)
	v := r.value(e.Value(), r.valueOffset(end))
	switch key := r.known.byPath[path]; {
	case key != nil:
		if before, twice := r.doc.settings[path]; twice {
			r.refuse(&Fault{
				At: at, Key: path, Problem: Repeated,
				What: fmt.Sprintf("given twice, first in line %d", before.at.Line), Found: v.shown(),
			})
			return
		}
		r.doc.settings[path] = setting{at: at, value: v}
	case r.known.isTable(path) && v.kind == unstable.InlineTable:
		r.doc.tables[path] = at
		for entries := e.Value().Children(); entries.Next(); {
			r.keyValue(path, entries.Node())
		}
	case r.known.isTable(path):
		for _, name := range r.known.namesIn(path) {
			r.doc.meant[join(path, name)] = true
		}
		r.refuse(&Fault{
			At: v.at, Key: path, Problem: WrongType, Found: v.shown(),
			Expected: "the table [" + path + "]", Hint: "its keys are " + strings.Join(r.known.namesIn(path), ", "),
		})
	default:
		r.unknownKey(path, at)
	}
}

// path is the dotted path of an expression's key below the table, with the offsets of its first
// byte and of the byte after its last.
func (r *reader) path(table string, e *unstable.Node) (path string, first, end int) {
	var names []string
	if table != "" {
		names = append(names, table)
	}
	first = -1
	for parts := e.Key(); parts.Next(); {
		part := parts.Node()
		if first < 0 {
			first = int(part.Raw.Offset)
		}
		end = int(part.Raw.Offset + part.Raw.Length)
		names = append(names, bare(string(part.Data)))
	}
	return strings.Join(names, "."), first, end // joined once: a key can have thousands of parts
}

// bare is the part of a key as it is written without quotes, or in quotes where it must be.
func bare(part string) string {
	plain := func(r rune) bool {
		return r == '-' || r == '_' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
	}
	if part != "" && strings.IndexFunc(part, func(r rune) bool { return !plain(r) }) < 0 {
		return part
	}
	return strconv.Quote(part)
}

// valueOffset is where the value after a key begins.
func (r *reader) valueOffset(afterKey int) int {
	text := r.p.Data()
	for afterKey < len(text) && strings.IndexByte(" \t=", text[afterKey]) >= 0 {
		afterKey++
	}
	return afterKey
}

// unknownTable refuses a table that no variant has, and yields the one that was probably meant.
func (r *reader) unknownTable(path string, at Position) string {
	fault := &Fault{At: at, Key: path, Problem: UnknownKey, What: "unknown table"}
	r.refuse(fault)
	if fault.Hint = r.known.refuseBoss(path); fault.Hint != "" {
		return ""
	}
	meant := nearest.To(path, r.known.tables)
	if meant == "" {
		fault.Expected = listed(r.known.tables)
		return ""
	}
	fault.Hint = "did you mean " + meant + "?"
	return meant
}

// unknownKey refuses a key that no variant has, with the names it may be a slip for.
func (r *reader) unknownKey(path string, at Position) {
	table, name := split(path)
	fault := &Fault{At: at, Key: path, Problem: UnknownKey}
	r.refuse(fault)
	if fault.Hint = r.known.refuseBoss(path); fault.Hint != "" {
		return
	}
	if plain := strings.ReplaceAll(path, `"`, ""); r.known.byPath[plain] != nil {
		fault.Hint = "write " + plain + " without quotes"
		r.doc.meant[plain] = true
		return
	}
	if meant, outside := r.outside(path); outside {
		fault.Hint = r.wherefor(meant)
		if !strings.HasSuffix(path, meant) {
			fault.Hint = "did you mean " + meant + "? " + fault.Hint
		}
		r.doc.meant[meant] = true
		return
	}
	near, elsewhere := nearest.To(name, r.known.namesIn(table)), r.known.pathsNamed(name)
	switch {
	case near != "":
		fault.Hint = "did you mean " + join(table, near) + "?"
		r.doc.meant[join(table, near)] = true
	case len(elsewhere) > 0:
		fault.Hint = "did you mean " + listed(elsewhere) + "?"
		if r.table != "" {
			fault.Hint += " a key stands under its own [table]"
		}
	default:
		fault.Expected = listed(r.known.namesIn(table))
	}
	if fault.Hint == "" && fault.Expected == "" {
		fault.Expected = listed(r.known.namesIn(""))
	}
}

// outside is the whole key that was written below a table that is not its own.
func (r *reader) outside(path string) (key string, found bool) {
	rest, below := strings.CutPrefix(path, r.table+".")
	if r.table == "" || !below {
		return "", false
	}
	rest = strings.ReplaceAll(rest, `"`, "")
	r.known.boss(rest)
	if r.known.byPath[rest] != nil {
		return rest, true
	}
	table, name := split(rest)
	near := nearest.To(name, r.known.namesIn(table))
	return join(table, near), table != "" && near != "" && r.known.byPath[join(table, near)] != nil
}

// wherefor says where in the file a key is to be written. A table that the file has takes all of its keys itself:
// TOML forbids to give some of them above it.
func (r *reader) wherefor(key string) string {
	table, name := split(key)
	if line := r.doc.source.header(table); table != "" && line > 0 {
		return fmt.Sprintf("write it as %s under [%s], which begins in line %d", name, table, line)
	}
	if table == "" {
		return "write it above the first [table]"
	}
	return fmt.Sprintf("write it above the first [table], or as %s under a [%s] of its own", name, table)
}

func (r *reader) refuse(f *Fault) { r.doc.faults = append(r.doc.faults, f) }
