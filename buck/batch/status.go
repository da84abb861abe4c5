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
)

// Cut is done to an order before its sheaths are formed; it takes no time in the schedule.
const Cut Step = "cut"

// Marks are the steps that an order can be marked with as done, in their order: heat and press are
// one, since a hot sheet cannot wait.
func Marks() []Step { return append([]Step{Cut}, Steps()[1:]...) }

// Status is how far an order is: the last of its steps that is done for all its sheaths. An order that
// was changed since is begun anew, which is told by what it was.
type Status struct {
	Order string
	What  string // the order as it was, see Order.What
	Done  Step
}

// What is the order in words, as far as it decides what is made: a change of date or note is none.
func (o Order) What() string {
	return strings.Join([]string{o.Variant, string(o.Hand), o.Colour, strconv.FormatFloat(o.Gauge, 'g', -1, 64), strconv.Itoa(o.Quantity)}, " ")
}

// statusColumns head the table of what is done.
var statusColumns = []string{"order", "what", "done"}

// WriteStatus writes what is done as CSV.
func WriteStatus(to io.Writer, all []Status) error {
	records := [][]string{statusColumns}
	for _, s := range all {
		records = append(records, []string{s.Order, s.What, string(s.Done)})
	}
	return writeTable(to, records)
}

// ReadStatus reads what WriteStatus wrote. The error is a [*Fault].
func ReadStatus(file string, text []byte) ([]Status, error) {
	r := csv.NewReader(bytes.NewReader(text))
	r.FieldsPerRecord = len(statusColumns)
	records, err := r.ReadAll()
	var broken *csv.ParseError
	switch {
	case errors.As(err, &broken):
		return nil, &Fault{File: file, Line: broken.Line, Column: broken.Column, What: "not a table of what is done: " + broken.Err.Error()}
	case err != nil:
		return nil, fmt.Errorf("%s: %w", file, err)
	case len(records) == 0 || !slices.Equal(records[0], statusColumns):
		return nil, &Fault{File: file, Line: 1, What: "not a table of what is done: its columns are " + strings.Join(statusColumns, ",")}
	}
	var all []Status
	for i, record := range records[1:] {
		for n := range record {
			record[n] = asRead(record[n])
		}
		if whole := strings.Join(record, ""); strings.ContainsAny(whole, lineBreaks) {
			return nil, &Fault{File: file, Line: i + 2, What: fmt.Sprintf("%q holds a line break", whole)}
		}
		s := Status{Order: record[0], What: record[1], Done: Step(record[2])}
		if s.Done != "" && !slices.Contains(Marks(), s.Done) {
			return nil, &Fault{File: file, Line: i + 2, Key: "done", What: fmt.Sprintf("%q is none of %s", s.Done, listed(stepNames()))}
		}
		all = append(all, s)
	}
	return all, nil
}

func stepNames() []string {
	var names []string
	for _, s := range Marks() {
		names = append(names, string(s))
	}
	return names
}

// Progress is what is done of each of the orders, given what was done before and what is marked now,
// by the order's name: a mark stands, what was done stands where the order is what it was. The
// names of orders that are begun anew, because they were changed, come beside it.
func Progress(orders []Order, before []Status, marked map[string]Step) (now []Status, changed []string) {
	for _, o := range orders {
		s := Status{Order: o.ID, What: o.What()}
		if i := slices.IndexFunc(before, func(b Status) bool { return b.Order == o.ID }); i >= 0 {
			switch {
			case before[i].What == s.What:
				s.Done = before[i].Done
			case before[i].Done != "":
				changed = append(changed, o.ID)
			}
		}
		if step, given := marked[o.ID]; given {
			s.Done = step
		}
		now = append(now, s)
	}
	return now, changed
}

// done is how many of Steps are done: heat and press count as two.
func (s Step) done() int { return slices.Index(Steps(), s) + 1 }
