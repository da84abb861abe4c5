package measures

import (
	"fmt"
	"strings"

	"formbuck/buck/quantity"
)

// maxLengths is how many lengths may be named.
const maxLengths = 32

// ParseLengths reads lengths of screws, with commas between them, such as "3/16 in, 5 mm". The error says
// what is wrong.
func ParseLengths(text string) (lengths []float64, err error) {
	for part := range strings.SplitSeq(text, ",") {
		value, err := quantity.ParseLength(strings.TrimSpace(part))
		if err != nil {
			return nil, fmt.Errorf("%q is no length: %w", strings.TrimSpace(part), err)
		}
		l := quantity.Float(value)
		if !(l > 0) || l > 100 {
			return nil, fmt.Errorf("a screw %.4g mm long is not between 0 and 100 mm", l)
		}
		if lengths = append(lengths, l); len(lengths) > maxLengths {
			return nil, fmt.Errorf("more than %d lengths", maxLengths)
		}
	}
	return lengths, nil
}
