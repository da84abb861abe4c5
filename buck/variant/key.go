package variant

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Kind is what kind of value a key takes.
type Kind string

// The kinds of value.
const (
	Length    Kind = "length"    // a number of mm, or a quantity such as "1/4 in"
	Angle     Kind = "angle"     // a number of degrees, or a quantity such as "5 deg"
	Share     Kind = "share"     // a number of percent, or a quantity such as "0.4 %"
	Direction Kind = "direction" // right, left, up or down, or an angle from the x axis
	Count     Kind = "count"     // a whole number
	Feed      Kind = "feed"      // a number of mm/min, or a quantity such as "48 in/min"
	Speed     Kind = "speed"     // a whole number of rpm, or a quantity such as "16000 rpm"
	YesNo     Kind = "yes or no" // true or false; "yes" and "no" are read, too
	Choice    Kind = "choice"    // one word of a few
	List      Kind = "list"      // some words of a few, each at most once
	Text      Kind = "text"
)

// Range is which values are allowed, in mm, degrees or percent or as a count, both ends included unless
// Above is set. The zero value allows all.
type Range struct {
	Min, Max float64
	Above    bool // Min itself is not allowed
}

// Key is one key that a variant file may hold.
type Key struct {
	Path     string // dotted, such as blade.thickness
	Kind     Kind
	Required bool
	Default  string   // as TOML; empty where none is fixed
	Unset    string   // what happens without the key, where Default is empty
	Example  string   // as TOML, where Default is empty
	Range    Range    // of a length, angle, share, count, feed or speed
	Choices  []string // of a choice or list
	Doc      string   // what it is, on one line
	Source   string   // of the default
}

// Table is the path of the table that holds the key; empty at the top.
func (k Key) Table() string {
	table, _ := split(k.Path)
	return table
}

// Name is the key's name within its table.
func (k Key) Name() string {
	_, name := split(k.Path)
	return name
}

// Sample is a value that the key takes, as TOML: its default, else its example.
func (k Key) Sample() string {
	if k.Default != "" {
		return k.Default
	}
	return k.Example
}

// Allowed says which values the key takes, as a phrase.
func (k Key) Allowed() string {
	switch k.Kind {
	case Length:
		return "a length" + k.Range.phrase(" mm")
	case Angle:
		return "an angle" + k.Range.phrase(" deg")
	case Share:
		return "a share" + k.Range.phrase(" %")
	case Direction:
		return "right, left, up, down or an angle" + k.Range.phrase(" deg")
	case Count:
		return "a whole number" + k.Range.phrase("")
	case Feed:
		return "a feed" + k.Range.phrase(" mm/min")
	case Speed:
		return "a speed" + k.Range.phrase(" rpm")
	case YesNo:
		return "true or false"
	case Choice:
		return listed(k.Choices)
	case List:
		return "a list of " + listed(k.Choices)
	default:
		return "a text in quotes"
	}
}

func (r Range) phrase(unit string) string {
	from, to := short(r.Min)+unit, short(r.Max)+unit
	switch {
	case r == Range{}:
		return ""
	case r.Above:
		return fmt.Sprintf(" over %s, up to %s", from, to)
	default:
		return fmt.Sprintf(" from %s to %s", from, to)
	}
}

func short(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

// Keys are all keys, table by table, in the order in which the starter file shows them.
func Keys() []Key {
	rows := rows()
	keys := make([]Key, len(rows))
	for i, r := range rows {
		keys[i] = r.Key
	}
	return keys
}

// schema finds keys and tables by their path.
type schema struct {
	rows   []row
	byPath map[string]*row
	tables []string         // in order, without the top
	more   map[string][]row // of the further bosses that the files name
}

func newSchema() *schema {
	s := &schema{rows: rows(), byPath: map[string]*row{}, more: map[string][]row{}}
	for i := range s.rows {
		r := &s.rows[i]
		s.byPath[r.Path] = r
		if table := r.Table(); table != "" && !slices.Contains(s.tables, table) {
			s.tables = append(s.tables, table)
		}
	}
	return s
}

func (s *schema) isTable(path string) bool {
	name, inside := strings.CutPrefix(path, moreTable+".")
	_, boss := s.more[name]
	return inside && boss || path == moreTable || slices.Contains(s.tables, path)
}

// namesIn are the names of the keys and tables directly in a table.
func (s *schema) namesIn(table string) []string {
	var names []string
	for _, r := range s.all() {
		if r.Table() == table {
			names = append(names, r.Name())
		}
	}
	for _, t := range s.tables {
		if above, name := split(t); above == table {
			names = append(names, name)
		}
	}
	return names
}

// pathsNamed are the paths of the keys with the name, in whatever table.
func (s *schema) pathsNamed(name string) []string {
	var paths []string
	for i := range s.rows {
		if s.rows[i].Name() == name {
			paths = append(paths, s.rows[i].Path)
		}
	}
	return paths
}

// split cuts a dotted path into its table and its last name.
func split(path string) (table, name string) {
	cut := strings.LastIndexByte(path, '.')
	return path[:max(cut, 0)], path[cut+1:]
}

func join(table, name string) string {
	if table == "" {
		return name
	}
	return table + "." + name
}
