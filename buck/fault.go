package buck

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
}

// Error is the fault on one line, without the key.
func (f *Fault) Error() string {
	if f.At == nil {
		return f.What
	}
	return fmt.Sprintf("%s, at (%.2f, %.2f) mm", f.What, f.At.X, f.At.Y)
}

func fault(key, format string, args ...any) error {
	return &Fault{Key: key, What: fmt.Sprintf(format, args...)}
}

func faultAt(key string, at r2.Vec, format string, args ...any) error {
	return &Fault{Key: key, At: &at, What: fmt.Sprintf(format, args...)}
}
