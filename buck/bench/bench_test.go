package bench_test

import (
	"slices"
	"strings"
	"testing"

	"formbuck/buck/batch"
	"formbuck/buck/bench"
	"formbuck/buck/bucktest"
	"formbuck/buck/layout"
	"formbuck/buck/measures"
	"formbuck/buck/path"
)

func job(t *testing.T, name string, hand measures.Hand) bench.Job {
	t.Helper()
	k := bucktest.DemoKnife(t, name)
	b, err := path.Made(k, hand)
	if err != nil {
		t.Fatal(err)
	}
	l, err := layout.New(k, nil)
	if err != nil {
		t.Fatal(err)
	}
	return bench.Of(b, l)
}

// TestSteps: the steps are in the order of work, which is that of the stages, and a plain sheath has none of a boss's.
func TestSteps(t *testing.T) {
	stages := []bench.Stage{bench.Buck, bench.Cut}
	for _, s := range batch.Steps() {
		stages = append(stages, bench.Stage(s))
	}
	for _, hand := range measures.Hands() {
		all := job(t, "thistle", hand).Steps()
		var names []string
		at := 0
		for i, s := range all {
			names = append(names, s.Name)
			if n := slices.Index(stages, s.Stage); n < at || s.Number != i+1 {
				t.Errorf("%s: %v is out of its order", hand, s)
			} else {
				at = n
			}
		}
		order := []string{"glue", "tape", "blanks", "heat", "press", "cool", "to the mill", "drill", "take out", "split", "trim", "post holes", "deburr", "mouth", "plate", "eyelets", "rim", "clip", "check"}
		if hand == measures.Plain {
			order = slices.DeleteFunc(order, func(s string) bool { return s == "post holes" || s == "plate" || s == "clip" })
		}
		if !slices.Equal(names, order) {
			t.Errorf("%s: %v", hand, names)
		}
		if got := len(bench.At(all, stages...)); got != len(all) {
			t.Errorf("%s: %d of %d steps are at a stage", hand, got, len(all))
		}
	}
}

// TestStepsAsTheVariantLies: drilling and trimming are told as the variant lies: on the plate, or without a mill.
func TestStepsAsTheVariantLies(t *testing.T) {
	for _, tt := range []struct {
		register string
		plate    bool
		want     []string
	}{
		{measures.ByHoles, false, []string{"to the mill: ", "two pins through the knife's own holes", "each half on its pins"}},
		{measures.ByHoles, true, []string{"at station 1 of the plate", "two screws", "at station 2 of the plate, the left one at station 3"}},
		{measures.ByCradle, false, []string{"its handle in the cradle"}},
		{measures.ByGuide, false, []string{"to the drill: ", "under the printed guide", "each half by the printed pattern"}},
		{measures.ByDrawing, false, []string{"under the drawing at 1:1"}},
		{measures.FromPunch, false, []string{"from a punched mark"}},
	} {
		j := job(t, "thistle", measures.Right)
		j.Spec.Fixture.Register, j.OnPlate = tt.register, tt.plate
		var all strings.Builder
		for _, s := range bench.At(j.Steps(), bench.Drill, bench.Trim) {
			all.WriteString(s.String() + "\n")
		}
		for _, want := range tt.want {
			if !strings.Contains(all.String(), want) {
				t.Errorf("%s, plate %v: no %q in\n%s", tt.register, tt.plate, want, all.String())
			}
		}
	}
}

// TestHardware reads what is bought off the demo: screws and eyelets of the layout, an eyelet as long as two sheets of 2 mm
// and what rolls over, 4 + 1.5 and 4 + 2.5 mm; number 8 has 32 threads to the inch (ASME B1.1, from memory).
func TestHardware(t *testing.T) {
	for hand, want := range map[measures.Hand]string{
		measures.Plain: "10 eyelets: ",
		measures.Left:  "1 plate: 1 clip: 2 screws: 10 eyelets: ",
		measures.Both:  "2 plates: 2 clips: 4 screws: 10 eyelets: ",
	} {
		var counts, all strings.Builder
		for _, i := range job(t, "thistle", hand).Hardware() {
			head, _, _ := strings.Cut(i.String(), ": ")
			counts.WriteString(head + ": ")
			all.WriteString(i.What + "\n")
		}
		if counts.String() != want {
			t.Errorf("%s: %s", hand, counts.String())
		}
		for _, want := range []string{"barrel Ø 6 to 6.1 mm for holes of 6.35 mm", "5.5 to 6.5 mm long under the flange", "flange Ø 9.5 mm"} {
			if !strings.Contains(all.String(), want) {
				t.Errorf("%s: no %q in\n%s", hand, want, all.String())
			}
		}
		if hand != measures.Plain && !strings.Contains(all.String(), "8-32 UNC (Ø 4.17 mm), 4.76 mm (3/16 in) or 6.35 mm (1/4 in)") {
			t.Errorf("%s: the screws:\n%s", hand, all.String())
		}
	}
}

// TestHardwareOfAll: a batch counts as many of each supply as the hardware has.
func TestHardwareOfAll(t *testing.T) {
	j := job(t, "thistle", measures.Right)
	j.Spec.Screw.Washer = 0.8
	for _, i := range j.Hardware() {
		if i.Supply != "washer" && !slices.Contains(batch.Supplies(), i.Supply) {
			t.Errorf("%v is no supply of a batch", i)
		}
		if i.Supply == "washer" && (i.Count != 2 || !strings.Contains(i.What, "0.8 mm thick")) {
			t.Error(i)
		}
	}
	j.Sheath = nil
	if last := j.Hardware()[len(j.Hardware())-1].String(); !strings.HasPrefix(last, "eyelets: barrel") {
		t.Error(last)
	}
}

// TestCautions: what is to be told is told, on the one list that all papers have.
func TestCautions(t *testing.T) {
	var all strings.Builder
	for _, c := range bench.Cautions() {
		all.WriteString(c.What + ": " + c.Say + "\n")
	}
	for _, want := range []string{
		"eyelet press: fingers out of the die; eye protection", "splitting: the blade moves away from every hand", "grab as they break through: a backing board", "glue: gloves and moving air: its fumes",
		"saw, sander: ", "no hot plate is left alone", "never leave a sheath in a hot car", "stay inside the sheet maker's window", bench.Test, "local law",
	} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("no %q in\n%s", want, all.String())
		}
	}
}
