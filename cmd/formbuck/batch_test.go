package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// TestBatchDemo plans the orders of the invented shop. The blanks are to fill what is used of the sheets to
// within a tenth; the README shows the picture of the day, which UPDATE=1 rewrites.
func TestBatchDemo(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "week")
	var out, errs bytes.Buffer
	if status := run([]string{"batch", "../../testdata/batch/week.csv", "--start", "2026-12-07", "-o", dir, "--json"}, &out, &errs); status != exitOK {
		t.Fatalf("exits %d: %s", status, errs.String())
	}
	var a batchAnswer
	if err := json.Unmarshal(out.Bytes(), &a); err != nil {
		t.Fatal(err)
	}
	blanks := 0
	for _, s := range a.Sheets {
		blanks += s.Blanks
		if s.Yield < 0.9 || s.Yield > 1 {
			t.Errorf("%s, %g mm: the blanks are %.1f %% of what is used", s.Colour, s.Gauge, 100*s.Yield)
		}
	}
	if blanks != 22 || len(a.Orders) != 8 || len(a.Late) != 0 {
		t.Errorf("%d blanks for %d orders, late: %v", blanks, len(a.Orders), a.Late)
	}
	data, err := os.ReadFile(filepath.Join(dir, "plan", "day-1.png"))
	if err != nil {
		t.Fatal(err)
	}
	comparePicture(t, "../../testdata/batch/week-day.png", data)
}
