package measures

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r2"
)

// Fault is a measure that cannot be made: which key of the variant is at fault, where on the knife
// if it is at a place, and what was found against what is needed.
type Fault struct {
	Key  string  // of the variant, as "standoff.x"
	At   *r2.Vec // in the blade frame, mm; nil where the fault is at no one place
	What string
	Mend string // what would do instead; "" where nothing is known to
}

// Error is the fault on one line, without the key.
func (f *Fault) Error() string {
	said := f.What
	if f.At != nil {
		said = fmt.Sprintf("%s, at (%.2f, %.2f) mm", said, f.At.X, f.At.Y)
	}
	if f.Mend != "" {
		said += "; " + f.Mend
	}
	return said
}

// Faultf is the fault of a key that is at no one place.
func Faultf(key, format string, args ...any) error {
	return &Fault{Key: key, What: fmt.Sprintf(format, args...)}
}

// FaultAtf is the fault of a key at a place in the blade's frame.
func FaultAtf(key string, at r2.Vec, format string, args ...any) error {
	return &Fault{Key: key, At: &at, What: fmt.Sprintf(format, args...)}
}
