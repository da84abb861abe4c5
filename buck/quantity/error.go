package quantity

import "fmt"

// Fault is what is wrong with the text of a quantity.
type Fault string

// The faults: a closed list.
const (
	Empty       Fault = "empty"
	TooLong     Fault = "number with more digits than any measure has"
	BadNumber   Fault = "not a number"
	BadFraction Fault = "not a proper fraction"
	Comma       Fault = "comma in a number"
	NotFinite   Fault = "not a finite number"
	NoUnit      Fault = "no unit"
	UnknownUnit Fault = "unknown unit"
	WrongUnit   Fault = "unit of another kind"
	NotWhole    Fault = "not a whole number"
)

// Error is a quantity that could not be read.
type Error struct {
	Text  string // as written
	Fault Fault
	Hint  string // what to do about it; may be empty
}

// Error is the fault, the text and the hint on one line.
func (e *Error) Error() string {
	if e.Hint == "" {
		return fmt.Sprintf("%s: %q", e.Fault, e.Text)
	}
	return fmt.Sprintf("%s: %q: %s", e.Fault, e.Text, e.Hint)
}
