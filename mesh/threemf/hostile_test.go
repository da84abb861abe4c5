package threemf_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"formbuck/mesh/threemf"
	"formbuck/testdata/hostile"
)

// bounded reads a file and passes on what is wrong with it, which has to be an *Error of one line.
func bounded(t *testing.T) func([]byte) error {
	return func(data []byte) error {
		_, err := threemf.Decode(bytes.NewReader(data))
		var e *threemf.Error
		if err != nil && (!errors.As(err, &e) || strings.ContainsAny(err.Error(), "\n\r\x1b\u202e\x00")) {
			t.Errorf("%q is no *threemf.Error of one line", err)
		}
		return err
	}
}

// TestHostile reads damaged packages, and models damaged before they were packed.
func TestHostile(t *testing.T) {
	t.Run("package", func(t *testing.T) {
		hostile.Run(t, 500, []string{string(packed(t, plain)), string(encoded(t, three()))}, bounded(t))
	})
	lines := func(model string) string { return strings.ReplaceAll(model, "><", ">\n<") }
	inside := []string{lines(plain), lines(built("", `<object id="2"><components><component objectid="1"/></components></object>`, `<item objectid="2"/>`))}
	t.Run("model", func(t *testing.T) {
		hostile.Run(t, 500, inside, func(data []byte) error { return bounded(t)(packed(t, string(data))) })
	})
}
