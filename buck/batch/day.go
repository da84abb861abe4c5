package batch

import (
	"fmt"
	"time"
)

// Day is a date; the zero value is none.
type Day struct{ t time.Time }

// ParseDay reads a date as ISO 8601 writes it, 2026-12-24, or with the day first: 24.12.2026, and with other marks where
// the day cannot be a month, 24/12/2026. The error tells how to write one that could be two.
func ParseDay(text string) (Day, error) {
	if t, err := time.Parse(time.DateOnly, text); err == nil {
		return Day{t}, nil
	}
	none := fmt.Errorf("%q is not a date such as 2026-12-24", text)
	for _, mark := range []string{".", "/", "-"} {
		first, err := time.Parse("2"+mark+"1"+mark+"2006", text)
		second, other := time.Parse("1"+mark+"2"+mark+"2006", text)
		switch {
		case err == nil && (mark == "." || other != nil || first.Equal(second)):
			return Day{first}, nil
		case err == nil:
			return Day{}, fmt.Errorf("%q may be %s or %s: write %s or %s", text,
				first.Format("2 January"), second.Format("2 January"), first.Format(time.DateOnly), second.Format(time.DateOnly))
		case other == nil && mark != ".":
			return Day{}, fmt.Errorf("%q has the month first: write %s", text, second.Format(time.DateOnly))
		}
	}
	return Day{}, none
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
