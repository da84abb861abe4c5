package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"formbuck/buck/batch"

	"github.com/google/go-cmp/cmp"
)

// TestBatchDemo plans the orders of the invented shop. The blanks are to fill what is used of the sheets to
// within a tenth; a guide shows the picture of the day, which UPDATE=1 rewrites.
func TestBatchDemo(t *testing.T) {
	if testing.Short() {
		t.Skip("run in full")
	}
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
	out.Reset()
	t.Chdir("../../testdata/batch")
	if status := run([]string{"batch", "week.csv", "--start", "2026-12-07", "-o", dir}, &out, &errs); status != exitOK {
		t.Fatalf("exits %d: %s", status, errs.String())
	}
	shownPlan(t, strings.ReplaceAll(out.String(), dir, "week"))
}

// TestShopExample reads the shop file that the help shows: all keys are known, and but for what is listed it is the shop
// that a file with nothing but sheets stands for.
func TestShopExample(t *testing.T) {
	whole, err := batch.ReadShop("help", strings.NewReader(shopExample))
	if err != nil {
		t.Fatal(err)
	}
	usual, err := batch.ReadShop("usual", strings.NewReader(shopExample[strings.Index(shopExample, "[[sheet]]"):]))
	if err != nil {
		t.Fatal(err)
	}
	usual.Drawers, usual.Mill.PerMM = whole.Drawers, math.Round(usual.Mill.PerMM*1e4)/1e4
	if diff := cmp.Diff(usual, whole); diff != "" {
		t.Errorf("-usual +in the help\n%s", diff)
	}
}

// shownPlan compares the guide's answer of batch with the real one. With UPDATE set it rewrites it instead.
func shownPlan(t *testing.T, real string) {
	t.Helper()
	file := filepath.Join("..", "..", "cmd", "formbuck", "guide", "batch.md")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(text), "formbuck batch week.csv --start 2026-12-07\n")
	shown, after, closed := strings.Cut(rest, "```")
	if !found || !closed {
		t.Fatal(file + " does not show the invented shop's plan")
	}
	before += "formbuck batch week.csv --start 2026-12-07\n"
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(file, []byte(before+real+"```"+after), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(strings.Split(shown, "\n"), strings.Split(real, "\n")); diff != "" {
		t.Errorf("-%s +real; UPDATE=1 rewrites it\n%s", file, diff)
	}
}
