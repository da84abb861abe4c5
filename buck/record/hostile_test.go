package record_test

import (
	"bytes"
	"testing"

	"formbuck/buck/record"
	"formbuck/testdata/hostile"
)

// TestHostile reads damaged records, compares what is read with a good one and writes it as a variant file.
func TestHostile(t *testing.T) {
	good := made("22", "2", "aa", "b", "c")
	text, err := good.Encode()
	if err != nil {
		t.Fatal(err)
	}
	hostile.Run(t, 1000, []string{string(text)}, func(data []byte) error {
		r, err := record.Decode(bytes.NewReader(data))
		if err == nil {
			_ = record.Compare(good, r, record.Trial{}).Changed()
			r.Source()
		}
		return err
	})
}
