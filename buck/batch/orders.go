// Package batch turns a list of orders into a plan for the shop: what to print, cut, press, drill
// and count, and when.
//
// Lengths are mm, times minutes of working time. Orders come as a table in CSV (RFC 4180), what the
// shop has and how long its steps take as a [Shop]. How long the sheath's blanks are and how many
// eyelets it takes is an [Article], which the caller works out from the variant.
package batch

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"formbuck/buck/internal/nearest"
	"formbuck/buck/measures"
	"formbuck/buck/quantity"
)

// Order is one line of the list.
type Order struct {
	ID       string
	Variant  string // path of the variant file, as written
	Hand     measures.Hand
	Colour   string
	Gauge    float64 // sheet thickness, mm; 0: as the variant says
	Quantity int
	Due      Day // zero: none
	Note     string
	More     []Field // of columns that are not known here, in their order; none that is empty
	Line     int     // in the file, from 1
}

// Field is a field of a column with another name than those of Columns.
type Field struct{ Column, Text string }

// Fault is one thing that is wrong with a table: where, in which column, and what.
type Fault struct {
	File         string
	Line, Column int // from 1; the column counts bytes, as in package csv; 0: the line as a whole
	Key          string
	What         string
}

// Error is one line.
func (f *Fault) Error() string {
	at := f.File
	if f.Line > 0 {
		at += ":" + strconv.Itoa(f.Line)
	}
	if f.Column > 0 {
		at += ":" + strconv.Itoa(f.Column)
	}
	if f.Key != "" {
		at += ": " + f.Key
	}
	return at + ": " + f.What
}

// Faults is everything that is wrong, in the order of the file.
type Faults []*Fault

// Error is a line for each fault.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, one := range f {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

// Columns are the columns of a list of orders that are known; due, gauge and note may be left out, and others are carried
// along to the papers.
func Columns() []string {
	return []string{"order", "variant", "hand", "colour", "gauge", "quantity", "due", "note"}
}

// optional are the columns that may be left out, and be empty.
var optional = []string{"gauge", "due", "note"}

// lineBreaks are characters that a field which is kept does not hold: a table in CSV does not give them back as they were.
const lineBreaks = "\r\n"

const (
	maxOrders   = 10_000
	maxQuantity = 1000
	maxList     = 8 << 20 // bytes

	maxColumns = 100

	maxName = 60   // characters of an order's name, which stands in programs and on papers
	maxText = 2000 // characters of any other field
)

// ReadOrders reads a list of orders. The first line names the columns. The file's name is for
// messages; known says what is wrong with a colour, or "". What is wrong with the content comes back as
// Faults, all at once, beside the orders in whose lines nothing is wrong; another error is the reader's own.
func ReadOrders(file string, from io.Reader, known func(colour string) string) ([]Order, error) {
	text, err := io.ReadAll(io.LimitReader(from, maxList+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	l := &list{file: file, known: known, ids: make(map[string]int)}
	if what := unreadable(text); what != "" {
		l.refuse(1, 1, "", "%s", what)
		return nil, l.faults
	}
	l.read(bytes.TrimPrefix(text, []byte("\ufeff")))
	if len(l.faults) > 0 {
		return l.orders, l.faults
	}
	return l.orders, nil
}

// longestLine returns the length of the longest line of a text, in bytes.
func longestLine(text []byte) (longest int) {
	for line := range bytes.Lines(text) {
		longest = max(longest, len(line))
	}
	return longest
}

// unreadable says why a text cannot be a list.
func unreadable(text []byte) string {
	longest := longestLine(text)
	switch {
	case len(text) > maxList:
		return fmt.Sprintf("too long for a list of orders: at most %d MB", maxList>>20)
	case longest > maxColumns*maxText:
		return fmt.Sprintf("has a line of %d bytes; %d columns of %d characters come to less", longest, maxColumns, maxText)
	case bytes.HasPrefix(text, []byte{0xff, 0xfe}) || bytes.HasPrefix(text, []byte{0xfe, 0xff}):
		return "is UTF-16; save it as CSV in UTF-8"
	case !utf8.Valid(text):
		return "is not UTF-8; save it as CSV in UTF-8"
	case len(bytes.TrimSpace(text)) == 0:
		return "is empty; the first line names the columns: " + strings.Join(Columns(), ",")
	}
	return ""
}

// list is a list being read.
type list struct {
	file    string
	known   func(string) string
	columns []string       // "" for one without a name
	comma   rune           // that parts the fields
	ids     map[string]int // line of each order's id
	count   int            // of lines with an order
	orders  []Order
	faults  Faults
}

func (l *list) refuse(line, column int, key, format string, args ...any) {
	l.faults = append(l.faults, &Fault{File: l.file, Line: line, Column: column, Key: key, What: fmt.Sprintf(format, args...)})
}

func (l *list) read(text []byte) {
	text, l.comma = parted(text)
	r := csv.NewReader(bytes.NewReader(text))
	r.FieldsPerRecord, r.Comma = -1, l.comma
	for {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var broken *csv.ParseError
		if errors.As(err, &broken) {
			l.refuse(broken.Line, broken.Column, "", "not CSV: %v", broken.Err)
			return
		}
		place := func(i int) (int, int) { return r.FieldPos(i) }
		if l.columns == nil {
			if !l.header(record, place) {
				return
			}
			continue
		}
		if l.count == maxOrders {
			line, _ := place(0)
			l.refuse(line, 0, "", "more than %d orders", maxOrders)
			return
		}
		l.order(record, place)
	}
	if len(l.orders)+len(l.faults) == 0 {
		l.refuse(1, 0, "", "there is no order below the names of the columns")
	}
}

// header takes the names of the columns. One that is not known is carried along, but for what is a slip for one that
// is known and not there.
func (l *list) header(record []string, place func(int) (int, int)) bool {
	line, _ := place(0)
	if len(record) > maxColumns {
		l.refuse(line, 0, "", "has %d columns, and %d are allowed", len(record), maxColumns)
		return false
	}
	for i, name := range record {
		name = strings.TrimSpace(name)
		if low := strings.ToLower(name); slices.Contains(Columns(), low) {
			name = low
		}
		if line, column := place(i); name != "" && slices.Contains(l.columns, name) {
			l.refuse(line, column, name, "the column is there twice")
		} else if bad := hidden(name); bad != "" {
			l.refuse(line, column, "", "the name of a column holds %s", bad)
		}
		l.columns = append(l.columns, name)
	}
	var missing []string
	for _, name := range Columns() {
		if !slices.Contains(l.columns, name) {
			missing = append(missing, name)
		}
	}
	for i, name := range l.columns {
		if meant := nearest.To(name, missing); meant != "" && !slices.Contains(Columns(), name) {
			line, column := place(i)
			l.refuse(line, column, "", "unknown column %q; did you mean %s?", name, meant)
			missing = slices.DeleteFunc(missing, func(m string) bool { return m == meant })
		}
	}
	for _, name := range missing {
		if !slices.Contains(optional, name) {
			l.refuse(line, 0, name, "the column is missing; the first line names the columns: %s", strings.Join(Columns(), ", "))
		}
	}
	return len(l.faults) == 0
}

// order takes one line. One with nothing in its fields, as tables leave below the last order, is none.
func (l *list) order(record []string, place func(int) (int, int)) {
	line, _ := place(0)
	if strings.TrimSpace(strings.Join(record, "")) == "" {
		return
	}
	for len(record) > len(l.columns) && strings.TrimSpace(record[len(record)-1]) == "" {
		record = record[:len(record)-1] // spreadsheets leave empty fields at the end
	}
	if len(record) != len(l.columns) {
		l.refuse(line, 0, "", "%d fields, and there are %d columns", len(record), len(l.columns))
		return
	}
	o, before := Order{Line: line}, len(l.faults)
	for i, name := range l.columns {
		text := strings.TrimSpace(record[i])
		what := ""
		switch {
		case text != "" && name == "":
			what = fmt.Sprintf("%q stands in a column without a name", text)
		case text != "":
			what = l.field(&o, name, text)
		case slices.Contains(Columns(), name) && !slices.Contains(optional, name):
			what = "is empty"
		}
		if what != "" {
			line, column := place(i)
			l.refuse(line, column, name, "%s", what)
		}
	}
	if o.ID != "" {
		l.ids[o.ID] = line
	}
	l.count++
	if len(l.faults) == before {
		l.orders = append(l.orders, o)
	}
}

// field takes one field, and says what is wrong with it.
func (l *list) field(o *Order, name, text string) string {
	free := name == "note" || !slices.Contains(Columns(), name)
	if !free && strings.ContainsAny(text, lineBreaks) {
		return fmt.Sprintf("%q holds a line break", text)
	}
	most := maxText
	if name == "order" {
		most = maxName
	}
	if n := utf8.RuneCountInString(text); n > most {
		return fmt.Sprintf("has %d characters, and %d are allowed", n, most)
	}
	if bad := hidden(text); bad != "" && !free {
		return fmt.Sprintf("%q holds %s", text, bad)
	}
	if l.comma != ',' && name == "gauge" {
		text = strings.ReplaceAll(text, ",", ".")
	}
	switch name {
	case "order":
		o.ID = text
		if before, twice := l.ids[text]; twice {
			return fmt.Sprintf("%q is in line %d too", text, before)
		}
	case "variant":
		o.Variant = text
	case "hand":
		if o.Hand = measures.Hand(strings.ToLower(text)); !slices.Contains(measures.Hands(), o.Hand) {
			return fmt.Sprintf("%q is none of right, left, both or plain", text)
		}
	case "colour":
		o.Colour = strings.ToLower(text)
		return l.known(o.Colour)
	case "gauge":
		return takeLength(&o.Gauge, text, 0.4, 6.5)
	case "quantity":
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > maxQuantity {
			return fmt.Sprintf("%q is not a whole number from 1 to %d", text, maxQuantity)
		}
		o.Quantity = n
	case "due":
		due, err := ParseDay(text)
		if err != nil {
			return err.Error()
		}
		o.Due = due
	case "note":
		o.Note = shown(text)
	default:
		o.More = append(o.More, Field{Column: name, Text: shown(text)})
	}
	return ""
}

// takeLength reads a number of mm or a quantity within limits.
func takeLength(into *float64, text string, least, most float64) string {
	r, err := quantity.ParseNumber(text)
	if err != nil {
		r, err = quantity.ParseLength(text)
	}
	if err != nil {
		what := fmt.Sprintf("%q is not a length such as 2.4 or 0.093 in", text)
		var broken *quantity.Error
		if errors.As(err, &broken) && broken.Hint != "" {
			what += ": " + broken.Hint
		}
		return what
	}
	*into = quantity.Float(r)
	if *into < least || *into > most {
		return fmt.Sprintf("%s is not from %g to %g mm", text, least, most)
	}
	return ""
}
