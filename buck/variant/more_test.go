package variant_test

import (
	"strings"
	"testing"

	"formbuck/buck/measures"
	"formbuck/buck/variant"

	"github.com/google/go-cmp/cmp"
)

const further = least + `
plate.width = 11
[standoff.more.low]
x = "75 mm"
cant = -4
plate_length = 20
[standoff.more]
end = { x = 90, y = 2, post_spacing = 12 }
`

// TestFurtherBosses: each named table is a boss; what it does not give is as it is for the first.
func TestFurtherBosses(t *testing.T) {
	v, err := decode(further)
	if err != nil {
		t.Fatal(err)
	}
	low, end := v.Spec.Plate, v.Spec.Plate
	low.Length, end.PostSpacing = 20, 12
	want := []measures.Mount{
		{Name: "end", Placement: measures.Placement{X: 90, Y: 2}, Plate: end},
		{Name: "low", Placement: measures.Placement{X: 75, CantDeg: -4}, Plate: low},
	}
	if diff := cmp.Diff(want, v.Spec.Standoff.More); diff != "" {
		t.Error(diff)
	}
	if at := v.Where("standoff.more.low.x"); at.Line == 0 {
		t.Error("the place of a further boss's key is not known")
	}
	again, err := decode(string(v.Source()))
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(v.Spec.Standoff, again.Spec.Standoff); diff != "" {
		t.Errorf("its source is another: %s", diff)
	}
	plain, err := decode(least)
	if err != nil {
		t.Fatal(err)
	}
	both, err := plain.With(v, "standoff.more.low.x", "standoff.more.low.cant")
	if err != nil || len(both.Spec.Standoff.More) != 1 || both.Spec.Standoff.More[0].CantDeg != -4 {
		t.Errorf("two of its keys make %+v, %v", both.Spec.Standoff.More, err)
	}
	if _, err := plain.With(v, "standoff.more.low.cant"); err == nil {
		t.Error("a boss without its x was taken")
	}
	if none, err := v.With(plain, "standoff.more.low.x", "standoff.more.low.cant", "standoff.more.low.plate_length"); err != nil || len(none.Spec.Standoff.More) != 1 {
		t.Errorf("without its keys there is still a boss: %v", err)
	}
}

// TestFurtherBossesRefused has the ways to name one wrongly.
func TestFurtherBossesRefused(t *testing.T) {
	many := ""
	for _, name := range strings.Split("abcdefg", "") {
		many += "\nstandoff.more." + name + ".x = 70"
	}
	for _, tt := range []struct{ text, want string }{
		{"\n[standoff.more.low]\n", "standoff.more.low.x: missing"},
		{"\n[standoff.more.low]\ny = 3\n", "standoff.more.low.x: missing"},
		{"\n[standoff.more.Low]\nx = 3\n", "a further boss has a name of small letters and digits"},
		{"\nstandoff.more.\"a b\".x = 3\n", "a further boss has a name of small letters and digits"},
		{"\n[standoff.more.low]\nx = 70\nturn = 3\n", "standoff.more.low.turn: unknown key"},
		{"\n[standoff.more.low]\nx = 700\n", "standoff.more.low.x: "},
		{"\n[[standoff.more.low]]\nx = 70\n", "[[standoff.more.low]]"},
		{"\n[standoff.more]\nlow = 3\n", "standoff.more.low: "},
		{"\n[standoff.more]\nx = 3\n", "standoff.more.x: "},
		{many, "more than 6 further bosses"},
	} {
		if _, err := decode(least + tt.text); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%q: %v", tt.text, err)
		}
	}
}

// TestFurtherKeys: the keys of a further boss are documented as all others are.
func TestFurtherKeys(t *testing.T) {
	for _, key := range variant.MoreKeys("low") {
		if key.Doc == "" || key.Sample() == "" || key.Table() != "standoff.more.low" {
			t.Errorf("%+v", key)
		}
	}
}
