package batch

import (
	"fmt"
	"time"
)

// Day is a date; the zero value is none.
type Day struct{ t time.Time }

// ParseDay reads a date as ISO 8601 writes it, 2026-12-24.
func ParseDay(text string) (Day, error) {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return Day{}, fmt.Errorf("%q is not a date such as 2026-12-24", text)
	}
	return Day{t}, nil
}

// None tells that there is no date.
func (d Day) None() bool { return d.t.IsZero() }

// String is the date as ISO 8601 writes it, empty for none.
func (d Day) String() string {
	if d.None() {
		return ""
	}
	return d.t.Format(time.DateOnly)
}

// Written is the date as people write it, Mon 7 Dec 2026; empty for none.
func (d Day) Written() string {
	if d.None() {
		return ""
	}
	return d.t.Format("Mon 2 Jan 2006")
}

// After is the day n working days later, Saturdays and Sundays left out: none after one of these is the Monday.
func (d Day) After(n int) Day {
	for d = d.working(); n > 0; n-- {
		d = Day{d.t.AddDate(0, 0, 1)}.working()
	}
	return d
}

// working is the day itself, or the Monday after a Saturday or Sunday.
func (d Day) working() Day {
	for d.t.Weekday() == time.Saturday || d.t.Weekday() == time.Sunday {
		d.t = d.t.AddDate(0, 0, 1)
	}
	return d
}

// Before tells whether d comes before e.
func (d Day) Before(e Day) bool { return d.t.Before(e.t) }
