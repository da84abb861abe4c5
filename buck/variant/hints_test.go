package variant_test

import (
	"slices"
	"testing"
)

// The keys that tell the edge's side from the other are those that are not 0; a boss's own among them.
func TestSided(t *testing.T) {
	if got := mustDecode(t, least).Hints().Sided; len(got) > 0 {
		t.Errorf("of the least file: %v", got)
	}
	got := mustDecode(t, least+`
standoff.x = 3
standoff.y = -2
standoff.more.end = { x = 90, cant = 5 }
ramp = { cant = "2 deg", y = 1 }
drain = { y = 0, cant = 1 }
nub.holes = "snap 60 4 5"
layout.thumb = 10
`).Hints().Sided
	want := []string{"standoff.y", "standoff.more.end.cant", "ramp.cant", "drain.cant", "nub.holes", "layout.thumb"}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}
