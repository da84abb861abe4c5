package buck_test

import (
	"errors"
	"os"
	"strings"
	"testing"

	"formbuck/buck"
	"formbuck/buck/batch"
)

// shop is the demo's shop file.
func shop(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("../testdata/batch/shop.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// TestBatch plans one order from files that lie nowhere but in memory, makes its job, and finds the job again in a second run.
func TestBatch(t *testing.T) {
	if testing.Short() {
		t.Skip("makes a whole job")
	}
	all := folder(t, map[string]string{
		"week.csv":  "order,variant,hand,colour,quantity\nA1,minnow.toml,right,moss,2\n",
		"shop.toml": shop(t),
	})
	b, err := buck.From(all).OpenBatch("week.csv", buck.BatchOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.Plan(); err == nil || !strings.Contains(err.Error(), "minnow is not made") {
		t.Errorf("planned what is not made: %v", err)
	}
	if len(b.Works) != 1 {
		t.Fatalf("%d works", len(b.Works))
	}
	made, err := b.Works[0].Make(t.Context(), buck.Options{})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := b.Plan()
	if err != nil {
		t.Fatal(err)
	}
	files, _, err := b.Files(plan)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"plan.pdf", "travellers.pdf", "steps.csv", "day-1.png"} {
		if len(files.Named(name)) == 0 {
			t.Errorf("no %s", name)
		}
	}
	again, err := buck.From(all).OpenBatch("week.csv", buck.BatchOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if !again.Works[0].Kept(made.Files) {
		t.Error("what was made is not found again")
	}
	if again.Works[0].Kept(made.Files[:3]) {
		t.Error("half of what was made passes for all of it")
	}
}

// TestBatchFaults opens lists that are at fault.
func TestBatchFaults(t *testing.T) {
	for name, tt := range map[string]struct {
		more map[string]string
		kind buck.Kind
		says string
	}{
		"no shop": {
			map[string]string{"week.csv": "order,variant,hand,colour,quantity\nA1,minnow.toml,right,moss,2\n"},
			buck.NoShop, "it says what the shop has",
		},
		"no such hand": {
			map[string]string{"week.csv": "order,variant,hand,colour,quantity\nA1,minnow.toml,up,moss,2\n", "shop.toml": shop(t)},
			buck.BadOrder, "week.csv:2",
		},
	} {
		_, err := buck.From(folder(t, tt.more)).OpenBatch("week.csv", buck.BatchOptions{})
		all := buck.Faults(err)
		if len(all) != 1 || all[0].Kind != tt.kind || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v %+v", name, err, all)
		}
	}
	_, err := buck.From(folder(t, map[string]string{
		"week.csv": "order,variant,hand,colour,quantity\nA1,minnow.toml,right,moss,2\n", "shop.toml": shop(t),
	})).OpenBatch("week.csv", buck.BatchOptions{Done: map[string]batch.Step{"B7": "heat"}})
	var f *buck.Fault
	if !errors.As(err, &f) || f.Kind != buck.NoOrder || f.Value != "B7" {
		t.Errorf("%v", err)
	}
}
