package batch_test

import (
	"bytes"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"

	"formbuck/buck/batch"
)

// Whatever the table of what is done: a *batch.Fault, or what is written and read again as the same.
func FuzzReadStatus(f *testing.F) {
	f.Add([]byte("order,what,done\n17,alder right moss,cut\n"))
	f.Add([]byte("order,what,done\n\"1\n7\",\"a\"\"b\",\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		read, err := batch.ReadStatus("status.csv", text)
		if err != nil {
			if fault := new(batch.Fault); !errors.As(err, &fault) {
				t.Fatalf("error %v is no *batch.Fault", err)
			}
			return
		}
		var b bytes.Buffer
		if err := batch.WriteStatus(&b, read); err != nil {
			t.Fatal(err)
		}
		again, err := batch.ReadStatus("status.csv", b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(read, again); diff != "" {
			t.Error(diff)
		}
	})
}

// Whatever the day: a fault, or a day that is written and read again as the same.
func FuzzParseDay(f *testing.F) {
	for _, text := range []string{"2026-12-04", "2028-02-29", "0000-00-00", "-1-01-01"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		day, err := batch.ParseDay(text)
		if err != nil {
			return
		}
		if again, err := batch.ParseDay(day.String()); err != nil || again != day {
			t.Errorf("%q is read as %v and then as %v, %v", text, day, again, err)
		}
	})
}
